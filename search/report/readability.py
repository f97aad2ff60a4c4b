"""How easy a set is to read and to live with: `legible`, `familiar`, and `readability`, which joins them."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Sequence
from functools import cache, lru_cache
from itertools import pairwise
from operator import mul
from typing import NamedTuple

from facewright.constraints.design import NumberingDesign
from facewright.constraints.solids.sizes import both_units
from facewright.search.artwork.sizes import character_height_mm
from facewright.search.artwork.turning import mistaken
from facewright.search.report.heights import height_over_size
from facewright.search.report.scores import Characters, Part, Settings, Shape, rounded

REMEMBERED = 65_536
"""Of how many dice the findings are kept: designs of one run share most of their dice."""


class Drawn(NamedTuple):
    """What the labels of one die ask of the person who draws them.

    `long` counts the faces with more than one character, `marked` those that need a mark, each label once
    however often its solid repeats it. `pairs` are labels that read as each other, `alone` those that read as
    one which is not on the die.
    """

    faces: int
    characters: int
    long: int
    widest: int
    glyphs: frozenset[str]
    marked: int
    pairs: tuple[tuple[int, int], ...]
    alone: tuple[int, ...]


@lru_cache(maxsize=REMEMBERED)
def drawn(labels: tuple[int, ...], characters: Characters) -> Drawn:
    """What one die asks: its characters, and the marks that keep its labels from being read upside down."""
    counts = Counter(labels)
    pairs: list[tuple[int, int]] = []
    alone: list[int] = []
    marked = 0
    found = mistaken(counts, flag_on_one=characters.flag_on_one, within_range=characters.mark_alone)
    for label, image in sorted(found.items()):
        if image not in counts:
            alone.append(label)
        elif label < image:
            pairs.append((label, image))
        marked += counts[label]
    lengths = [len(str(label)) for label in labels]
    return Drawn(
        faces=len(labels),
        characters=sum(lengths),
        long=len(labels) - lengths.count(1),
        widest=max(lengths),
        glyphs=frozenset("".join(map(str, counts))),
        marked=marked,
        pairs=tuple(pairs),
        alone=tuple(alone),
    )


class Height(NamedTuple):
    """How high the characters of a die are: over a single one on the same solid; and in millimetres."""

    relative: float
    mm: float


class Legible:
    """How well the labels can be read off the dice: few characters, high ones, nothing upside down.

    Each face counts alike; how often a label is repeated on the solid changes nothing.
    """

    name = "legible"
    names = ("long labels", "numeral size", "character height", "upside down")

    def __init__(self, settings: Settings) -> None:
        self._drawing, self._reading = settings.characters, settings.reading
        weights = settings.legible
        self._weights = _of_hundred(
            weights.long_labels, weights.numeral_size, weights.character_height, weights.upside_down
        )
        self._good = character_height_mm(settings.reading.distance, settings.reading.good_minutes)
        self._height = cache(self._height_of)

    def value(self, design: NumberingDesign, copies: Sequence[int]) -> int:
        """A whole number from 0 to 100."""
        dice = self._drawn(design)
        return _weighed(self._shares(dice, self._heights(design, copies, dice)), self._weights)

    def parts(self, design: NumberingDesign, copies: Sequence[int]) -> tuple[Part, ...]:
        """Long labels, numeral size, character height, upside down."""
        dice = self._drawn(design)
        heights = self._heights(design, copies, dice)
        faces = sum(one.faces for one in dice)
        words = (
            f"{_of(sum(one.long for one in dice), faces, 'has', 'have')} more than one character",
            f"up to {_many(max(one.widest for one in dice), 'character')} on a face",
            self._seen(min(height.mm for height in heights)),
            _marks(dice),
        )
        return _parts(self.names, self._shares(dice, heights), words, self._weights)

    def _drawn(self, design: NumberingDesign) -> list[Drawn]:
        return [drawn(die.labels, self._drawing) for die in design.dice]

    def _heights(self, design: NumberingDesign, copies: Sequence[int], dice: Sequence[Drawn]) -> list[Height]:
        return [
            self._height(die.solid, die.faces * times, one.widest)
            for die, times, one in zip(design.dice, copies, dice, strict=True)
        ]

    def _height_of(self, solid: str, rests: int, characters: int) -> Height:
        single = height_over_size(solid, rests, 1, self._drawing)
        this = height_over_size(solid, rests, characters, self._drawing)
        return Height(min(1.0, this / single), this * self._reading.tip_to_tip)

    def _shares(self, dice: Sequence[Drawn], heights: Sequence[Height]) -> tuple[float, ...]:
        faces = characters = marked = 0
        relative = seen = 0.0
        for one, height in zip(dice, heights, strict=True):
            faces += one.faces
            characters += one.characters
            marked += one.marked
            relative += one.faces * height.relative
            seen += one.faces * (min(1.0, height.mm / self._good) if self._good else 1.0)
        return faces / characters, relative / faces, seen / faces, 1 - marked / faces

    def _seen(self, mm: float) -> str:
        """What the height of the lowest characters means to the eye."""
        least = character_height_mm(self._reading.distance, self._reading.least_minutes)
        judged = (
            "enough to read well"
            if mm >= self._good
            else "enough to read"
            if mm >= least
            else "lower than the eye needs"
        )
        return (
            f"{both_units(mm)} high on dice of {self._reading.tip_to_tip:g} mm from tip to tip, "
            f"{judged} at {self._reading.distance:g} mm"
        )


def _marks(dice: Sequence[Drawn]) -> str:
    pairs = sorted({pair for one in dice for pair in one.pairs})
    alone = sorted({label for one in dice for label in one.alone})
    items = [f"{low} and {high}" for low, high in pairs] + [str(label) for label in alone]
    if not items:
        return "no label needs a mark"
    shown = ", ".join(items[:3]) + (f" and {len(items) - 3} more" if len(items) > 3 else "")
    return f"{shown} need{'s' if len(items) == 1 and not pairs else ''} a mark"


class Known(NamedTuple):
    """How near one die is to what players know: `shares` in the order of `Familiar.names`; else counts."""

    shares: tuple[float, ...]
    skipped: int
    repeated: int
    greatest: int
    zeros: int
    negatives: int
    unexpected: int


@lru_cache(maxsize=REMEMBERED)
def known(labels: tuple[int, ...], shape: Shape) -> Known:
    """How near one die, its labels sorted, is to what players know: to 1, 2, 3, … on as many faces."""
    faces = len(labels)
    counts = Counter(labels)
    distinct = sorted(counts)
    span = labels[-1] - labels[0] + 1
    gaps: float = len(distinct) / span
    if len(distinct) > 2 and len({after - before for before, after in pairwise(distinct)}) == 1:
        gaps **= shape.even_spacing
    repeats: float = len(distinct) / faces
    if len(set(counts.values())) == 1:
        repeats **= shape.even_repeats
    greatest = max(-labels[0], labels[-1])
    reach = min(1.0, faces / greatest) if greatest else 1.0
    zeros = counts.get(0, 0)
    negatives = bisect_left(labels, 0)
    below_one = 1 - (shape.zero * zeros + shape.negative * negatives) / faces
    expected = bisect_right(distinct, faces) - bisect_left(distinct, 1)
    return Known(
        shares=(gaps, repeats, reach, below_one, expected / faces),
        skipped=span - len(distinct),
        repeated=faces - len(distinct),
        greatest=greatest,
        zeros=zeros,
        negatives=negatives,
        unexpected=faces - expected,
    )


class Familiar:
    """How near a set is to dice that players know; each die counts alike, and the hardest once more."""

    name = "familiar"
    names = ("gaps", "repeats", "range", "zeros and negatives", "expected numbers")

    def __init__(self, settings: Settings) -> None:
        self._shape = settings.shape
        weights = settings.familiar
        self._weights = _of_hundred(
            weights.gaps, weights.repeats, weights.range, weights.below_one, weights.expected
        )

    def value(self, design: NumberingDesign, copies: Sequence[int]) -> int:
        """A whole number from 0 to 100."""
        return _weighed(self._shares(self._known(design)), self._weights)

    def parts(self, design: NumberingDesign, copies: Sequence[int]) -> tuple[Part, ...]:
        """Gaps, repeats, range, zeros and negatives, expected numbers."""
        dice = self._known(design)
        zeros, negatives = sum(one.zeros for one in dice), sum(one.negatives for one in dice)
        faces = sum(len(die.labels) for die in design.dice)
        words = (
            f"{_and([one.skipped for one in dice])} numbers skipped",
            f"{_and([one.repeated for one in dice])} faces repeat a label",
            f"up to {_and([one.greatest for one in dice])}",
            f"{_many(zeros, 'zero')}, {_many(negatives, 'negative')}" if zeros or negatives else "none",
            f"{_of(sum(one.unexpected for one in dice), faces, 'is', 'are')} not what players expect",
        )
        return _parts(self.names, self._shares(dice), words, self._weights)

    def _known(self, design: NumberingDesign) -> list[Known]:
        return [known(die.labels, self._shape) for die in design.dice]

    def _shares(self, dice: Sequence[Known]) -> tuple[float, ...]:
        hardest = self._shape.hardest_die
        mean = (1 - hardest) / len(dice)
        # Sorted: two orders of the same dice must not differ in the last bit of a sum.
        return tuple(
            mean * sum(sorted(c)) + hardest * min(c) for c in zip(*(d.shares for d in dice), strict=True)
        )


class Readability:
    """How easy a set is to live with: legible and familiar together, each as it is shown."""

    name = "readability"
    names = ("legible", "familiar")

    def __init__(self, settings: Settings) -> None:
        self._legible = Legible(settings)
        self._familiar = Familiar(settings)
        self.joined = _of_hundred(settings.readability.legible, settings.readability.familiar)

    def value(self, design: NumberingDesign, copies: Sequence[int]) -> int:
        """A whole number from 0 to 100."""
        return self.joined_of(self._legible.value(design, copies), self._familiar.value(design, copies))

    def joined_of(self, legible: int, familiar: int) -> int:
        """The same from the two scores that it joins."""
        return _weighed((legible / 100, familiar / 100), self.joined)

    def parts(self, design: NumberingDesign, copies: Sequence[int]) -> tuple[Part, ...]:
        """The two scores that it joins, `joined` points of each counting."""
        shares = self._shares(design, copies)
        return _parts(self.names, shares, [f"{100 * share:.0f} of 100" for share in shares], self.joined)

    def _shares(self, design: NumberingDesign, copies: Sequence[int]) -> tuple[float, ...]:
        return self._legible.value(design, copies) / 100, self._familiar.value(design, copies) / 100


def _of_hundred(*weights: float) -> tuple[float, ...]:
    return tuple(100 * weight / sum(weights) for weight in weights)


def _weighed(shares: Sequence[float], weights: Sequence[float]) -> int:
    return int(rounded(sum(map(mul, shares, weights))))


def _parts(
    names: Sequence[str], shares: Sequence[float], words: Sequence[str], weights: Sequence[float]
) -> tuple[Part, ...]:
    return tuple(map(Part, names, shares, words, map(mul, shares, weights)))


def _many(count: int, thing: str) -> str:
    return f"{count} {thing}" if count == 1 else f"{count} {thing}s"


def _of(count: int, faces: int, one: str, more: str) -> str:
    return f"{count} of {_many(faces, 'face')} {one if count == 1 else more}"


def _and(counts: Sequence[int]) -> str:
    """The counts of the dice in their order: "0 and 2", "0, 1 and 2"."""
    texts = [str(count) for count in counts]
    return texts[0] if len(texts) == 1 else f"{', '.join(texts[:-1])} and {texts[-1]}"
