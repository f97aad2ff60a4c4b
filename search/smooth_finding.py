"""From a question of a smooth body to its answer: the engine's body goes through the recount."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence

from facewright.constraints.errors import RecountError
from facewright.constraints.smooth import Smooth
from facewright.constraints.smooth_design import SmoothDesign
from facewright.search.progress import Progress, silent
from facewright.search.smooth_answer import FoundBody, SmoothAnswer, SmoothOutcome
from facewright.search.stop import Stop

Keep = Callable[[Sequence[FoundBody], SmoothOutcome | None], None]
"""Told of the designs and the outcome."""


def answer_smooth(
    question: Smooth,
    *,
    seed: int,
    stop: Stop,
    report: Progress = silent,
    done: Sequence[SmoothOutcome] = (),
    earlier: Sequence[FoundBody] = (),
    keep: Keep = lambda _shard, _outcome: None,
    limit: int | None = None,
) -> SmoothAnswer:
    """Answers a question of a smooth body.

    Args:
        question: the question.
        seed: nothing depends on it.
        stop: asked whether to stop early.
        report: told of the progress.
        done: the outcome of an earlier run, if it came to one.
        earlier: the design of that.
        keep: told of the design and the outcome.
        limit: how many designs to list; there is one at most, and none with 0.

    Raises:
        RecountError: the engine and the recount disagree.
    """
    if done:
        return SmoothAnswer(question, tuple(done), tuple(earlier), seed)
    from facewright.search.engines.smooth.engine import Smoothing

    started = time.perf_counter()
    most = question.listed if limit is None else limit
    answering = Smoothing().answer(question, most, stop, seed, report)
    found = [_recounted(question, design) for design in answering][:most]
    outcome = SmoothOutcome(Smoothing.name, answering.closing, len(found), time.perf_counter() - started)
    keep(found, outcome)
    return SmoothAnswer(question, (outcome,), tuple(found), seed)


def _recounted(question: Smooth, design: SmoothDesign) -> FoundBody:
    from facewright.search.recount_smooth import recount_smooth

    finding = recount_smooth(question, design)
    if not finding.agrees:
        raise RecountError(
            f"the recount disagrees about the body {design.id}: {'; '.join(finding.faults)}. "
            "One of the two is wrong, so the run was stopped; please report it"
        )
    return FoundBody(design)
