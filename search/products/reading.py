"""How well a finished die can be read: `legible` from its size, strokes and colours; and `familiar`."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from facewright.constraints.contest import BEATS, DiceQuestion
from facewright.constraints.design import DesignDie, NumberingDesign
from facewright.constraints.grammar import series
from facewright.constraints.product import Candidate
from facewright.constraints.readouts import Readouts
from facewright.constraints.solids.sizes import both_units
from facewright.search.artwork.sizes import character_height_mm
from facewright.search.products.facts import DieFacts
from facewright.search.report.readability import Familiar
from facewright.search.report.scores import Part, Settings, rounded

ORDERED = ("signed-difference", "side-by-side", BEATS, "every-order")
"""Readings for which it matters which die is which."""

LIGHTER = 0.05
"""What WCAG adds to a luminance: light that is reflected from any screen, or any die."""


def luminance(colour: str) -> float:
    """The relative luminance of a colour "#rrggbb", from 0 to 1 (WCAG 2, as for sRGB).

    Example:
        >>> luminance("#ffffff"), round(luminance("#0072b2"), 4)
        (1.0, 0.1525)
    """
    parts = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """The ratio of contrast of two colours, from 1 to 21 (WCAG 2, 1.4.3).

    Example:
        >>> contrast("#000000", "#ffffff"), round(contrast("#0072b2", "#ffffff"), 2)
        (21.0, 5.19)
    """
    low, high = sorted((luminance(one), luminance(other)))
    return (high + LIGHTER) / (low + LIGHTER)


def legible(
    candidate: Candidate, dice: Sequence[DieFacts], body: str, ink: str, settings: Settings
) -> tuple[int, tuple[Part, ...]]:
    """How well the dice can be read, from 0 to 100, with its parts.

    The first four are those of the score `legible`, here for the true size; each label of a die counts alike. The
    others are factors: what is drawn too thin, has too little contrast, or only colour tells apart, takes its share of
    all.

    Params:
        candidate: the design with its question.
        dice: what was measured of it.
        body: the colour of the dice. ink: of the marks. Both "#rrggbb".
        settings: of the scores.
    """
    weights, reading, seeing = settings.legible, settings.reading, settings.seeing
    each = [(die, len(die.labels) * die.count) for die in dice]
    faces = sum(many for _, many in each)
    good = character_height_mm(reading.distance, reading.good_minutes)
    least = character_height_mm(reading.distance, reading.least_minutes)
    characters = sum(len(str(label)) * die.count for die in dice for label in die.labels)
    longest = max(len(str(label)) for die in dice for label in die.labels)
    lowest = min(die.height_mm for die in dice)
    turned = sum(die.turned * die.count for die in dice)
    shares = (
        faces / characters,
        sum(many * min(1.0, die.height_mm / die.single_mm) for die, many in each) / faces,
        sum(many * min(1.0, die.height_mm / good) for die, many in each) / faces if good else 1.0,
        1 - turned / faces,
    )
    whole = (weights.long_labels, weights.numeral_size, weights.character_height, weights.upside_down)
    counts = [100 * share * weight / sum(whole) for share, weight in zip(shares, whole, strict=True)]
    enough = "well" if lowest >= good else "enough" if lowest >= least else "too little"
    words = (
        f"up to {longest} character{'s' * (longest > 1)} at a glance",
        "against a single figure in the same place",
        f"the lowest {both_units(lowest)} high, {enough} at {reading.distance:g} mm",
        _upside(dice),
    )
    parts = [Part(*one) for one in zip(NAMES, shares, words, counts, strict=True)]
    total = sum(counts)
    for name, share, said in (
        _stroke(dice, body, ink, least, settings),
        _contrast(body, ink, seeing.contrast),
        _apart(candidate, dice, seeing.apart),
    ):
        parts.append(Part(name, share, said, total * (share - 1)))
        total *= share
    return int(rounded(total)), tuple(parts)


NAMES = ("long labels", "numeral size", "character height", "upside down")


def _upside(dice: Sequence[DieFacts]) -> str:
    pairs = list(dict.fromkeys(pair for die in dice for pair in die.upside))
    if not pairs:
        return "no label reads as another upside down"
    shown = [f"{one} and {other}" for one, other in pairs[:3]]
    more = f" and {len(pairs) - 3} pairs more" if len(pairs) > 3 else ""
    return f"{', '.join(shown)}{more}: told apart by a line below"


def _stroke(
    dice: Sequence[DieFacts], body: str, ink: str, least: float, settings: Settings
) -> tuple[str, float, str]:
    """The narrowest stroke against what the eye needs: a share of the least height that is read."""
    dark = luminance(ink) < luminance(body)
    ratio = settings.seeing.dark_stroke if dark else settings.seeing.light_stroke
    narrow, needed = min(die.stroke_mm for die in dice), ratio * least
    share = min(1.0, narrow / needed) if needed else 1.0
    sort = "dark on light" if dark else "light on dark"
    return "stroke", share, f"the narrowest {narrow:.2f} mm; {sort} the eye needs {needed:.2f} mm"


def _contrast(body: str, ink: str, wanted: float) -> tuple[str, float, str]:
    """The contrast of ink and body, as a share of the way from none to what is wanted."""
    found = contrast(ink, body)
    share = 1.0 if found >= wanted or wanted <= 1 else (found - 1) / (wanted - 1)
    judged = "enough" if share == 1.0 else "too little"
    return "contrast", share, f"ink and body {found:.1f} : 1, {judged} (from {wanted:g} : 1)"


def _apart(candidate: Candidate, dice: Sequence[DieFacts], most: float) -> tuple[str, float, str]:
    """Whether marks and dice are told apart without colour, where it matters."""
    question = candidate.question
    if isinstance(question, Readouts):
        many = len(question.readouts)
        return (
            "told apart",
            1.0,
            f"{many} readouts, by the shape of their marks" if many > 1 else "one readout",
        )
    kinds = [die for die in dice for _ in die.positions]
    if getattr(question, "read", "total") not in ORDERED or len(kinds) == 1:
        return "told apart", 1.0, "it does not matter which die is which"
    solids = [die.solid for die in kinds]
    alike = [solid for solid in solids if solids.count(solid) > 1]
    if not alike:
        return "told apart", 1.0, "each die by its solid"
    share = 1 - most * len(alike) / len(solids)
    return "told apart", share, f"{len(alike)} of {len(solids)} dice by colour or labels alone"


def familiar(candidate: Candidate, settings: Settings) -> tuple[int, tuple[Part, ...]] | None:
    """How near the dice are to those that players know, with its parts; None for readouts and words, not judged so."""
    design = numbered(candidate)
    if design is None:
        return None
    score, copies = Familiar(settings), [1] * len(design.dice)
    return score.value(design, copies), score.parts(design, copies)


def numbered(candidate: Candidate) -> NumberingDesign | None:
    """The labels of a design as those of a numbering; None where there are several readouts, or words."""
    question, design = candidate.question, candidate.design
    if isinstance(question, DiceQuestion):
        found: Any = design
        return found if isinstance(found, NumberingDesign) else None
    if isinstance(question, Readouts) or not all(isinstance(label, int) for label in design.labels):
        return None
    labels = tuple(sorted(design.labels))
    return NumberingDesign((DesignDie(len(labels), design.solid, labels),))


def solids_of(dice: Sequence[DieFacts]) -> str:
    """The solids of a product in a few words."""
    return series([die.solid if die.count == 1 else f"{die.count} × {die.solid}" for die in dice])
