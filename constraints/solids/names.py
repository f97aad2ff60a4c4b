"""Names of solids: which solid a face count stands for, and what a name that a person writes means.

Names and face counts only; the shapes themselves are elsewhere. The names stand in `catalogue.toml`.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from facewright.constraints.texts import TextError, quoted

LEAST_FACES = 2
"""A coin is the smallest die."""
MOST_FACES = 1000
"""The most faces that a named solid may have here."""

_CATALOGUE = Path(__file__).with_name("catalogue.toml")
_FAMILY_NAME = re.compile(r"(?:(?P<sides>[0-9]{1,4}) gonal|(?P<word>[a-z]+)) (?P<family>[a-z]+)")
_NUMBER = re.compile(r"d?([0-9]{1,4})")
_LOG_NAME = re.compile(r"(?:(?P<sides>[0-9]{1,4}) sided|(?P<word>[a-z]+)) log")


@dataclass(frozen=True)
class _Names:
    """The catalogue, ready to be asked."""

    faces: dict[str, int]
    default: dict[int, str]
    canonical: dict[str, str]
    families: dict[str, str]
    sides: dict[str, int]
    polygons: dict[int, str]


@lru_cache(maxsize=1)
def _names() -> _Names:
    with _CATALOGUE.open("rb") as file:
        data = tomllib.load(file)
    solids, families, polygons = data["solid"], data["family"], data["polygon"]
    return _Names(
        faces={s["name"]: s["faces"] for s in solids},
        default={s["faces"]: s["name"] for s in solids if s.get("default")},
        canonical={name: s["name"] for s in solids for name in (s["name"], *s.get("also", ()))},
        families={name: f["name"] for f in families for name in (f["name"], *f.get("also", ()))},
        sides={name: p["sides"] for p in polygons for name in (p["name"], *p.get("also", ()))},
        polygons={p["sides"]: p["name"] for p in polygons},
    )


def default_solid(faces: int) -> str:
    """The solid that a face count alone stands for.

    Raises ValueError below two faces.

    Example:
        >>> default_solid(20), default_solid(16), default_solid(14), default_solid(9)
        ('icosahedron', 'octagonal bipyramid', 'heptagonal trapezohedron', '9-sided log')
    """
    if faces < LEAST_FACES:
        raise ValueError(f"faces: at least {LEAST_FACES} are needed, found {faces}")
    if faces in _names().default:
        return _names().default[faces]
    if faces % 2:
        return f"{faces}-sided log"
    sides = faces // 2
    return _family_name(sides, "trapezohedron" if sides % 2 else "bipyramid")


def solid_named(text: str) -> tuple[str, int]:
    """The canonical name of a solid and its face count, from any of its names; capitals do not matter.

    Raises TextError (a ValueError) with the nearest names.

    Example:
        >>> solid_named("Hexahedron"), solid_named("8-gonal bipyramid")
        (('cube', 6), ('octagonal bipyramid', 16))
    """
    plain = _plain(text)
    names = _names()
    if plain in names.canonical:
        name = names.canonical[plain]
        return name, names.faces[name]
    of_family = _member(plain)
    if of_family is not None:
        return of_family
    if number := _NUMBER.fullmatch(plain):
        raise TextError(quoted(text), f"a face count without quotation marks, {number[1]}, or a solid's name")
    near = ", ".join(nearest_names(text))
    raise TextError(quoted(text), f"the name of a solid (nearest: {near}), or a face count such as 8")


def nearest_names(text: str, most: int = 3) -> tuple[str, ...]:
    """The canonical names that look most like the text, best first."""
    from difflib import get_close_matches

    names = _names()
    known = dict(names.canonical)
    for sides, polygon in names.polygons.items():
        known[f"{sides} sided log"] = f"{sides}-sided log"
        for written, family in names.families.items():
            known[f"{polygon} {written}"] = f"{polygon} {family}"
    close = get_close_matches(_plain(text)[:MOST_FACES], known, n=3 * most, cutoff=0.0)
    return tuple(dict.fromkeys(known[name] for name in close))[:most]


def _plain(text: str) -> str:
    """Lower case, one space between words and in place of hyphens."""
    return " ".join(re.sub(r"[-‐‑_]", " ", text.lower()).split())


def _member(plain: str) -> tuple[str, int] | None:
    """The member of a family that a name means, with its face count; None where it means none."""
    names = _names()
    log = _LOG_NAME.fullmatch(plain)
    member = log or _FAMILY_NAME.fullmatch(plain)
    if member is None:
        return None
    sides = int(member["sides"]) if member["sides"] else names.sides.get(member["word"], 0)
    family = None if log else names.families.get(member["family"])
    faces = sides if log else 2 * sides
    if sides < 3 or faces > MOST_FACES or (not log and family is None):
        return None
    return (f"{sides}-sided log" if family is None else _family_name(sides, family)), faces


def _family_name(sides: int, family: str) -> str:
    return f"{_names().polygons.get(sides, f'{sides}-gonal')} {family}"
