"""From a question to its answer: each set of dice to its engine, each design through the recount."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from facewright.constraints.contest import Contest, DiceQuestion
from facewright.constraints.design import NumberingDesign
from facewright.constraints.errors import RecountError, UsageError
from facewright.constraints.question import LISTED, Numbering
from facewright.constraints.question_form import Question
from facewright.search.answer import Answer, FoundDesign, SetOutcome
from facewright.search.progress import Progress, silent
from facewright.search.selecting.few import spare
from facewright.search.selecting.placed import Placed
from facewright.search.stop import Limits, Stop
from facewright.search.words import completed

if TYPE_CHECKING:
    from facewright.search.engines.base import Engine
    from facewright.search.report.scores import Settings

SHARD = 500
"""Designs handed on together."""

Keep = Callable[[Sequence[FoundDesign], SetOutcome | None], None]
"""Told of each shard of designs, and with the last one of a set of its outcome: both belong in one transaction."""

Renew = Callable[[Sequence[FoundDesign], Sequence[SetOutcome]], None]
"""Told of the designs and outcomes that take the place of all that were kept, in one transaction."""


def find(
    question: Question | str | Path,
    *,
    seed: int = 0,
    stop: Stop | None = None,
    report: Progress = silent,
) -> Any:
    """Answers a question, or the brief at a path; the whole in one call.

    Args:
        question: a question, or the path of a brief.
        seed: for engines that use chance.
        stop: asked whether to stop early; without it, the brief's own limit of seconds counts.
        report: told of the progress.

    Returns:
        The answer, every design of it recounted: an `Answer`, for readouts a `ReadoutsAnswer`, for a layout a
        `LayoutAnswer`.

    Raises:
        BriefRefused: the brief cannot be answered as it stands.
        RecountError: an engine and the recount disagree.

    Example:
        >>> from facewright.constraints.brief import parse
        >>> answer = find(parse('title = "Two cubes"\\nlike = "2d6"\\nread = "total"\\ndice = [6, 6]'))
        >>> answer.verdict, answer.count
        ('complete', 2)
    """
    if isinstance(question, str | Path):
        from facewright.constraints.brief import read
        from facewright.search.earlier import design_of, die_of

        question = read(Path(question), die_of, design_of)
    from facewright.search.laying import with_layouts

    stop = stop or Limits(question.stop.seconds)
    answer = answered(question, seed=seed, stop=stop, report=report)
    return with_layouts(answer, seed=seed, stop=stop, report=report)


def answered(question: Question, *, workers: int = 1, **how: Any) -> Any:
    """Answers a question of any kind; `answer` and its like for other kinds know the other arguments."""
    from facewright.search.kinds import kind_of

    return kind_of(question).answered(question, workers, **how)


def engine_for(question: Numbering) -> Engine:
    """The first engine that accepts a question about one set of dice; raises UsageError where none does."""
    from facewright.search.engines import ENGINES

    for engine in ENGINES:
        if engine.accepts(question):
            return engine
    raise UsageError(
        f"question: no engine answers read = {question.read!r} with accept = {question.accept!r} yet"
    )


def answer(
    question: DiceQuestion,
    *,
    seed: int,
    stop: Stop,
    report: Progress = silent,
    done: Sequence[SetOutcome] = (),
    earlier: Sequence[FoundDesign] = (),
    keep: Keep = lambda _shard, _outcome: None,
    renew: Renew = lambda _found, _outcomes: None,
    limit: int | None = None,
    workers: int = 1,
    settings: Settings | None = None,
) -> Answer:
    """Answers a question, from the start or from where a stopped run ended.

    Args:
        question: the question.
        seed: for engines that use chance.
        stop: asked whether to stop early.
        report: told of the progress.
        done: outcomes of the first sets, from an earlier run.
        earlier: the designs of those.
        keep: told of each shard of designs, and of the outcome of each set with its last one.
        renew: told of the best designs where they take the place of those told before, and of all outcomes.
        limit: how many designs to list; without it the brief's own limit, or 10,000.
        workers: processes that share the sets of dice of a choice.
        settings: for the scores by which the best are selected where the brief lists only some; the usual ones
            without it.

    Raises:
        RecountError: an engine and the recount disagree.
    """
    most = limit if limit is not None else question.stop.designs or LISTED
    outcomes, found = list(done), list(earlier)
    extra: list[Placed] = []
    holding = bool(question.stop.designs) and not done
    left = range(len(done), len(question.sets))
    solved = _shared(question, left, most, seed, stop, workers) if workers > 1 and len(left) > 1 else None
    for position in left:
        if len(question.sets) > 1:
            report("sets of dice", position, len(question.sets))
        room = max(0, most - len(found))
        given = None if solved is None else next(solved, "stopped")
        if given == "stopped" or (position > 0 and solved is None and stop()):
            break
        if isinstance(given, tuple):
            designs, outcome = given
            found += designs[:room]
            outcome = _with_room(question, outcome, room)
            keep(designs[:room], outcome)
        else:
            alone = question.alone(question.sets[position])
            only = len(question.sets) == 1 and not question.choice
            beside = extra if holding else None
            outcome = one_set(alone, position, room, seed, stop, report, keep, found, beside, explain=only)
        outcomes.append(outcome)
    whole = Answer(question, tuple(outcomes), tuple(found), seed)
    return _selected(whole, extra, most, settings, stop, report, renew)


def _selected(
    whole: Answer,
    extra: Sequence[Placed],
    most: int,
    settings: Settings | None,
    stop: Stop,
    report: Progress,
    renew: Renew,
) -> Answer:
    """The answer with the best designs in the place of the first found, where the brief lists only some.

    `extra` are designs beyond those listed. Of a set of dice that was cut short, the best known ones are listed.
    """
    if not whole.question.stop.designs:
        return whole
    from facewright.search.selecting.select import selected, some_selected, to_select

    question, outcomes = whole.question, whole.outcomes
    known = [*(Placed(one.set, one.design) for one in whole.found), *extra]
    started = time.perf_counter()
    if to_select(question, outcomes, most, settings):
        designs, told = selected(
            question, outcomes, whole.found[:most], known, most, settings, whole.seed, stop, report
        )
    elif extra and len(question.sets) == 1:
        designs, told = some_selected(question, known, most, settings), outcomes
    else:
        return whole
    having = {(one.set, one.design): one for one in whole.found}
    found = tuple(
        having.get(one)
        or recounted(question.alone(question.sets[one.set]), one.design, one.set, whole.engine)
        for one in designs
    )
    seconds = told[-1].seconds + time.perf_counter() - started
    outcomes = (*told[:-1], replace(told[-1], seconds=seconds))
    renew(found, outcomes)
    return replace(whole, outcomes=outcomes, found=found)


def _with_room(question: DiceQuestion, outcome: SetOutcome, room: int) -> SetOutcome:
    """The outcome of a worker, which did not know how many designs the sets before had listed."""
    if outcome.listed <= room:
        return outcome
    closing = outcome.closing
    if closing.verdict == "complete":
        reason = completed(question.alone(outcome.dice), closing.count, room)
        closing = replace(closing, reason=reason)
    return replace(outcome, listed=room, closing=closing)


def _shared(
    question: DiceQuestion, left: range, most: int, seed: int, stop: Stop, workers: int
) -> Iterator[Any]:
    from facewright.search.sharing import solved_in_order

    jobs = [(question.alone(question.sets[position]), position, most, seed) for position in left]
    return solved_in_order(_set_apart, jobs, stop, workers)


def _set_apart(
    alone: DiceQuestion, position: int, room: int, seed: int, *, stop: Stop
) -> tuple[list[FoundDesign], SetOutcome]:
    """One set of dice in a process of its own."""
    found: list[FoundDesign] = []
    outcome = one_set(alone, position, room, seed, stop, silent, lambda _shard, _outcome: None, found)
    return found, outcome


def one_set(
    alone: DiceQuestion,
    position: int,
    room: int,
    seed: int,
    stop: Stop,
    report: Progress,
    keep: Keep,
    found: list[FoundDesign],
    beside: list[Placed] | None = None,
    explain: bool = False,
) -> SetOutcome:
    """Answers a question about one set of dice; its designs go to `found`, shard by shard to `keep`.

    Some more than `room` go to `beside`, not recounted, to choose from. `explain` looks for the plainest reason where
    there is none.
    """
    started = time.perf_counter()
    before = kept = len(found)
    others = len(beside or ())
    engine = engine_of(alone)
    name = engine.name
    held = 0 if beside is None else spare(before + room, name) - before - others
    answering = engine.answer(alone, max(room, held), stop, seed, report)
    for design in answering:
        if beside is not None and len(found) - before == room:
            beside.append(Placed(position, design))
            continue
        found.append(recounted(alone, design, position, name))
        if len(found) - kept >= SHARD:
            keep(found[kept:], None)
            kept = len(found)
    closing = answering.closing
    if explain and isinstance(alone, Numbering):
        from facewright.search.clash import explained

        closing = explained(alone, closing, seed, stop, report)
    seconds = time.perf_counter() - started
    outcome = SetOutcome(alone.dice, name, closing, len(found) - before + len(beside or ()) - others, seconds)
    outcome = _with_room(alone, outcome, len(found) - before)
    keep(found[kept:], outcome)
    return outcome


def engine_of(alone: DiceQuestion) -> Any:
    """The engine that takes a question about one set of dice; raises UsageError where none does."""
    if isinstance(alone, Contest):
        from facewright.search.engines import CONTEST_ENGINES

        return CONTEST_ENGINES[alone.read]
    return engine_for(alone)


def recounted(alone: DiceQuestion, design: NumberingDesign, position: int, engine: str) -> FoundDesign:
    """The design with its distance, recounted; raises RecountError where the recount disagrees."""
    from facewright.search.kinds import kind_of

    finding = kind_of(alone).recounted(alone, design)
    if not finding.agrees:
        dice = "; ".join(" ".join(map(str, die.labels)) for die in design.dice)
        raise RecountError(
            f"the recount disagrees with the engine {engine!r} about the design {design.id} ({dice}): "
            f"{'; '.join(finding.faults)}. One of the two is wrong, so the run was stopped; please report it"
        )
    return FoundDesign(design, position, finding.distance)
