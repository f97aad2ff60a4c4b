"""What runs, stores and checks need of each kind of question: one entry a kind."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any, Protocol

from facewright.constraints.contest import Contest
from facewright.constraints.design import DesignDie, NumberingDesign
from facewright.constraints.question import Numbering
from facewright.constraints.question_form import Question
from facewright.search.claims import Claim


class Kind(Protocol):
    """How questions of one kind are answered, and how their designs are kept and judged."""

    def optimal(self, question: Any) -> bool:
        """Whether designs are kept for being best: those of a search cut short give way to those of a whole one."""

    def answered(self, question: Any, workers: int, **how: Any) -> Any:
        """The answer; `how` is what the kind's own function takes."""

    def answer(self, question: Any, outcomes: Sequence[Any], found: Sequence[Any], seed: int) -> Any:
        """An answer from what is kept of it."""

    def outcome(self, question: Any, position: int, form: dict[str, Any]) -> Any:
        """The outcome of one set of dice, or solid, from all of it that is kept."""

    def form(self, design: Any) -> object:
        """What is kept of a design."""

    def written(self, question: Any, position: int, form: Any) -> Any:
        """A design as it is kept, neither sorted nor judged; raises LookupError, TypeError, ValueError for others."""

    def found(self, question: Any, position: int, form: Any, distance: Fraction) -> Any:
        """A design as an answer holds it."""

    def cut(self, question: Any, found: Sequence[Any], most: int) -> tuple[Any, ...]:
        """So many designs at most."""

    def recounted(self, question: Any, design: Any) -> Any:
        """What the recount finds; raises TypeError for a design of another kind."""

    def claim(self, one: dict[str, Any]) -> Claim:
        """What an answer in JSON claims of a design; raises LookupError, TypeError, ValueError where it is none."""


class _Numberings:
    def optimal(self, question: Any) -> bool:
        return bool(question.accept == "nearest")

    def answered(self, question: Any, workers: int, **how: Any) -> Any:
        from facewright.search.finding import answer

        return answer(question, workers=workers, **how)

    def answer(self, question: Any, outcomes: Sequence[Any], found: Sequence[Any], seed: int) -> Any:
        from facewright.search.answer import Answer

        return Answer(question, tuple(outcomes), tuple(found), seed)

    def outcome(self, question: Any, position: int, form: dict[str, Any]) -> Any:
        from facewright.search.answer import SetOutcome

        return SetOutcome(dice=question.sets[position], **form)

    def form(self, design: Any) -> object:
        return [die.labels for die in design.dice]

    def written(self, question: Any, position: int, form: Any) -> Any:
        pairs = zip(question.sets[position], form, strict=True)
        return NumberingDesign(tuple(DesignDie(d.faces, d.solid, tuple(one)) for d, one in pairs))

    def found(self, question: Any, position: int, form: Any, distance: Fraction) -> Any:
        from facewright.search.answer import FoundDesign

        return FoundDesign(NumberingDesign.of(question.sets[position], form), position, distance)

    def cut(self, question: Any, found: Sequence[Any], most: int) -> tuple[Any, ...]:
        if self.optimal(question) and question.nearest == "total-variation":
            found = sorted(found, key=lambda one: (one.set, one.distance))
        return tuple(found[:most])

    def recounted(self, question: Any, design: Any) -> Any:
        from facewright.search.recount import recount

        if not isinstance(design, NumberingDesign):
            raise TypeError("a design of another kind than the question")
        return recount(question, design)

    def claim(self, one: dict[str, Any]) -> Claim:
        design = NumberingDesign.from_json(one)
        hash(design)
        return Claim(str(one["id"]), design, one.get("distance"), one.get("ordinary"))


class _Contests(_Numberings):
    def optimal(self, question: Any) -> bool:
        return bool(question.best)

    def found(self, question: Any, position: int, form: Any, distance: Fraction) -> Any:
        from facewright.search.answer import FoundDesign

        return FoundDesign(question.design(question.sets[position], form), position, distance)

    def cut(self, question: Any, found: Sequence[Any], most: int) -> tuple[Any, ...]:
        return tuple(found[:most])

    def recounted(self, question: Any, design: Any) -> Any:
        from facewright.search.recount_contests import recount_contest

        if not isinstance(design, NumberingDesign):
            raise TypeError("a design of another kind than the question")
        return recount_contest(question, design)

    def claim(self, one: dict[str, Any]) -> Claim:
        return replace(super().claim(one), chance=one.get("chance"))


class _Readouts:
    def optimal(self, question: Any) -> bool:
        return True

    def answered(self, question: Any, workers: int, **how: Any) -> Any:
        from facewright.search.readouts_finding import answer_readouts

        return answer_readouts(question, workers=workers, **how)

    def answer(self, question: Any, outcomes: Sequence[Any], found: Sequence[Any], seed: int) -> Any:
        from facewright.search.readouts_answer import ReadoutsAnswer

        return ReadoutsAnswer(question, tuple(outcomes), tuple(found), seed)

    def outcome(self, question: Any, position: int, form: dict[str, Any]) -> Any:
        from facewright.search.readouts_answer import SolidOutcome

        return SolidOutcome(solid=question.sets[position], **form)

    def form(self, design: Any) -> object:
        return design.as_json()

    def written(self, question: Any, position: int, form: Any) -> Any:
        from facewright.constraints.readouts_design import ReadoutsDesign

        return ReadoutsDesign.from_json(form)

    def found(self, question: Any, position: int, form: Any, distance: Fraction) -> Any:
        from facewright.search.readouts_answer import FoundMarks

        return FoundMarks(self.written(question, position, form), position, distance)

    def cut(self, question: Any, found: Sequence[Any], most: int) -> tuple[Any, ...]:
        """So many a solid, the least dependent first."""
        seen: Counter[int] = Counter()
        kept = set()
        for one in self.answer(question, (), found, 0).ranked:
            seen[one.set] += 1
            if seen[one.set] <= most:
                kept.add((one.set, one.id))
        return tuple(one for one in found if (one.set, one.id) in kept)

    def recounted(self, question: Any, design: Any) -> Any:
        from facewright.constraints.readouts_design import ReadoutsDesign
        from facewright.search.recount_readouts import recount_readouts

        if not isinstance(design, ReadoutsDesign):
            raise TypeError("a design of another kind than the question")
        return recount_readouts(question, design)

    def claim(self, one: dict[str, Any]) -> Claim:
        return Claim(str(one["id"]), self.written(None, 0, one), one.get("dependence"))


class _Layouts:
    def optimal(self, question: Any) -> bool:
        return True

    def answered(self, question: Any, workers: int, **how: Any) -> Any:
        from facewright.search.layouts_finding import answer_layout

        return answer_layout(question, **how)

    def answer(self, question: Any, outcomes: Sequence[Any], found: Sequence[Any], seed: int) -> Any:
        from facewright.search.layouts_answer import LayoutAnswer

        return LayoutAnswer(question, tuple(outcomes), tuple(found), seed)

    def outcome(self, question: Any, position: int, form: dict[str, Any]) -> Any:
        return _READOUTS.outcome(question, position, form)

    def form(self, design: Any) -> object:
        return design.as_json()

    def written(self, question: Any, position: int, form: Any) -> Any:
        from facewright.constraints.layout_design import LayoutDesign

        return LayoutDesign.from_json(form)

    def found(self, question: Any, position: int, form: Any, distance: Fraction) -> Any:
        from facewright.search.layouts_answer import FoundLayout

        return FoundLayout(self.written(question, position, form), position, distance)

    def cut(self, question: Any, found: Sequence[Any], most: int) -> tuple[Any, ...]:
        from facewright.search.layouts_answer import ranked

        return tuple(ranked(question, tuple(found))[:most])

    def recounted(self, question: Any, design: Any) -> Any:
        from facewright.constraints.layout_design import LayoutDesign
        from facewright.search.recount_layouts import recount_layout

        if not isinstance(design, LayoutDesign):
            raise TypeError("a design of another kind than the question")
        return recount_layout(question, design)

    def claim(self, one: dict[str, Any]) -> Claim:
        return Claim(str(one["id"]), self.written(None, 0, one))


class _Smooth:
    def optimal(self, question: Any) -> bool:
        return True

    def answered(self, question: Any, workers: int, **how: Any) -> Any:
        from facewright.search.smooth_finding import answer_smooth

        return answer_smooth(question, **how)

    def answer(self, question: Any, outcomes: Sequence[Any], found: Sequence[Any], seed: int) -> Any:
        from facewright.search.smooth_answer import SmoothAnswer

        return SmoothAnswer(question, tuple(outcomes), tuple(found), seed)

    def outcome(self, question: Any, position: int, form: dict[str, Any]) -> Any:
        from facewright.search.smooth_answer import SmoothOutcome

        return SmoothOutcome(**form)

    def form(self, design: Any) -> object:
        return design.as_json()

    def written(self, question: Any, position: int, form: Any) -> Any:
        from facewright.constraints.smooth_design import SmoothDesign

        return SmoothDesign.from_json(form)

    def found(self, question: Any, position: int, form: Any, distance: Fraction) -> Any:
        from facewright.search.smooth_answer import FoundBody

        return FoundBody(self.written(question, position, form), position, distance)

    def cut(self, question: Any, found: Sequence[Any], most: int) -> tuple[Any, ...]:
        return tuple(found[:most])

    def recounted(self, question: Any, design: Any) -> Any:
        from facewright.constraints.smooth_design import SmoothDesign
        from facewright.search.recount_smooth import recount_smooth

        if not isinstance(design, SmoothDesign):
            raise TypeError("a design of another kind than the question")
        return recount_smooth(question, design)

    def claim(self, one: dict[str, Any]) -> Claim:
        return Claim(str(one["id"]), self.written(None, 0, one))


_CONTESTS = _Contests()
_READOUTS = _Readouts()
_KINDS: dict[str, Kind] = {
    Numbering.kind: _Numberings(),
    "readouts": _READOUTS,
    "layout": _Layouts(),
    "smooth": _Smooth(),
}


def kind_of(question: Question) -> Kind:
    """The entry of a question's kind; contests are numberings to a reader, but have an entry of their own."""
    return _CONTESTS if isinstance(question, Contest) else _KINDS[question.kind]
