"""From a question of readouts to its answer: each solid to the engine, each design through the recount."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import asdict
from typing import Any

from facewright.constraints.errors import RecountError
from facewright.constraints.readouts import Readouts
from facewright.constraints.readouts_design import ReadoutsDesign
from facewright.constraints.solids.names import solid_named
from facewright.search.answer import Closing
from facewright.search.catalogue_cache import keep as keep_answer
from facewright.search.catalogue_cache import kept, key_of
from facewright.search.progress import Progress, silent
from facewright.search.readouts_answer import FoundMarks, ReadoutsAnswer, SolidOutcome
from facewright.search.sharing import solved_in_order
from facewright.search.stop import Limits, Stop

SECONDS_A_SOLID = 20.0
"""How long one of several solids may take, unless the brief states a limit: then its share of what is left of it."""

SHARD = 200
"""Designs handed on together."""

Keep = Callable[[Sequence[FoundMarks], SolidOutcome | None], None]
"""Told of each shard of designs, and with the last one of a solid of its outcome."""


def answer_readouts(
    question: Readouts,
    *,
    seed: int,
    stop: Stop,
    report: Progress = silent,
    done: Sequence[SolidOutcome] = (),
    earlier: Sequence[FoundMarks] = (),
    keep: Keep = lambda _shard, _outcome: None,
    limit: int | None = None,
    workers: int = 1,
) -> ReadoutsAnswer:
    """Answers a question of readouts, from the start or from where a stopped run ended.

    Args:
        question: the question.
        seed: of the solver's choices.
        stop: asked whether to stop early; each of several solids has a limit of its own beside it.
        report: told of the progress.
        done: outcomes of the first solids, from an earlier run.
        earlier: the designs of those.
        keep: told of each shard of designs, and of the outcome of each solid with its last one.
        limit: how many designs to list a solid; without it the brief's own limit, or one.
        workers: processes that share the solids.

    Raises:
        RecountError: the engine and the recount disagree.
    """
    most = limit if limit is not None else question.stop.designs or question.listed
    outcomes, found = list(done), list(earlier)
    several = len(question.solids) > 1
    started = time.monotonic()
    left = range(len(done), len(question.solids))
    shared = None
    if workers > 1 and len(left) > 1:
        jobs = [(question, position, most, started, workers, seed) for position in left]
        shared = solved_in_order(_apart, jobs, stop, workers)
    for position in left:
        if several:
            report("solids", position, len(question.solids))
        given = None if shared is None else next(shared, "stopped")
        if given == "stopped" or (position > 0 and shared is None and stop()):
            break
        if isinstance(given, tuple):
            outcome, designs = given
            keep(designs, outcome)
        else:
            alone = question.alone(question.solids[position])
            own = _either(stop, _share(question, position, started)) if several else stop
            telling = silent if several else report
            outcome, designs = _one_solid(alone, position, most, own, seed, telling, keep, not several)
        outcomes.append(outcome)
        found += designs
    return ReadoutsAnswer(question, tuple(outcomes), tuple(found), seed)


def _apart(
    question: Readouts, position: int, limit: int, started: float, workers: int, seed: int, *, stop: Stop
) -> tuple[SolidOutcome, list[FoundMarks]]:
    """One of several solids in a process of its own."""
    own = _either(stop, _share(question, position, started, workers))
    alone = question.alone(question.solids[position])
    return _one_solid(alone, position, limit, own, seed, silent, lambda _shard, _outcome: None, False)


def _share(question: Readouts, position: int, started: float, workers: int = 1) -> Limits:
    """The time of one solid: what is left, shared among the solids on which every readout could stand at all.

    `started` is a reading of the monotonic clock, which all processes of a machine share.
    """
    if question.stop.seconds is None:
        return Limits(SECONDS_A_SOLID)
    ways = [one.ways for one in question.readouts]
    waiting = sum(all(solid_named(name)[1] % one == 0 for one in ways) for name in question.solids[position:])
    left = question.stop.seconds - (time.monotonic() - started)
    return Limits(max(0.1, left * min(workers, max(1, waiting)) / max(1, waiting)))


def _either(one: Stop, other: Stop) -> Stop:
    return lambda: one() or other()


def _one_solid(
    alone: Readouts,
    position: int,
    limit: int,
    stop: Stop,
    seed: int,
    report: Progress,
    keep: Keep,
    whole: bool,
) -> tuple[SolidOutcome, list[FoundMarks]]:
    """Answers a question about one solid; `whole`: it is the whole question, so that others are spoken of."""
    from facewright.search.engines.readouts import VERSION, Marking
    from facewright.search.engines.readouts_solver import load

    key = key_of(VERSION, alone.fingerprint(), limit, whole)
    known = None if whole else _known(kept(key))
    if known is None:
        load()
    started = time.perf_counter()
    found: list[FoundMarks] = []
    written = 0
    if known is not None:
        closing, designs = known
        found = [_recounted(alone, design, position) for design in designs]
    else:
        answering = Marking().answer(alone, limit, stop, seed, report, alone=whole)
        for design in answering:
            found.append(_recounted(alone, design, position))
            if len(found) - written >= SHARD:
                keep(found[written:], None)
                written = len(found)
        closing = answering.closing
        if not whole and closing.verdict != "partial":
            designs = [one.design for one in found]
            keep_answer(key, {"closing": asdict(closing), "designs": [one.as_json() for one in designs]})
    outcome = SolidOutcome(alone.solid, Marking.name, closing, len(found), time.perf_counter() - started)
    keep(found[written:], outcome)
    return outcome, found


def _known(data: dict[str, Any] | None) -> tuple[Closing, list[ReadoutsDesign]] | None:
    """An answer that was kept; None where it is none of ours."""
    if data is None:
        return None
    try:
        closing = Closing(**{**data["closing"], "proof": tuple(data["closing"]["proof"])})
        return closing, [ReadoutsDesign.from_json(one) for one in data["designs"]]
    except (KeyError, TypeError, ValueError, AttributeError):
        return None


def _recounted(alone: Readouts, design: ReadoutsDesign, position: int) -> FoundMarks:
    from facewright.search.recount_readouts import recount_readouts

    finding = recount_readouts(alone, design)
    if not finding.agrees:
        raise RecountError(
            f"the recount disagrees about the design {design.id} on the {design.solid}: {'; '.join(finding.faults)}. "
            "One of the two is wrong, so the run was stopped; please report it"
        )
    return FoundMarks(design, position, finding.distance)
