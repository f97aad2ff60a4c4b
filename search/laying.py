"""The best design of an answer laid out: which face of each die carries which label, by the goals of the brief."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from typing import TYPE_CHECKING, Any

from facewright.constraints.contest import DiceQuestion
from facewright.constraints.design import DesignDie, NumberingDesign
from facewright.constraints.errors import RecountError
from facewright.constraints.labels import Die
from facewright.constraints.layout import Layout, Roll
from facewright.constraints.product import Product
from facewright.constraints.question_form import any_from_form, any_to_form
from facewright.constraints.readouts import Readouts
from facewright.constraints.readouts_design import ReadoutsDesign
from facewright.constraints.smooth import Smooth
from facewright.search.answer import Closing
from facewright.search.kinds import kind_of
from facewright.search.progress import Progress, silent
from facewright.search.readouts_answer import SolidOutcome
from facewright.search.stop import Limits, Stop

if TYPE_CHECKING:
    from facewright.search.report.scores import Settings

SECONDS_A_DIE = 10.0
"""How long one die may take: a layout that belongs to another question must not hold that up for ever."""

MOST_RESTS = 120
"""The most rests of a solid that is laid out."""


@dataclass(frozen=True)
class LaidOut:
    """One die of a design, laid out.

    `of` is the id of the design, `die` its place there, from 1. `question` is what was asked of the layout, `found`
    holds the design that answers it (of readouts: the marks moved), or nothing where none was found in time. `cut` says
    that somebody stopped it: it is tried again when the run goes on.
    """

    of: str
    die: int
    question: Layout | Readouts
    outcome: SolidOutcome
    found: tuple[Any, ...]
    cut: bool = False

    def to_form(self) -> dict[str, Any]:
        """All of it as plain values, from which `from_form` makes an equal one."""
        return {
            "of": self.of,
            "die": self.die,
            "question": any_to_form(self.question),
            "outcome": asdict(self.outcome),
            "designs": [one.as_json() for one in self.found],
            "cut": self.cut,
        }

    @classmethod
    def from_form(cls, form: dict[str, Any]) -> LaidOut:
        """What `to_form` wrote; raises LookupError, TypeError or ValueError for another form."""
        question = any_from_form(form["question"])
        if not isinstance(question, Layout | Readouts):
            raise ValueError(f"question: found a {question.kind}; accepted: a layout, or readouts")
        outcome = dict(form["outcome"])
        closing = dict(outcome.pop("closing"))
        closing["proof"] = tuple(closing["proof"])
        found = tuple(kind_of(question).written(question, 0, one) for one in form["designs"])
        return cls(
            form["of"],
            form["die"],
            question,
            SolidOutcome(closing=Closing(**closing), **outcome),
            found,
            form["cut"],
        )

    def as_json(self) -> dict[str, Any]:
        """One entry of an answer's `layouts`: the design with what it belongs to and what backs it."""
        from facewright.constraints.solids import solid
        from facewright.constraints.solids.geometry import geometry

        closing = self.outcome.closing
        about = {
            "design": self.of,
            "die": self.die,
            "verdict": closing.verdict,
            "reason": closing.reason,
            "proof": list(closing.proof),
            "bound": closing.bound,
            "engine": self.outcome.engine,
            "question": any_to_form(self.question),
        }
        if not self.found:
            return {**about, "id": None, "solid": self.outcome.solid}
        built = solid(self.outcome.solid, self.question.shape)
        return {**about, **self.found[0].as_json(), "geometry": geometry(built)}


def claimed(data: dict[str, Any]) -> LaidOut:
    """The layout that `LaidOut.as_json` wrote; raises LookupError, TypeError or ValueError for another form."""
    question = any_from_form(data["question"])
    if not isinstance(question, Layout | Readouts):
        raise ValueError(f"question: found a {question.kind}; accepted: a layout, or readouts")
    found = () if data["id"] is None else (kind_of(question).written(question, 0, data),)
    closing = Closing(data["verdict"], len(found), len(found), "at least", data["reason"])
    outcome = SolidOutcome(data["solid"], data["engine"], closing, len(found), 0.0)
    return LaidOut(data["design"], data["die"], question, outcome, found)


def faults_of(laid: LaidOut, designs: Mapping[str, Any]) -> Iterator[str]:
    """What a recount finds wrong with a layout: of itself, and against the design that it belongs to.

    Params:
        laid: the layout.
        designs: the designs of the answer, by id.
    """
    from facewright.constraints.smooth_design import SmoothDesign
    from facewright.constraints.solids.smooth.symmetries import SYMMETRIES

    whole = designs.get(laid.of)
    if whole is None:
        yield f"it belongs to {laid.of}, which is not among the designs"
        return
    for one in laid.found:
        yield from kind_of(laid.question).recounted(laid.question, one).faults
        if isinstance(whole, SmoothDesign):
            if one.solid != SYMMETRIES[whole.symmetry].solid:
                yield f"it stands on the {one.solid}, which does not rest as {laid.of} does"
        elif isinstance(whole, NumberingDesign):
            die = whole.dice[laid.die - 1] if 0 < laid.die <= len(whole.dice) else None
            if die is None or not _carries(die, one):
                yield f"it does not carry the labels of die {laid.die} of {laid.of}"
        elif one.joint != whole.joint or one.solid != whole.solid:
            yield f"it has other joint counts than {laid.of}"


def _carries(die: DesignDie, one: Any) -> bool:
    """Whether a layout carries the labels of a die, each equally often."""
    standing, wanted = Counter(one.labels), Counter(die.labels)
    copies = len(one.labels) // die.faces
    return one.solid == die.solid and standing == Counter({x: copies * n for x, n in wanted.items()})


def layout_question(
    question: DiceQuestion, dice: Sequence[Die], design: NumberingDesign, place: int
) -> Layout:
    """The question of how to lay out one die of a design.

    Goals that its solid cannot have are left out: sums of opposite faces where there are none.

    Params:
        question: the numbering, whose `layout` lists the goals.
        dice: the set of dice that the design answers.
        design: the design.
        place: the position of the die, from 0.
    """
    from facewright.constraints.solids import solid

    die, labels = dice[place], design.dice[place].labels
    body = solid(die.solid, die.shape)
    opposite = all(body.opposite[rest.below] is not None for rest in body.rests)
    return Layout(
        solid=die.solid,
        labels=tuple(label for label in labels for _ in range(die.copies)),
        goals=tuple(goal for goal in question.layout if opposite or goal != "opposite-sums"),
        shape=die.shape,
        roll=Roll.of(question, [die.labels for die in design.dice], place),
        title=f"{question.title}, die {place + 1}",
        asked=f"{design.id}, die {place + 1}",
        size_is="across-flats" if opposite else "height",
    )


def with_layouts(
    answer: Any,
    settings: Settings | None = None,
    *,
    seed: int,
    stop: Stop,
    report: Progress = silent,
    known: Iterable[LaidOut] = (),
) -> Any:
    """The answer with its best-ranked design laid out, where its brief wants that and there is a design.

    Params:
        answer: an answer of any kind.
        settings: for the scores that say which design is best; the usual ones without it.
        seed: of the search's choices.
        stop: asked whether to stop early.
        report: told of the progress.
        known: layouts of an earlier run.
    """
    question = answer.question
    if isinstance(question, Layout | Product):
        return answer
    if not question.layout or not answer.found:
        return replace(answer, layouts=())
    if isinstance(question, Smooth):
        assert question.marks is not None
        return replace(
            answer, layouts=_marked_body(question.marks, answer.ranked[0].id, seed, stop, report, known)
        )
    if isinstance(question, Readouts):
        best = answer.ranked[0].design
        known = [one for one in known if one.of == best.id and not one.cut]
        laid = tuple(known) or _moved(question, best, seed, stop, report)
        return replace(answer, layouts=laid)
    from facewright.search.report.contents import ranked_designs
    from facewright.search.report.scores import load_scores

    first = ranked_designs(answer, settings or load_scores(None))[0]
    dice = next(question.sets[one.set] for one in answer.found if one.design.id == first.id)
    laid = lay_out(question, dice, first.scores.design, seed=seed, stop=stop, report=report, known=known)
    return replace(answer, layouts=laid)


def _marked_body(
    asked: Layout | Readouts, of: str, seed: int, stop: Stop, report: Progress, known: Iterable[LaidOut]
) -> tuple[LaidOut, ...]:
    """The labels or readouts of a smooth body at its rests; nothing where a stop came first."""
    wanted = asked.fingerprint()
    if kept := [
        one for one in known if one.of == of and not one.cut and one.question.fingerprint() == wanted
    ]:
        return tuple(kept)
    if stop():
        return ()
    if isinstance(asked, Layout):
        return (_one(asked, of, 0, seed, stop),)
    from facewright.search.readouts_finding import answer_readouts

    own = Limits(SECONDS_A_DIE)
    answer = answer_readouts(asked, seed=seed, stop=lambda: stop() or own(), limit=1)
    found = tuple(one.design for one in answer.ranked[:1])
    if not found or not asked.layout:
        cut = answer.verdict == "partial" and stop() is not None
        return (LaidOut(of, 1, asked, answer.outcomes[0], found, cut),)
    return tuple(replace(one, of=of, question=asked) for one in _moved(asked, found[0], seed, stop, report))


def _moved(
    question: Readouts, best: ReadoutsDesign, seed: int, stop: Stop, report: Progress
) -> tuple[LaidOut, ...]:
    """The marks of a design of readouts moved apart; nothing where a stop came first."""
    if stop():
        return ()
    from facewright.search.engines.readouts_apart import Apart
    from facewright.search.engines.readouts_solver import load

    load()
    alone, own, started = question.alone(best.solid), Limits(SECONDS_A_DIE), time.perf_counter()
    answering = Apart().answer(alone, best, lambda: stop() or own(), seed, report)
    found = tuple(answering)
    for one in found:
        finding = kind_of(question).recounted(alone, one)
        if not finding.agrees or one.joint != best.joint:
            faults = "; ".join(finding.faults) or "has other joint counts than the design it began from"
            raise RecountError(
                f"the recount disagrees about the marks moved apart, {one.id}: {faults}; please report it"
            )
    seconds = time.perf_counter() - started
    outcome = SolidOutcome(best.solid, Apart.name, answering.closing, len(found), seconds)
    cut = answering.closing.verdict == "partial" and stop() is not None
    return (LaidOut(best.id, 1, alone, outcome, found, cut),)


def lay_out(
    question: DiceQuestion,
    dice: Sequence[Die],
    design: NumberingDesign,
    *,
    seed: int,
    stop: Stop,
    report: Progress = silent,
    known: Iterable[LaidOut] = (),
) -> tuple[LaidOut, ...]:
    """Lays out every die of a design; dice with equal labels in an equal role share one layout.

    Params:
        question: the numbering, whose `layout` lists the goals.
        dice: the set of dice that the design answers.
        design: the design.
        seed: of the search's choices.
        stop: asked whether to stop early; each die has a limit of its own beside it.
        report: told of the progress.
        known: layouts of an earlier run; those that nobody cut short are taken over.
    Returns: one a die, up to the first that a stop left untouched.
    """
    settled = {one.question.fingerprint(): one for one in known if not one.cut}
    laid: list[LaidOut] = []
    for place, die in enumerate(dice):
        if die.faces * die.copies > MOST_RESTS:
            laid.append(_too_large(question, die, design, place))
            continue
        asked = layout_question(question, dice, design, place)
        done = settled.get(asked.fingerprint())
        if done is None and stop():
            break
        if done is None:
            report("dice laid out", place, len(dice))
            done = _one(asked, design.id, place, seed, stop)
            settled[asked.fingerprint()] = done
        laid.append(LaidOut(design.id, place + 1, asked, done.outcome, done.found, done.cut))
    return tuple(laid)


def _one(asked: Layout, of: str, place: int, seed: int, stop: Stop) -> LaidOut:
    from facewright.search.layouts_finding import answer_layout

    own = Limits(SECONDS_A_DIE)
    answer = answer_layout(asked, seed=seed, stop=lambda: stop() or own(), limit=1)
    found = tuple(one.design for one in answer.ranked[:1])
    cut = answer.verdict == "partial" and stop() is not None
    return LaidOut(of, place + 1, asked, answer.outcomes[0], found, cut)


def _too_large(question: DiceQuestion, die: Die, design: NumberingDesign, place: int) -> LaidOut:
    """Says why a die is not laid out."""
    rests = die.faces * die.copies
    labels = tuple(label for label in design.dice[place].labels for _ in range(die.copies))
    reason = f"Not laid out: the {die.solid} has {rests} faces, and solids are built up to {MOST_RESTS}."
    closing = Closing("partial", 0, 0, "at least", reason)
    asked = Layout(die.solid, labels, question.layout, title=f"{question.title}, die {place + 1}")
    return LaidOut(design.id, place + 1, asked, SolidOutcome(die.solid, "layout", closing, 0, 0.0), ())
