"""What a score is made of, and the settings that all scores share: one TOML file that a user may copy."""

from __future__ import annotations

import math
import re
import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, fields
from difflib import get_close_matches
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple, Protocol

from facewright.constraints.design import NumberingDesign
from facewright.constraints.errors import BriefRefused, Fault

SHIPPED = Path(__file__).with_name("scores.toml")
"""The settings that hold unless a user passes others."""


class Part(NamedTuple):
    """One part of a score: `share` runs from 0 to 1, the best; `words` says it to a person.

    `counts` is what the part adds to its score: of the 100 that the parts of a score share out, or in points.
    """

    name: str
    share: float
    words: str
    counts: float


class Score(Protocol):
    """One way to judge a design; `copies` says, a die, how many faces of its solid carry each label."""

    name: str

    def value(self, design: NumberingDesign, copies: Sequence[int]) -> int | float:
        """What the parts count, added and rounded: the score as it is shown."""
        ...

    def parts(self, design: NumberingDesign, copies: Sequence[int]) -> tuple[Part, ...]:
        """What the score is made of, each part with its words."""
        ...


def rounded(value: float, digits: int = 0) -> float:
    """A value with so many decimals, halves rounded up, the same in whatever order it was added together."""
    scale = 10.0**digits
    return math.floor(round(value * scale, 6) + 0.5) / scale


def _at_most(limit: float) -> Any:
    return field(metadata={"most": limit})


@dataclass(frozen=True)
class Characters:
    """How labels are drawn; lengths in units of a figure's height."""

    flag_on_one: bool
    mark_alone: bool
    width: float = _at_most(3.0)
    spacing: float = _at_most(3.0)


@dataclass(frozen=True)
class Reading:
    """How large the dice are and from where they are read: millimetres, and minutes of arc for a character's height."""

    tip_to_tip: float
    distance: float
    least_minutes: float
    good_minutes: float


@dataclass(frozen=True)
class Seeing:
    """What a finished die needs besides, to be read: strokes over the least height, a ratio of contrast, shares.

    `apart` is what a set loses at most whose dice can be told apart by colour alone.
    """

    dark_stroke: float = _at_most(1.0)
    light_stroke: float = _at_most(1.0)
    contrast: float = _at_most(21.0)
    apart: float = _at_most(1.0)


@dataclass(frozen=True)
class LegibleWeights:
    """What counts how much in `legible`."""

    long_labels: float
    numeral_size: float
    character_height: float
    upside_down: float


@dataclass(frozen=True)
class FamiliarWeights:
    """What counts how much in `familiar`."""

    gaps: float
    repeats: float
    range: float
    below_one: float
    expected: float


@dataclass(frozen=True)
class Shape:
    """How single dice are judged in `familiar`, and how dice are put together."""

    even_spacing: float = _at_most(1.0)
    even_repeats: float = _at_most(1.0)
    zero: float = _at_most(1.0)
    negative: float = _at_most(1.0)
    hardest_die: float = _at_most(1.0)


@dataclass(frozen=True)
class ReadabilityWeights:
    """What counts how much in `readability`."""

    legible: float
    familiar: float


@dataclass(frozen=True)
class Points:
    """What one of each costs, in points."""

    different_die: float
    glyph: float
    character: float
    mark: float
    face: float


@dataclass(frozen=True)
class Settings:
    """All that the scores rest on; what each value rests on is said beside it in `scores.toml`."""

    characters: Characters
    reading: Reading
    seeing: Seeing
    legible: LegibleWeights
    familiar: FamiliarWeights
    shape: Shape
    readability: ReadabilityWeights
    cost: Points


TABLES: dict[str, type[Any]] = {
    "characters": Characters,
    "reading": Reading,
    "seeing": Seeing,
    "legible": LegibleWeights,
    "familiar": FamiliarWeights,
    "shape": Shape,
    "readability": ReadabilityWeights,
    "cost": Points,
}
WEIGHTS = ("legible", "familiar", "readability")
"""The tables whose values are weights: they may not all be 0."""


def load_scores(path: str | Path | None = None) -> Settings:
    """The settings in a file, or the shipped ones; what a file leaves out keeps its shipped value.

    Raises BriefRefused, with every fault of the file at once, for a file that is missing, is not TOML, or
    holds unknown keys, wrong types or values out of range.
    """
    shipped = _shipped()
    return shipped if path is None else _read(Path(path), _values(shipped))


@cache
def _shipped() -> Settings:
    return _read(SHIPPED, {name: {} for name in TABLES})


def _values(settings: Settings) -> dict[str, dict[str, Any]]:
    return {name: dict(vars(getattr(settings, name))) for name in TABLES}


def _read(path: Path, values: dict[str, dict[str, Any]]) -> Settings:
    try:
        text = path.read_text(encoding="utf-8")
        data = tomllib.loads(text)
    except (OSError, UnicodeDecodeError) as error:
        found = getattr(error, "strerror", None) or "a file that is not UTF-8 text"
        raise BriefRefused(str(path), (Fault(0, "file", found, "a TOML file with settings"),)) from None
    except tomllib.TOMLDecodeError as error:
        raise BriefRefused(str(path), (Fault(0, "file", f"no TOML: {error}", "TOML"),)) from None
    faults = tuple(_faults(data, text, values))
    if faults:
        raise BriefRefused(str(path), faults)
    return Settings(**{name: kind(**values[name]) for name, kind in TABLES.items()})


def _faults(data: dict[str, Any], text: str, values: dict[str, dict[str, Any]]) -> Iterator[Fault]:
    """Puts what a file says into `values`, and names what cannot be used."""
    for name, table in data.items():
        if name not in TABLES:
            yield Fault(_line(text, "", name), name, "an unknown table or key", _known(name, TABLES))
        elif not isinstance(table, dict):
            yield Fault(_line(text, "", name), name, repr(table), f"a table [{name}]")
        else:
            yield from _faults_of(name, table, text, values[name])
    for name in WEIGHTS:
        weights = values[name].values()
        if weights and all(isinstance(weight, int | float) and not weight for weight in weights):
            yield Fault(_line(text, "", name), name, "weights that are all 0", "at least one above 0")


def _faults_of(name: str, table: dict[str, Any], text: str, values: dict[str, Any]) -> Iterator[Fault]:
    known = {one.name: one for one in fields(TABLES[name])}
    for key, value in table.items():
        where = (_line(text, name, key), f"{name}.{key}")
        if key not in known:
            yield Fault(*where, "an unknown key", _known(key, known))
            continue
        most = known[key].metadata.get("most", math.inf)
        if known[key].type == "bool":
            right, accepted = isinstance(value, bool), "true or false"
        else:
            number = isinstance(value, int | float) and not isinstance(value, bool)
            right = number and math.isfinite(value) and 0 <= value <= most
            accepted = "a number of at least 0" if most == math.inf else f"a number from 0 to {most:g}"
        if right:
            values[key] = value
        else:
            yield Fault(*where, repr(value), accepted)


def _known(name: str, names: dict[str, Any]) -> str:
    near = get_close_matches(name, names, n=1)
    return f"{near[0]}?" if near else ", ".join(names)


def _line(text: str, table: str, key: str) -> int:
    """The line on which a key of a table, or a table itself, stands; 0 where it is written in another way."""
    inside = ""
    for number, line in enumerate(text.splitlines(), 1):
        heading = re.match(r"\s*\[\s*([\w-]+)\s*\]", line)
        if heading:
            inside = heading[1]
            if not table and inside == key:
                return number
        elif inside == table and re.match(rf"\s*{re.escape(key)}\s*=", line):
            return number
    return 0
