"""What is measured of a design that might be made: one entry a kind of die, in plain values."""

from __future__ import annotations

from dataclasses import asdict, dataclass, replace
from fractions import Fraction
from typing import Any

from facewright.constraints.product import Product
from facewright.search.costing.job import DieJob, SetJob


@dataclass(frozen=True)
class DieFacts:
    """One kind of die of a design, in the size in which it would be made.

    `positions` are its places in the set, from 1. `faces` of the solid, `marked` of them carry marks; `marks` and
    `characters` on all of them; `labels` as they are read, each as often as the die has it, `readouts` how many stand
    on it. `height_mm` of the lowest characters, `stroke_mm` the narrowest stroke, `single_mm` the height that single
    characters would have there; `upside` the labels that read as others upside down, as pairs, `turned` how many
    labels those are. `slides` marks that leave a mould only with a slide, `area_mm2` seen along the draw. `settle` is
    the least rise of the centre of mass that tips it over, in inradii. `guards` say how far a flaw of 1 % moves the
    results (total variation distance), by goal; none where it was not worked out. Lengths in mm.
    """

    positions: tuple[int, ...]
    solid: str
    read: str
    faces: int
    marked: int
    marks: int
    characters: int
    labels: tuple[int | str, ...]
    readouts: int
    size_mm: float
    size_is: str
    inradius_mm: float
    tip_to_tip_mm: float
    volume_mm3: float
    area_mm2: float
    slides: int
    height_mm: float
    single_mm: float
    stroke_mm: float
    upside: tuple[tuple[str, str], ...]
    turned: int
    settle: float
    guards: tuple[tuple[str, float], ...] = ()

    @property
    def count(self) -> int:
        """How many of it a set has."""
        return len(self.positions)

    def to_form(self) -> dict[str, Any]:
        """All of it as plain values, from which `from_form` makes an equal one."""
        form = asdict(self)
        return form | {
            "positions": list(self.positions),
            "labels": list(self.labels),
            "upside": [list(pair) for pair in self.upside],
            "guards": dict(self.guards),
        }

    @classmethod
    def from_form(cls, form: dict[str, Any]) -> DieFacts:
        """What `to_form` wrote; raises LookupError, TypeError, ValueError or AttributeError for another form."""
        return cls(
            **{
                **form,
                "positions": tuple(form["positions"]),
                "labels": tuple(form["labels"]),
                "upside": tuple((a, b) for a, b in form["upside"]),
                "guards": tuple(form["guards"].items()),
            }
        )


@dataclass(frozen=True)
class ProductDesign:
    """A design as a product: its id, the run that it is of, what was measured of each die, how exact it is.

    `inexact` is its distance from what was asked, or the dependence of its readouts: 0 where it is exact. `quoted` is
    what an answer in JSON claims that it costs; nothing elsewhere.
    """

    id: str
    run: str
    dice: tuple[DieFacts, ...]
    inexact: Fraction
    quoted: tuple[tuple[int, str, float], ...] = ()

    @property
    def name(self) -> str:
        """The run and the beginning of the id."""
        return f"{self.run}/{self.id[:8]}"

    def as_json(self) -> dict[str, Any]:
        """What is kept of it."""
        return {
            "id": self.id,
            "run": self.run,
            "dice": [die.to_form() for die in self.dice],
            "inexact": str(self.inexact),
        }

    @classmethod
    def from_json(cls, data: dict[str, Any]) -> ProductDesign:
        """What `as_json` wrote, with what is claimed of its costs; other keys are passed over.

        Raises LookupError, TypeError, ValueError or AttributeError for another form.
        """
        dice = tuple(DieFacts.from_form(one) for one in data["dice"])
        quoted = tuple(
            (int(one["sets"]), str(route["route"]), float(route["unit"]["likely"]))
            for one in data.get("quantities", ())
            for route in one["routes"]
        )
        return cls(data["id"], data["run"], dice, Fraction(data["inexact"]), quoted)


def job_of(question: Product, design: ProductDesign) -> SetJob:
    """A design as a job: what its cost rests on."""
    owned = dict(question.owned)
    dice = tuple(
        DieJob(
            solid=die.solid,
            count=die.count,
            faces=die.faces,
            marked=die.marked,
            marks=die.marks,
            characters=die.characters,
            slides=die.slides,
            inradius_mm=die.inradius_mm,
            area_mm2=die.area_mm2,
            volume_mm3=die.volume_mm3,
            owned=frozenset(owned.get(die.solid, ())),
        )
        for die in design.dice
    )
    make = question.make
    return SetJob(dice, make.colours, make.inks, make.core)


def without_quotes(design: ProductDesign) -> ProductDesign:
    """The design without what is claimed of its costs."""
    return replace(design, quoted=())
