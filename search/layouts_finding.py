"""From a question of a layout to its answer: the engine streams designs, each goes through the recount."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence

from facewright.constraints.errors import RecountError
from facewright.constraints.layout import Layout
from facewright.constraints.layout_design import LayoutDesign
from facewright.search.layouts_answer import FoundLayout, LayoutAnswer
from facewright.search.progress import Progress, silent
from facewright.search.readouts_answer import SolidOutcome
from facewright.search.stop import Stop

SHARD = 200
"""Designs handed on together."""

Keep = Callable[[Sequence[FoundLayout], SolidOutcome | None], None]
"""Told of each shard of designs, and with the last one of the outcome."""


def answer_layout(
    question: Layout,
    *,
    seed: int,
    stop: Stop,
    report: Progress = silent,
    done: Sequence[SolidOutcome] = (),
    earlier: Sequence[FoundLayout] = (),
    keep: Keep = lambda _shard, _outcome: None,
    limit: int | None = None,
) -> LayoutAnswer:
    """Answers a question of a layout.

    Args:
        question: the question.
        seed: of the search's choices.
        stop: asked whether to stop early.
        report: told of the progress.
        done: the outcome of an earlier run, if it came to one.
        earlier: the designs of that.
        keep: told of each shard of designs, and of the outcome with the last one.
        limit: how many designs to list; without it the brief's own limit, or one.

    Raises:
        RecountError: the engine and the recount disagree.
    """
    if done:
        return LayoutAnswer(question, tuple(done), tuple(earlier), seed)
    from facewright.search.engines.layout import Laying

    most = limit if limit is not None else question.stop.designs or question.listed
    started = time.perf_counter()
    found: list[FoundLayout] = []
    kept = 0
    answering = Laying().answer(question, most, stop, seed, report)
    for design in answering:
        if len(found) == most:
            # the engine goes on to count, or gives its best although nothing is to be listed
            continue
        found.append(_recounted(question, design))
        if len(found) - kept >= SHARD:
            keep(found[kept:], None)
            kept = len(found)
    seconds = time.perf_counter() - started
    outcome = SolidOutcome(question.solid, Laying.name, answering.closing, len(found), seconds)
    keep(found[kept:], outcome)
    return LayoutAnswer(question, (outcome,), tuple(found), seed)


def _recounted(question: Layout, design: LayoutDesign) -> FoundLayout:
    from facewright.search.recount_layouts import recount_layout

    finding = recount_layout(question, design)
    if not finding.agrees:
        raise RecountError(
            f"the recount disagrees about the layout {design.id} on the {design.solid}: {'; '.join(finding.faults)}. "
            "One of the two is wrong, so the run was stopped; please report it"
        )
    return FoundLayout(design)
