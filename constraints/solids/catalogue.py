"""Builds the solids of `catalogue.toml`: named ones, members of families, logs and the coin."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

import numpy as np
from facewright.constraints.solids.aims import AIMS, Polygon, Proportion, best_proportions
from facewright.constraints.solids.assembly import assemble
from facewright.constraints.solids.expressions import value
from facewright.constraints.solids.groups import point_group
from facewright.constraints.solids.logs import LEAST_LENGTH, MOST_LENGTH, coin, log, log_length
from facewright.constraints.solids.names import entry_of, family_member, solid_named, solid_names
from facewright.constraints.solids.orbit import face_polygon, orbit, polar_dual
from facewright.constraints.solids.solid import Solid
from facewright.constraints.texts import TextError, quoted
from numpy.typing import NDArray

MOST_RESTS = 120
"""The most rests of a solid that is built: past them a die is a ball."""

Shape = str | float | Sequence[float]
_LENGTH = Proportion("length", LEAST_LENGTH, MOST_LENGTH)


def build(name: str, shape: Shape = AIMS[0]) -> Solid:
    """A solid by any of its names; each is built once.

    Params:
        name: a name, also of a member of a family.
        shape: for free proportions an aim or numbers; with fewer numbers than proportions the others are those of the
            default aim. A solid without free proportions takes any aim, but no numbers.
    Raises: TextError for a name that no solid has, too many faces, or a shape out of range.
    """
    canonical, faces = solid_named(name)
    if faces > MOST_RESTS:
        raise TextError(f"{quoted(canonical)} with {faces} faces", f"a solid with at most {MOST_RESTS} faces")
    if isinstance(shape, str):
        if shape not in AIMS:
            raise TextError(quoted(shape), f"shape: {', '.join(AIMS)} or a number")
        return _built(canonical, shape)
    numbers = tuple(float(number) for number in ([shape] if isinstance(shape, int | float) else shape))
    return _built(canonical, _checked(canonical, numbers))


def proportions_of(name: str) -> tuple[Proportion, ...]:
    """The free proportions of a solid, by its canonical name; none for most."""
    if name == "coin":
        return ()
    member = family_member(name)
    if member is not None and member[0] == "log":
        return (_LENGTH,)
    sides = member[1] if member else 0
    return tuple(_proportion(table, sides) for table in entry_of(name).get("shape", ()))


def proportions_for(name: str, aim: str) -> tuple[float, ...]:
    """The free proportions of a solid that serve an aim, from the catalogue where it has them, else searched.

    A log lies as firmly whatever its length, so that both aims give the length that suits its numerals.
    """
    member = family_member(name)
    if member is not None and member[0] == "log":
        return (log_length(member[1]),)
    known = entry_of(name).get("found", {}).get(aim)
    if member is not None and known is not None:
        known = known.get(str(member[1]))
    return tuple(known) if known is not None else searched(name, aim)


@lru_cache(maxsize=512)
def searched(name: str, aim: str) -> tuple[float, ...]:
    """The free proportions of a solid that serve an aim, searched anew."""
    free = proportions_of(name)
    return best_proportions(aim, free, lambda numbers: _face(name, numbers)) if free else ()


def listed(sides: int = 12, faces: int | None = None) -> tuple[str, ...]:
    """The names of the catalogue's solids that can be built, by their number of rests.

    Params:
        sides: the most sides of the polygons of families.
        faces: only solids with so many rests.
    """
    names = ((name, solid_named(name)[1]) for name in solid_names(sides))
    fitting = [(many, name) for name, many in names if many <= MOST_RESTS and faces in (None, many)]
    return tuple(name for _, name in sorted(fitting, key=lambda pair: pair[0]))


@lru_cache(maxsize=512)
def _built(name: str, shape: str | tuple[float, ...]) -> Solid:
    free = proportions_of(name)
    numbers = shape if isinstance(shape, tuple) else proportions_for(name, shape) if free else ()
    named = {proportion.name: number for proportion, number in zip(free, numbers, strict=True)}
    if name == "coin":
        return assemble(name, *coin())
    member = family_member(name)
    if member is not None and member[0] == "log":
        return assemble(name, *log(member[1], *numbers), named)
    return assemble(name, *polar_dual(orbit(*_construction(name, numbers))), named)


def _face(name: str, numbers: tuple[float, ...]) -> Polygon:
    """A rest's face of a solid with given proportions, in inradii."""
    member = family_member(name)
    if member is not None and member[0] == "log":
        vertices, faces = log(member[1], *numbers)
        return vertices[faces[0]]
    matrices, seed = _construction(name, numbers)
    return face_polygon(orbit(matrices, seed).normals)


def _construction(name: str, numbers: Sequence[float]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """A solid's group, as matrices, and its seed."""
    entry, member = entry_of(name), family_member(name)
    names = {table["name"]: number for table, number in zip(entry.get("shape", ()), numbers, strict=True)}
    sides = member[1] if member else 0
    group = entry["group"].format(n=sides, h=sides // 2)
    return point_group(group), np.array([value(text, {**names, "n": float(sides)}) for text in entry["seed"]])


def _proportion(table: Mapping[str, Any], sides: int) -> Proportion:
    barred = table.get("barred") or table.get("barred_at", {}).get(str(sides))
    return Proportion(table["name"], table["least"], table["most"], None if barred is None else value(barred))


def _checked(name: str, numbers: tuple[float, ...]) -> tuple[float, ...]:
    """All free proportions, from those given."""
    free = proportions_of(name)
    if len(numbers) > len(free) or not numbers:
        said = re.sub(r"\.0\b", "", ", ".join(map(str, numbers))) or "no number"
        accepted = f"at most {len(free)} numbers" if free else f"no number: {name} has no free proportion"
        raise TextError(f"shape {said}", accepted)
    for number, proportion in zip(numbers, free, strict=False):
        if not proportion.least <= number <= proportion.most:
            raise TextError(
                f"{proportion.name} {number:g} for {name}",
                f"from {proportion.least:g} to {proportion.most:g}",
            )
    if len(numbers) == len(free):
        return numbers
    return numbers + proportions_for(name, AIMS[0])[len(numbers) :]
