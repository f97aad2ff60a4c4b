"""What a set asks of its maker, in points: dice that differ, characters drawn and cut, marks, faces."""

from __future__ import annotations

from collections.abc import Sequence
from operator import mul

from facewright.constraints.design import NumberingDesign
from facewright.search.report.readability import drawn
from facewright.search.report.scores import Part, Settings, rounded

GLYPHS = 11
"""The characters that a label can be written with: ten figures and the minus sign."""


class Cost:
    """The points that one set costs; fewer are better.

    Points compare designs of one run with each other; they are no money. Equal dice share their artwork; a
    solid with `copies` times as many faces as its die has labels has each label cut so many times.
    """

    name = "cost"
    names = ("different dice", "characters to draw", "characters to cut", "marks to cut", "faces to turn to")

    def __init__(self, settings: Settings) -> None:
        self._drawing = settings.characters
        cost = settings.cost
        self._points = (cost.different_die, cost.glyph, cost.character, cost.mark, cost.face)

    def value(self, design: NumberingDesign, copies: Sequence[int]) -> float:
        """Points with one decimal."""
        return rounded(sum(map(mul, self._counts(design, copies), self._points)), 1)

    def parts(self, design: NumberingDesign, copies: Sequence[int]) -> tuple[Part, ...]:
        """Different dice, characters to draw, characters to cut, marks, faces: each with its points."""
        counts = different, glyphs, characters, marks, faces = self._counts(design, copies)
        labels = sum(len(die.labels) for die in design.dice)
        shares = (
            1 / different,
            1 - (glyphs - 1) / GLYPHS,
            faces / characters,
            1 - marks / faces,
            labels / faces,
        )
        points = [many * each for many, each in zip(counts, self._points, strict=True)]
        words = [f"{many}, {one:.1f} points" for many, one in zip(counts, points, strict=True)]
        return tuple(map(Part, self.names, shares, words, points))

    def _counts(self, design: NumberingDesign, copies: Sequence[int]) -> tuple[int, int, int, int, int]:
        """How many of each of `names` one set asks for."""
        glyphs: set[str] = set()
        characters = marks = faces = 0
        for die, times in zip(design.dice, copies, strict=True):
            one = drawn(die.labels, self._drawing)
            glyphs |= one.glyphs
            characters += one.characters * times
            marks += one.marked * times
            faces += one.faces * times
        different = len({(die.solid, die.labels) for die in design.dice})
        return different, len(glyphs), characters, marks, faces
