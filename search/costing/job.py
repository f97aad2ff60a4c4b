"""What is to be made: the dice of a set, with all that costs rest on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class DieJob:
    """One kind of die in a set.

    `count` dice of it in a set. `faces` of its solid, `marked` of them carry marks; `marks` and `characters` on all
    faces; `slides` marks that leave a mould only with a slide. Lengths in mm, area in mm² seen along the mould's draw,
    volume in mm³. `owned`: what the maker has for this solid, some of "mould", "master", "blanks".
    """

    solid: str
    count: int
    faces: int
    marked: int
    marks: int
    characters: int
    slides: int
    inradius_mm: float
    area_mm2: float
    volume_mm3: float
    owned: frozenset[str] = frozenset()


@dataclass(frozen=True)
class SetJob:
    """A set: its kinds of dice, its colours and inks; `core`: whether a core moulded first may be tried."""

    dice: tuple[DieJob, ...]
    colours: int = 1
    inks: int = 1
    core: bool = False

    @property
    def different(self) -> int:
        """How many kinds of dice it has."""
        return len(self.dice)

    @property
    def many(self) -> int:
        """How many dice it has."""
        return sum(die.count for die in self.dice)

    @property
    def volume_mm3(self) -> float:
        """The volume of all its dice."""
        return sum(die.count * die.volume_mm3 for die in self.dice)


def named(dice: Sequence[DieJob]) -> str:
    """The solids of some dice, each once, as they follow each other."""
    return ", ".join(dict.fromkeys(die.solid for die in dice))
