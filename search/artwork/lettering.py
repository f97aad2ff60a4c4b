"""How labels are drawn: figures and words from a font, pips, pictures, and the line that tells a 6 from a 9."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from facewright.constraints.errors import UsageError
from facewright.constraints.readouts import Label
from facewright.search.artwork.badges import badged, extent_of
from facewright.search.artwork.glyphs import joined, missing, outlines
from facewright.search.artwork.marks import Ring
from facewright.search.artwork.pictures import picture

LINE, LINE_GAP = 0.15, 0.12
"""The line below a label that could be read upside down, and the space above it, over the height of the figures."""

DOT = 0.2
"""The dot in place of that line, over the height of the figures."""

PIP = 0.24
"""The diameter of a pip over the height of the pattern."""

MOST_PIPS = 9
"""More pips than these cannot be told at a glance."""

MARKINGS = ("line", "dot", "none")
"""How a label that could be read upside down is marked."""

_PATTERNS = (
    "... ... ...",
    "... .o. ...",
    "..o ... o..",
    "..o .o. o..",
    "o.o ... o.o",
    "o.o .o. o.o",
    "o.o o.o o.o",
    "o.o ooo o.o",
    "ooo o.o ooo",
    "ooo ooo ooo",
)
"""The rows of each number of pips, from the top."""


@dataclass(frozen=True)
class Lettering:
    """How the labels of a die are drawn.

    `font` is a TrueType or OpenType file, None the usual one. With `pips` numbers from 1 to 9 are pips, and 0 is a
    blank. `pictures` gives labels, as text, an outline of their own: an SVG file, or the path data of one (the `d` of
    a path). `marking` is one of `MARKINGS`.
    """

    font: Path | None = None
    pips: bool = False
    pictures: tuple[tuple[str, Path | str], ...] = ()
    marking: str = "line"

    def __post_init__(self) -> None:
        if self.marking not in MARKINGS:
            raise UsageError(f"marking: found {self.marking!r}; accepted: {', '.join(MARKINGS)}")

    @classmethod
    def of(cls, pictures: Mapping[str, Path | str], **others: bool | str | Path | None) -> Lettering:
        """The lettering with pictures given as a dictionary."""
        return cls(pictures=tuple(pictures.items()), **others)  # type: ignore[arg-type]

    def outline(self, label: Label, *, marked: bool = False) -> tuple[Ring, ...]:
        """What is drawn for a label: closed rings for the even-odd rule, one unit high about the origin.

        Params:
            label: a number or a word; 0 is a blank where there are pips, "" always.
            marked: whether it needs a mark that says which way is up.
        Raises: UsageError where the font lacks a character or a picture cannot be read.
        """
        given = dict(self.pictures).get(str(label))
        if given is not None:
            return picture(given)
        if self.pips and isinstance(label, int) and 0 <= label <= MOST_PIPS:
            return pips(label)
        absent = missing(str(label), self.font) if self.font else ""
        if absent:
            raise UsageError(
                f"font {self.font}: found no {absent!r}, needed for {label!r}; accepted: one that has it"
            )
        plain = outlines(str(label), self.font)
        if self.font:
            # fonts fill by the non-zero rule, and parts of a character may overlap
            plain = joined(plain)
        return underlined(plain, self.marking) if marked and plain else plain

    @property
    def flag_on_one(self) -> bool:
        """Whether a 1 looks different upside down: measured in the font, it is more than a plain bar."""
        return self.font is None or not _plain_bar("1", self.font)

    def drawn(self, label: Label) -> bool:
        """Whether a label is written in characters, which could be read upside down; pips and pictures are not."""
        pipped = self.pips and isinstance(label, int) and 0 <= label <= MOST_PIPS
        return str(label) not in dict(self.pictures) and not pipped


USUAL = Lettering()
"""The usual font, a line below what could be read upside down."""


@lru_cache(maxsize=16)
def pips(many: int) -> tuple[Ring, ...]:
    """A pattern of pips one unit high: three columns, as on a domino, no pattern like another under a half turn.

    Params:
        many: 0, a blank, to 9.
    """
    if not 0 <= many <= MOST_PIPS:
        raise ValueError(f"pips: found {many}; accepted: 0 to {MOST_PIPS}")
    step = (1 - PIP) / 2
    return tuple(
        _disc((column - 1) * step, (1 - row) * step, PIP / 2)
        for row, held in enumerate(_PATTERNS[many].split())
        for column, pip in enumerate(held)
        if pip == "o"
    )


def _disc(x: float, y: float, radius: float, corners: int = 32) -> Ring:
    turns = (math.tau * corner / corners for corner in range(corners))
    return tuple((x + radius * math.cos(turn), y + radius * math.sin(turn)) for turn in turns)


@lru_cache(maxsize=4096)
def underlined(rings: tuple[Ring, ...], marking: str = "line") -> tuple[Ring, ...]:
    """Outlines with the line below them, or a dot on the right of their foot, that says which way is up."""
    if marking == "none":
        return rings
    left, low, right, _ = extent_of(rings)
    if marking == "dot":
        reach = right + LINE_GAP + DOT
        moved = tuple(tuple((x - (reach + left) / 2, y) for x, y in ring) for ring in rings)
        return (*moved, _disc(reach - DOT / 2 - (reach + left) / 2, low + DOT / 2, DOT / 2))
    head, foot = low - LINE_GAP, low - LINE_GAP - LINE
    return (*rings, ((left, foot), (right, foot), (right, head), (left, head)))


@lru_cache(maxsize=64)
def says_up(readout: int | None) -> bool:
    """Whether the badge of a readout tells by itself which way is up, as a gable above or a hull below does."""
    ink = outlines("8")
    _, low, _, high = extent_of(badged(ink, readout))
    _, plain_low, _, plain_high = extent_of(ink)
    return abs((high - plain_high) - (plain_low - low)) > 0.1


@lru_cache(maxsize=64)
def _plain_bar(text: str, font: Path) -> bool:
    """Whether a text is one stroke without anything to its sides: it all but fills the convex outline about it."""
    from shapely import MultiPoint, Polygon

    rings = joined(outlines(text, font))
    area = sum(Polygon(ring).area for ring in rings)
    return len(rings) == 1 and area > 0.95 * MultiPoint(rings[0]).convex_hull.area
