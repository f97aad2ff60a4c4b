"""The smallest size of a die: at which its numerals can be made by a route, and at which they can be read."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields
from functools import cache
from pathlib import Path
from typing import Any

from facewright.constraints.errors import UsageError
from facewright.constraints.solids.sizes import both_units, inradius_mm, size_mm
from facewright.search.artwork.badges import shape_of
from facewright.search.artwork.marks import Artwork, Mark
from facewright.search.artwork.strokes import Fineness, fineness

SHIPPED = Path(__file__).with_name("making.toml")
"""The facts that hold unless a user passes others."""


@dataclass(frozen=True)
class Route:
    """A way of making: its name, and the least stroke, island and recess of a numeral, in millimetres.

    `wide_over_deep` is the narrowest stroke over the depth of its recess.
    """

    name: str
    stroke: float
    island: float
    recess: float
    wide_over_deep: float


@dataclass(frozen=True)
class Eye:
    """What reading needs: the distance in millimetres, and heights of characters in minutes of arc."""

    distance: float
    least_minutes: float
    good_minutes: float
    best_minutes: float


@dataclass(frozen=True)
class Making:
    """The routes by their keys, and the eye."""

    routes: tuple[tuple[str, Route], ...]
    eye: Eye

    def route(self, key: str) -> Route:
        """A route by its key; raises UsageError for one that there is not."""
        known = dict(self.routes)
        if key not in known:
            raise UsageError(f"route: found {key!r}; accepted: {', '.join(known)}")
        return known[key]


@dataclass(frozen=True)
class Limit:
    """What one need asks: its name, the least inradius in millimetres, and the words for it."""

    need: str
    inradius_mm: float
    words: str


@dataclass(frozen=True)
class Smallest:
    """How small a die may be, made by one route and read from one distance.

    `limits` are all needs, the one that asks for most first: that one governs. Lengths in millimetres.
    """

    artwork: Artwork
    route: Route
    distance: float
    limits: tuple[Limit, ...]

    @property
    def governs(self) -> Limit:
        """The need that asks for the largest die."""
        return self.limits[0]

    @property
    def inradius_mm(self) -> float:
        """The smallest inradius."""
        return self.governs.inradius_mm

    def size_mm(self, size_is: str = "across-flats") -> float:
        """The smallest size, as it is measured."""
        return size_mm(self.artwork.solid, self.inradius_mm, size_is)

    def too_small(self, size: float, size_is: str = "across-flats") -> tuple[Limit, ...]:
        """The needs that a die of a size, in millimetres, does not meet."""
        inradius = inradius_mm(self.artwork.solid, size, size_is)
        return tuple(limit for limit in self.limits if limit.inradius_mm > inradius * (1 + 1e-9))

    def words(self, size_is: str = "across-flats") -> str:
        """What governs, in a sentence, then what the other of making and reading would ask for."""
        solid = self.artwork.solid

        def said(limit: Limit) -> str:
            return both_units(size_mm(solid, limit.inradius_mm, size_is))

        first = self.governs
        other = next(one for one in self.limits if (one.need == "eye") != (first.need == "eye"))
        reading = "making" if first.need == "eye" else "reading"
        return (
            f"At least {said(first)} {size_is.replace('-', ' ')} ({solid.name}, {self.route.name}): {first.words}. "
            f"For {reading} alone {said(other)} would do: {other.words}."
        )


def smallest(
    artwork: Artwork,
    route: str = "mould",
    *,
    distance: float | None = None,
    minutes: float | None = None,
    making: Making | None = None,
) -> Smallest:
    """The smallest die that carries an artwork.

    Params:
        artwork: the solid and what stands on it.
        route: how it is made, a key of `making.routes`: mould, cast, laser, print.
        distance: from the eye, in millimetres.
        minutes: the least height of characters, in minutes of arc.
        making: the facts; without them the shipped ones.
    Raises: UsageError where nothing stands on the solid, or for an unknown route.
    """
    if not artwork.marks:
        raise UsageError(f"artwork: found a {artwork.solid.name} without marks; accepted: at least one")
    facts = making or load_making()
    way = facts.route(route)
    away = facts.eye.distance if distance is None else distance
    arc = facts.eye.least_minutes if minutes is None else minutes
    measured = [(mark, fineness(shape_of(mark))) for mark in artwork.marks]
    limits = [*_made(measured, way), _read(artwork.marks, away, arc)]
    return Smallest(artwork, way, away, tuple(sorted(limits, key=lambda one: -one.inradius_mm)))


def character_height_mm(distance: float, minutes: float) -> float:
    """How high a character must be to appear under an angle: 2·d·tan(α/2).

    Params:
        distance: from the eye, in millimetres.
        minutes: the angle, in minutes of arc.

    Example:
        >>> round(character_height_mm(500, 16), 2), round(character_height_mm(500, 20), 2)
        (2.33, 2.91)
    """
    return 2 * distance * math.tan(math.radians(minutes / 60) / 2)


def _made(measured: Sequence[tuple[Mark, Fineness]], way: Route) -> Iterator[Limit]:
    """What stroke, recess and island ask for; each by the mark that asks for most."""
    by_stroke = min(measured, key=lambda one: one[0].height * one[1].stroke)
    stroke = by_stroke[0].height * by_stroke[1].stroke
    narrow = f"the narrowest stroke, of {_named(by_stroke[0])}, is {by_stroke[1].stroke:.2f} of its height"
    yield Limit("stroke", way.stroke / stroke, f"{narrow}, and must be {way.stroke:g} mm wide")
    wide = way.wide_over_deep * way.recess
    deep = f"{wide:g} mm wide for a recess {way.recess:g} mm deep"
    yield Limit("recess", wide / stroke, f"{narrow}, and must be {deep}")
    by_island = min(measured, key=lambda one: one[0].height * one[1].island)
    if math.isfinite(by_island[1].island):
        island = by_island[0].height * by_island[1].island
        small = (
            f"the smallest island, within {_named(by_island[0])}, is {by_island[1].island:.2f} of its height"
        )
        yield Limit("island", way.island / island, f"{small}, and must be {way.island:g} mm across")


def _read(marks: Sequence[Mark], distance: float, minutes: float) -> Limit:
    needed = character_height_mm(distance, minutes)
    words = f"characters {both_units(needed)} high are read at {distance:g} mm ({minutes:g} minutes of arc)"
    return Limit("eye", needed / min(mark.height for mark in marks), words)


def _named(mark: Mark) -> str:
    return f"“{mark.text}”" if mark.readout is None else f"the badged “{mark.text}”"


def load_making(path: str | Path | None = None) -> Making:
    """The facts in a file, or the shipped ones; what a file leaves out keeps its shipped value.

    A file may add routes of its own, with all five values each. Raises UsageError for a file that cannot be used.
    """
    return _shipped() if path is None else _made_of(_read_file(Path(path)), str(path), _tables(SHIPPED))


@cache
def _shipped() -> Making:
    return _made_of({}, str(SHIPPED), _tables(SHIPPED))


def _tables(path: Path) -> dict[str, dict[str, Any]]:
    return tomllib.loads(path.read_text(encoding="utf-8"))


def _read_file(path: Path) -> dict[str, Any]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise UsageError(f"{path}: found {error}; accepted: a TOML file with facts of making") from None


def _made_of(stated: dict[str, Any], where: str, known: dict[str, dict[str, Any]]) -> Making:
    """The facts of the shipped tables with those of a file over them."""
    for name, table in stated.items():
        if not isinstance(table, dict):
            raise UsageError(f"{where}: {name}: found {table!r}; accepted: a table [{name}]")
        known[name] = {**known.get(name, {}), **table}
    values = {
        name: _checked(table, Eye if name == "eye" else Route, f"{where}: {name}")
        for name, table in known.items()
    }
    eye = Eye(**values.pop("eye"))
    return Making(tuple((name, Route(**table)) for name, table in values.items()), eye)


def _checked(table: dict[str, Any], kind: type[Route | Eye], where: str) -> dict[str, Any]:
    keys = {one.name: one.type for one in fields(kind)}
    for key, value in table.items():
        if key not in keys:
            raise UsageError(f"{where}.{key}: found an unknown key; accepted: {', '.join(keys)}")
        text = keys[key] == "str"
        number = isinstance(value, int | float) and not isinstance(value, bool) and 0 < value < math.inf
        if not (isinstance(value, str) if text else number):
            raise UsageError(
                f"{where}.{key}: found {value!r}; accepted: {'a text' if text else 'a number above 0'}"
            )
    absent = [key for key in keys if key not in table]
    if absent:
        raise UsageError(f"{where}: found no {absent[0]}; accepted: {', '.join(keys)}")
    return table
