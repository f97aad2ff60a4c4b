"""What a mould and a tumbling barrel allow, read from `moulding.toml`, or from a copy of it with other values."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, fields
from functools import cache
from pathlib import Path

from facewright.constraints.errors import UsageError

SHIPPED = Path(__file__).with_name("moulding.toml")
"""The values that hold unless others are given."""


@dataclass(frozen=True)
class Release:
    """Angles between a face's normal and the draw, in degrees, up to which a recess leaves the mould."""

    free_to_deg: float
    stripped_to_deg: float


@dataclass(frozen=True)
class Recess:
    """How a recess is rounded, in millimetres."""

    floor_mm: float


@dataclass(frozen=True)
class Rounding:
    """How edges and vertices are rounded; what each value means stands beside it in the file."""

    edge_of_inradius: float
    edge_least_mm: float
    vertex_least_mm: float
    most_of_margin: float
    sharp_below_deg: float


@dataclass(frozen=True)
class Moulding:
    """All values of the file."""

    release: Release
    recess: Recess
    rounding: Rounding


@cache
def moulding(path: Path = SHIPPED) -> Moulding:
    """The values of a file.

    Raises: UsageError for a file that cannot be read, a value that is missing, no number or not positive, or a
    stranger.
    """
    try:
        table = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as wrong:
        raise UsageError(f"{path}: {wrong}; accepted: a copy of moulding.toml with other values") from wrong
    kinds = (Release, Recess, Rounding)
    parts = {field.name: kind for field, kind in zip(fields(Moulding), kinds, strict=True)}
    if set(table) != set(parts):
        raise UsageError(
            f"{path}: found the parts {', '.join(table) or 'none'}; accepted: {', '.join(parts)}"
        )
    made = {}
    for name, kind in parts.items():
        wanted = [field.name for field in fields(kind)]
        if not isinstance(table[name], dict):
            raise UsageError(f"{path}: {name}: found {table[name]!r}; accepted: a table")
        if set(table[name]) != set(wanted):
            found = ", ".join(table[name]) or "nothing"
            raise UsageError(f"{path}: {name}: found {found}; accepted: {', '.join(wanted)}")
        for key, value in table[name].items():
            if isinstance(value, bool) or not isinstance(value, int | float) or not 0 < value < float("inf"):
                raise UsageError(f"{path}: {name}.{key}: found {value!r}; accepted: a number above 0")
        made[name] = kind(**table[name])
    return Moulding(**made)
