"""How large a die is made, by which route and of what; a size that cannot be made is refused with one that can."""

from __future__ import annotations

import math
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from facewright.constraints.errors import UsageError
from facewright.constraints.grammar import capital
from facewright.constraints.layout import Draw
from facewright.constraints.solids.sizes import both_units, inradius_mm, measures, size_mm
from facewright.search.make.dice import DieToMake

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Solid
    from facewright.search.artwork.sizes import Limit, Smallest

USUAL_MM = 16.0
"""Nobody wants dice smaller than this, across flats or high, though they could be made (common practice, no source)."""

SPAN_MM = 30.0
"""Unless they would be larger than this from tip to tip: a coin 16 mm thick is no coin (our choice)."""

LARGE_MM = 50.0
"""From tip to tip: a die whose numerals need more than this is for a table, not for a hand (our choice)."""

STEP_MM = 0.5
"""A size that nobody gave is rounded up to a multiple of this."""

SIZE_WORDS = {"edge": "along an edge", "height": "high"}
"""What a size measures, in words, where its key is none."""


@dataclass(frozen=True)
class Wishes:
    """What whoever makes it has said: size and what it measures (None: the brief's, or the smallest), paper, route.

    `route` is mould, cast, laser or print; `raised` asks for raised numerals, for mock-ups only.
    """

    size_mm: float | None = None
    size_is: str | None = None
    paper: str = "a4"
    route: str = "mould"
    raised: bool = False


@dataclass(frozen=True)
class Material:
    """What a route uses: its name, density in g/cm³, least and greatest shrinkage in per cent."""

    material: str
    density: float
    shrinkage: tuple[float, float]


@cache
def materials() -> dict[str, Material]:
    """The material of each route."""
    tables = tomllib.loads(Path(__file__).with_name("materials.toml").read_text(encoding="utf-8"))
    return {
        route: Material(one["material"], one["density"], tuple(one["shrinkage"]))
        for route, one in tables.items()
    }


@dataclass(frozen=True, eq=False)
class Sized:
    """A die with its size: `inradius_mm`, what was asked for, and what is smallest by its route."""

    die: DieToMake
    wishes: Wishes
    inradius_mm: float
    size_is: str
    least: Smallest

    @property
    def across(self) -> str:
        """The size, as it is measured."""
        return f"{both_units(self.size_mm(self.size_is))} {measured(self.size_is)}"

    @property
    def draw(self) -> Draw | None:
        """The draw that the brief asks for."""
        return None if self.die.question is None else self.die.question.draw

    @property
    def material(self) -> Material:
        """What its route uses."""
        return materials()[self.wishes.route]

    def size_mm(self, size_is: str) -> float:
        """Its size by any measure, in millimetres."""
        return size_mm(self.die.artwork.solid, self.inradius_mm, size_is)

    def remarks(self) -> list[str]:
        """What should be looked at because of the size."""
        body, said = self.die.artwork.solid, []
        small = [limit for limit in self.least.limits if limit.inradius_mm > self.inradius_mm * (1 + 1e-9)]
        for limit in small:
            needed = both_units(size_mm(body, limit.inradius_mm, self.size_is))
            said.append(f"Small to read: from {needed} {measured(self.size_is)} {limit.words}.")
        span = self.size_mm("tip-to-tip")
        if span > LARGE_MM:
            why = f"{capital(self.least.governs.words)}. Another design, solid or route may do with less."
            must_be = size_mm(body, self.least.inradius_mm, "tip-to-tip") > LARGE_MM
            said.append(f"Large: {both_units(span)} from tip to tip." + (f" {why}" if must_be else ""))
        return said


def measured(size_is: str) -> str:
    """What a size measures, in words."""
    return SIZE_WORDS.get(size_is, size_is.replace("-", " "))


def sized(die: DieToMake, wishes: Wishes) -> Sized:
    """A die in the size that is wished for, else the brief's, else the smallest that can be made and read.

    Raises: UsageError for a size at which its numerals cannot be made by that route, with the size that works.
    """
    from facewright.search.artwork.sizes import smallest

    body, question = die.artwork.solid, die.question
    least = smallest(die.artwork, wishes.route)
    size_is = wishes.size_is or (_usual_measure(body) if question is None else question.size_is)
    size = wishes.size_mm
    if size is None and question is not None and wishes.size_is in (None, question.size_is):
        size = question.size_mm
    if size is None:
        size = _up(max(size_mm(body, least.inradius_mm, size_is), _usual_mm(body, size_is)))
    lacking = [limit for limit in least.too_small(size, size_is) if limit.need != "eye"]
    if lacking:
        raise UsageError(_too_small(die, least, lacking, size, size_is))
    return Sized(die, wishes, inradius_mm(body, size, size_is), size_is, least)


def _too_small(die: DieToMake, least: Smallest, lacking: list[Limit], size: float, size_is: str) -> str:
    works = size_mm(die.artwork.solid, max(limit.inradius_mm for limit in lacking), size_is)
    return (
        f"size: found {size:g} mm {measured(size_is)} for die {die.positions[0]}, {least.route.name}; accepted: "
        f"{_up(works):g} mm or more ({lacking[0].words}), or another route"
    )


def _usual_measure(body: Solid) -> str:
    opposite = all(body.opposite[rest.below] is not None for rest in body.rests)
    return "across-flats" if opposite else "height"


def _usual_mm(body: Solid, size_is: str) -> float:
    """A usual size, by some measure, in millimetres."""
    known = measures(body)
    inradius = min(USUAL_MM / known[_usual_measure(body)], SPAN_MM / known["tip-to-tip"])
    return inradius * known[size_is]


def _up(mm: float) -> float:
    return math.ceil(round(mm / STEP_MM, 6)) * STEP_MM
