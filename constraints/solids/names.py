"""Names of solids: which solid a face count stands for, and what a name that a person writes means.

Names and face counts only; the shapes themselves are elsewhere in this package. All stand in `catalogue.toml`.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

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
    entries: dict[str, dict[str, Any]]


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
        entries={entry["name"]: entry for entry in (*solids, *families)},
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
    return member_name(sides, "trapezohedron" if sides % 2 else "bipyramid")


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
            if _has(family, sides):
                known[f"{polygon} {written}"] = member_name(sides, family)
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
    family = "log" if log else names.families.get(member["family"])
    if family is None or not _has(family, sides):
        return None
    faces = faces_of(family, sides)
    return (member_name(sides, family), faces) if faces <= MOST_FACES else None


def _has(family: str, sides: int) -> bool:
    """Whether a family has a member with so many sides."""
    even = family != "log" and _names().entries[family].get("even", False)
    return sides >= 4 and sides % 2 == 0 if even else sides >= 3


def faces_of(family: str, sides: int) -> int:
    """How many faces, ends apart, a member of a family has: a log one for each side, others two."""
    return sides if family == "log" else 2 * sides


def member_name(sides: int, family: str) -> str:
    """The canonical name of a family's member.

    Example:
        >>> member_name(13, "bipyramid"), member_name(4, "scalenohedron"), member_name(3, "log")
        ('13-gonal bipyramid', 'tetragonal scalenohedron', '3-sided log')
    """
    if family == "log":
        return f"{sides}-sided log"
    names = _names()
    words: dict[str, str] = names.entries[family].get("words", {})
    return f"{words.get(str(sides)) or names.polygons.get(sides, f'{sides}-gonal')} {family}"


def family_member(name: str) -> tuple[str, int] | None:
    """The family and the number of sides that a canonical name means; None for a solid of its own.

    Example:
        >>> family_member("13-gonal bipyramid"), family_member("cube")
        (('bipyramid', 13), None)
    """
    if name in _names().faces:
        return None
    member = _member(_plain(name))
    if member is None:
        return None
    family = name.rpartition(" ")[2]
    return family, member[1] if family == "log" else member[1] // 2


def entry_of(name: str) -> dict[str, Any]:
    """The catalogue's table for a solid, or for the family of a member; empty for logs, which need none."""
    member = family_member(name)
    return _names().entries.get(member[0] if member else name, {})


def other_names(name: str) -> tuple[str, ...]:
    """Synonyms of a solid of its own; for a member of a family none, since words and numbers multiply them."""
    return () if family_member(name) else tuple(entry_of(name).get("also", ()))


def solid_names(sides: int) -> tuple[str, ...]:
    """The canonical names of all solids of their own, and of each family's members up to so many sides."""
    names = _names()
    families = (*(entry for entry in names.entries if entry not in names.faces), "log")
    members = [
        member_name(many, family) for family in families for many in range(3, sides + 1) if _has(family, many)
    ]
    return (*names.faces, *members)
