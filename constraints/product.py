"""The question of a product: which of these designs to make, by which route, for how many sets."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from typing import Any

from facewright.constraints.errors import UsageError
from facewright.constraints.question import StopRule
from facewright.constraints.rates import Rates

ROUTES = ("marked-blanks", "cast", "mould")
"""The routes by which dice are made."""

HAS = ("mould", "master", "blanks")
"""What a maker may have for a solid: a mould for it, a master to cast from, a source of blanks."""

CRITERIA = (
    "cost", "legible", "familiar", "exactness", "guards", "settling", "novelty", "tooling",
)  # fmt: skip
"""By what products are compared."""

READABILITY = "readability"
"""The score that joins legible and familiar; a brief may weigh it in their place."""

WEIGHTS = (
    ("cost", 3), ("legible", 2), ("familiar", 3), ("exactness", 3), ("guards", 1), ("settling", 1), ("novelty", 1),
    ("tooling", 1),
)  # fmt: skip
"""What counts how much unless the brief says otherwise (judgement)."""

USUAL_SETS = (500, 2000, 10_000)
"""Numbers of sets unless the brief gives others."""


@dataclass(frozen=True)
class Candidate:
    """A design of a run that might be made.

    `run` is the name of the run, `question` and `design` what it asked and found, `position` the set of dice (or the
    solid) of the question that the design answers. `laid` holds the dice that the run has laid out, as JSON.
    """

    run: str
    question: Any
    design: Any
    position: int = 0
    laid: str = "[]"

    @property
    def id(self) -> str:
        """The id of the design."""
        return str(self.design.id)

    @property
    def name(self) -> str:
        """The run and the beginning of the id."""
        return f"{self.run}/{self.id[:8]}"

    @property
    def title(self) -> str:
        """The title of its question."""
        return str(self.question.title)

    def to_form(self) -> dict[str, Any]:
        """All of it as plain values, from which `from_form` makes an equal one."""
        from facewright.constraints.question_form import any_to_form

        return {
            "run": self.run,
            "question": any_to_form(self.question),
            "design": self.design.as_json(),
            "position": self.position,
            "laid": json.loads(self.laid),
        }

    @classmethod
    def from_form(cls, form: Mapping[str, Any]) -> Candidate:
        """What `to_form` wrote; raises LookupError, TypeError, ValueError or UsageError for another form."""
        from facewright.constraints.question_form import any_from_form

        question = any_from_form(form["question"])
        design = design_of(question.kind, form["design"])
        return cls(form["run"], question, design, form["position"], _compact(form["laid"]))


def design_of(kind: str, form: dict[str, Any]) -> Any:
    """The design of a question of some kind, from its JSON; raises LookupError, TypeError or ValueError for others."""
    from facewright.constraints.design import NumberingDesign
    from facewright.constraints.layout_design import LayoutDesign
    from facewright.constraints.readouts_design import ReadoutsDesign

    kinds: dict[str, Any] = {
        "numbering": NumberingDesign,
        "readouts": ReadoutsDesign,
        "layout": LayoutDesign,
    }
    return kinds[kind].from_json(form)


@dataclass(frozen=True)
class Make:
    """How a product is to be made: routes, numbers of sets, colours of the dice, inks on a die, the number of sets at
    which designs are compared, and whether a core moulded first is tried."""

    by: tuple[str, ...] = ROUTES
    sets: tuple[int, ...] = USUAL_SETS
    compare_at: int = USUAL_SETS[1]
    colours: int = 1
    inks: int = 1
    core: bool = False
    body: str = "#ffffff"
    ink: str = "#000000"


@dataclass(frozen=True)
class Product:
    """Which of these designs should be made?

    `candidates` are the designs. `owned` says, solid by solid, what the maker has. Rates, quantities, colours, owned
    solids, wording, limits and weights do not tell questions apart: what is measured of a design rests on none of them.
    """

    candidates: tuple[Candidate, ...]
    make: Make
    rates: Rates
    owned: tuple[tuple[str, tuple[str, ...]], ...] = ()
    title: str = field(default="", compare=False)
    note: str = field(default="", compare=False)
    stop: StopRule = field(default=StopRule(), compare=False)
    rank: tuple[tuple[str, int], ...] = field(default=WEIGHTS, compare=False)

    kind = "product"
    listed = 1000
    layout = ()

    @property
    def sets(self) -> tuple[Candidate, ...]:
        """The designs, each answered apart."""
        return self.candidates

    @property
    def choice(self) -> str:
        """Nothing: a product brief names its designs."""
        return ""

    def candidate(self, beginning: str) -> Candidate:
        """The design with an id; raises KeyError where it is not among them."""
        found = next((one for one in self.candidates if one.id == beginning), None)
        if found is None:
            raise KeyError(beginning)
        return found

    def fingerprint(self) -> str:
        """A hash of all that tells questions apart, the same on every machine."""
        form = [
            self.kind,
            sorted(self.make.by),
            [[one.question.fingerprint(), one.id] for one in self.candidates],
        ]
        return hashlib.sha256(json.dumps(form, separators=(",", ":")).encode()).hexdigest()

    def to_form(self) -> dict[str, Any]:
        """The question as dictionaries, lists, numbers and text, from which `from_form` makes an equal one."""
        make = {
            key: list(value) if isinstance(value, tuple) else value
            for key, value in asdict(self.make).items()
        }
        return {
            "kind": self.kind,
            "title": self.title,
            "note": self.note,
            "candidates": [one.to_form() for one in self.candidates],
            "make": make,
            "rates": self.rates.to_form(),
            "owned": {solid: list(has) for solid, has in self.owned},
            "stop": asdict(self.stop),
            "rank": dict(self.rank),
        }

    @classmethod
    def from_form(cls, form: dict[str, Any]) -> Product:
        """The question that `to_form` wrote.

        Raises:
            UsageError: the form is not one that `to_form` writes.
        """
        try:
            make: dict[str, Any] = {
                key: tuple(v) if isinstance(v, list) else v for key, v in form["make"].items()
            }
            return cls(
                candidates=tuple(Candidate.from_form(one) for one in form["candidates"]),
                make=Make(**make),
                rates=Rates.from_form(form["rates"]),
                owned=tuple((solid, tuple(has)) for solid, has in form["owned"].items()),
                title=form["title"],
                note=form["note"],
                stop=StopRule(**form["stop"]),
                rank=tuple(form["rank"].items()),
            )
        except (LookupError, TypeError, ValueError, AttributeError) as wrong:
            raise UsageError(f"question: found {wrong!r} where a stored question was expected") from wrong


def _compact(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))
