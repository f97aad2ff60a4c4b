"""The engine `solver`: a CP-SAT model of label counts, to list every numbering, find the best, or refute."""

from __future__ import annotations

from facewright.constraints.design import NumberingDesign
from facewright.constraints.grammar import counted
from facewright.constraints.model.anchor import post_anchor
from facewright.constraints.model.counts import CountModel
from facewright.constraints.model.exchange import post_exchange
from facewright.constraints.model.further import post_further
from facewright.constraints.model.limits import too_large
from facewright.constraints.model.score import Weight, post_score
from facewright.constraints.model.totals import out_of_reach
from facewright.constraints.question import Numbering
from facewright.constraints.readings import READINGS
from facewright.search.answer import Answering, Closing, Stream
from facewright.search.engines.exact.division import barred_by_division
from facewright.search.engines.solver_run import SolverRun
from facewright.search.progress import Progress, silent
from facewright.search.stop import Stop, Stopped
from facewright.search.words import completed, conditions, stopped

COUNTED = 100_000
"""Where the brief wants some of the designs, so many are counted before the search ends, to select the best of all."""


class Solver:
    """Complete for every reading that can post itself on a model of label counts."""

    name = "solver"

    def accepts(self, question: Numbering) -> bool:
        """Exact questions with a known reading, as long as no number of ways overflows; see `refusal`."""
        return self.refusal(question) is None

    def refusal(self, question: Numbering) -> str | None:
        """Why this engine cannot answer the question, in words; None where it can."""
        if question.accept != "exact":
            return f"the solver lists exact answers, and accept = {question.accept!r} was asked for"
        if question.read not in READINGS:
            return f"the solver has no model of read = {question.read!r}"
        return too_large(question.dice, bool(question.again))

    def answer(self, question: Numbering, limit: int, stop: Stop, seed: int, report: Progress) -> Answering:
        """Streams up to `limit` designs, each once; see `Engine`.

        The designs beyond the limit are counted, where the brief has a limit of its own up to `COUNTED`: with
        more, the search ends there, and the verdict is partial.
        """
        return Answering(self.name, _listing(question, limit, stop, seed, report))

    def best(
        self, question: Numbering, weight: Weight, stop: Stop, seed: int, report: Progress = silent
    ) -> Answering:
        """Streams the one design with the greatest score, a sum of weights over all faces.

        Args:
            question: an exact question that the engine accepts.
            weight: (position of the die, label) → what one face with that label adds, a whole number.
            stop: asked whether to stop early; then the best design so far comes, and `bound` holds a score
                that nothing can pass.
            seed: of the solver's choices.
            report: told of the progress.

        Raises:
            UsageError: the scores are too large to be compared.
        """
        return Answering(self.name, _best(question, weight, stop, seed, report))


def shape(question: Numbering, design: NumberingDesign) -> NumberingDesign:
    """The design up to the shifts that the reading cannot see: equal for designs that count once."""
    joins = question.reading.joins
    if joins == "sum zero":
        return design.up_to_shift(question.dice)
    if joins == "one for all":
        least = min(die.labels[0] for die in design.dice)
        return NumberingDesign.of(question.dice, [[x - least for x in die.labels] for die in design.dice])
    return design


def _model(question: Numbering) -> CountModel:
    model = CountModel(question.dice, question.again)
    question.reading.post(model, question.target)
    if question.anchored:
        post_anchor(model)
    for rule in question.also:
        post_further(model, rule)
    post_exchange(model)
    return model


def _listing(question: Numbering, limit: int, stop: Stop, seed: int, report: Progress) -> Stream:
    barred = _barred(question)
    if barred is not None:
        return barred
    count, listed = 0, 0
    shapes: set[NumberingDesign] = set()
    model = _model(question)
    solutions = SolverRun(model, seed).solutions(stop)
    try:
        for labels in solutions:
            count += 1
            design = NumberingDesign.of(question.dice, labels)
            shapes.add(shape(question, design))
            report("designs found", count, None)
            if listed < limit:
                listed += 1
                yield design
            elif question.stop.designs is not None and count > max(COUNTED, listed):
                return Closing("partial", count, len(shapes), "at least", _cut(count))
    except Stopped as asked:
        return Closing("partial", count, len(shapes), "at least", stopped(count, str(asked)))
    finally:
        solutions.close()
    if not count:
        return _none(question, model)
    reason, proof = completed(question, count, listed), _proof(question, model, counted(count, "solution"))
    return Closing("complete", count, len(shapes), "all", reason, proof)


def _best(question: Numbering, weight: Weight, stop: Stop, seed: int, report: Progress) -> Stream:
    barred = _barred(question)
    if barred is not None:
        return barred
    model = _model(question)
    known = post_score(model, weight)
    run = SolverRun(model, seed)
    best: NumberingDesign | None = None
    asked: str | None = None
    solutions = run.solutions(stop)
    try:
        for tried, labels in enumerate(solutions, start=1):
            best = NumberingDesign.of(question.dice, labels)
            report("better designs found", tried, None)
    except Stopped as reason:
        asked = str(reason)
    finally:
        solutions.close()
    found = 0 if best is None else 1
    if asked is not None:
        if best is not None:
            yield best
        bound = None if run.bound is None else str(known + run.bound)
        return Closing("partial", found, found, "at least", stopped(found, asked), bound=bound)
    if best is None:
        return _none(question, model)
    yield best
    score = sum(weight(place, label) for place, die in enumerate(best.dice) for label in die.labels)
    words = f"This numbering has the greatest score, {score:,}. {conditions(question)} nothing scores higher."
    proof = _proof(question, model, f"a score of {score} as the greatest")
    return Closing("best", 1, 1, "at least", words, proof)


def _barred(question: Numbering) -> Closing | None:
    """The closing statement where there is no design for a reason that needs no search."""
    barred = barred_by_division(question)
    if barred is not None:
        return barred
    away = out_of_reach(question.dice, question.target) if question.read == "total" else None
    if away is not None:
        reason = f"No numbering does it, since {away}."
        proof = ("The least and the greatest total of dice are the sums of their least and greatest labels.",)
        return Closing("none", 0, 0, "all", reason, proof, cause="clash")
    return None


def _none(question: Numbering, model: CountModel) -> Closing:
    reason = f"{conditions(question)} no numbering does it: every choice of labels was ruled out."
    return Closing("none", 0, 0, "all", reason, _proof(question, model, "no solution"), cause="search")


def _cut(count: int) -> str:
    """The verdict where there are more designs than are counted to choose the best from."""
    least = f"At least {counted(count, 'numbering')} {'does' if count == 1 else 'do'} it"
    return f"{least}, more than are counted where a brief asks for some. Those listed are some of the first found."


def _proof(question: Numbering, model: CountModel, end: str) -> tuple[str, ...]:
    """How the search proved it, a sentence a line."""
    counts = sum(len(model.counts(die)) for die in range(len(question.dice)))
    return (
        f"{counts:,} counts a[d, v] say how often die d carries label v; Σᵥ a[d, v] is its face count.",
        f"The ways of each result of {question.read!r} follow from them and must equal (n₁…nₖ / M) · T.",
        "Interchangeable dice stand in lexicographic order; every other variable follows from the a[d, v].",
        f"CP-SAT searched this model of {len(model.cp.proto.variables):,} variables to its end, with {end}.",
    )
