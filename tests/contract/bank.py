"""One bank of small questions with known answers, asked of every engine that accepts them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import reduce
from typing import Any

from facewright.constraints.design import NumberingDesign
from facewright.constraints.distribution import Distribution
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.question import Numbering
from facewright.constraints.readings import How, reading_of

A111588 = "OEIS A111588 (N. J. A. Sloane 2005; corr. 2010), seen"
A273013 = "OEIS A273013 (2016), seen"
OWN = "own computation by a separate program, by splitting polynomials and by brute force; no published value found"
HAND = "by hand, in the comment beside it"
BLANKS = "a programming exercise quoting an article on relabelled dice, seen: two positive pairs, three with blanks"
DIVISION = (
    "elementary: the outcomes of the dice, over those of the target, times each number of ways must be whole"
)
PRIME = "Gallian & Rusin, Discrete Math. 27 (1979) 245-259, from memory; OEIS A111588, seen"
BRUTE = "brute force, in tests/brute.py"
COMMON = "common practice, no source"
RULES = "follows from the whole answer of the question without the rule"

SOLIDS = {2: "coin", 4: "tetrahedron", 6: "cube", 8: "octahedron", 12: "dodecahedron", 20: "icosahedron"}


@dataclass(frozen=True)
class Case:
    """A question with its answer: `designs`, where given, are all; the counts always are."""

    name: str
    question: Numbering
    count: int
    count_up_to_shift: int
    source: str
    designs: tuple[str, ...] | None = None

    @property
    def expected(self) -> set[NumberingDesign] | None:
        """The designs expected; None where only their number is known."""
        if self.designs is None:
            return None
        dice = self.question.dice
        return {
            NumberingDesign.of(dice, [tuple(map(int, one.split())) for one in design.split("+")])
            for design in self.designs
        }


def like(*faces: int) -> Distribution:
    """The totals of ordinary dice."""
    return reduce(Distribution.__add__, (Distribution.of_labels(range(1, n + 1)) for n in faces))


def uniform(results: int, least: int = 0) -> Distribution:
    """Consecutive results, equally likely."""
    return Distribution.of(dict.fromkeys(range(least, least + results), 1))


def die(
    faces: int,
    lowest: int = 1,
    highest: int = 99,
    *,
    repeats: int | None = None,
    only: Sequence[int] | None = None,
    avoid: Sequence[int] = (),
    exactly: str | None = None,
    name: str | None = None,
    copies: int = 1,
) -> Die:
    """A die; `copies` faces of its solid carry each label."""
    solid = SOLIDS.get(faces * copies, f"solid with {faces * copies} faces")
    listed = None if only is None else tuple(only)
    rules = LabelRules(lowest, highest, repeats, listed, tuple(avoid))
    fixed = None if exactly is None else tuple(map(int, exactly.split()))
    return Die(faces, solid, copies, rules, fixed, name)


def total(target: Distribution, *dice: Die | int, **rules: Any) -> Numbering:
    """A totals question; a face count stands for a die with these rules.

    A highest label of 99 stands for the default: what the target allows, given the lowest labels of the others.
    """
    made = [one if isinstance(one, Die) else die(one, **rules) for one in dice]
    least = sum(one.lowest_label for one in made)
    filled = []
    for one in made:
        room = max(target.greatest - least + one.lowest_label, one.rules.lowest)
        highest = room if one.rules.highest == 99 else one.rules.highest
        filled.append(replace(one, rules=replace(one.rules, highest=highest)))
    return Numbering("total", target, (tuple(filled),))


def read(name: str, target: Distribution, *dice: Die | int, how: How = (), **rules: Any) -> Numbering:
    """A question with any reading; a face count stands for a die with these rules, 99 for the default highest label."""
    reading = reading_of(name, how)
    made = [one if isinstance(one, Die) else die(one, **rules) for one in dice]
    lowest = [one.lowest_label for one in made]
    filled = []
    for at, one in enumerate(made):
        room = reading.highest_label(at, lowest, [one.faces for one in made], target)
        highest = room if one.rules.highest == 99 else one.rules.highest
        place = at if reading.ordered else None
        filled.append(replace(one, rules=replace(one.rules, highest=highest), place=place))
    open_ended = name == "signed-difference" and any(one.rules.highest == 99 for one in made)
    anchored = reading.joins == "one for all" or open_ended
    return Numbering(name, target, (tuple(filled),), how=how, anchored=anchored)


def rolled(name: str, *dice: str, how: How = ()) -> Distribution:
    """The chances of dice that are given by their labels."""
    return reading_of(name, how).distribution([tuple(map(int, one.split())) for one in dice])


def ordinary(faces: int, count: int, source: str = A111588) -> Case:
    """Two dice of this size like two ordinary ones, labels from 1."""
    return Case(f"two d{faces} like 2d{faces}", total(like(faces, faces), faces, faces), count, count, source)


def split(of: Sequence[int], by: Sequence[int], count: int, source: str = OWN) -> Case:
    """Dice of some sizes like ordinary dice of others, as many of them, labels from 1."""
    name = f"{'+'.join(f'd{n}' for n in by)} like {'+'.join(f'd{n}' for n in of)}"
    return Case(name, total(like(*of), *by), count, count, source)


def level(results: int, dice: Sequence[int], count: int, source: str = OWN) -> Case:
    """Equally likely totals from 0 up, labels from 0."""
    name = f"{'+'.join(f'd{n}' for n in dice)} uniform on {results}"
    return Case(name, total(uniform(results), *dice, lowest=0), count, count, source)


ORDINARY = "1 2 3 4 5 6 + 1 2 3 4 5 6"
D6 = "1 2 3 4 5 6"
KEEP: How = (("keep", 2),)
CROOKED = "1 2 2 3 3 4 + 1 3 4 5 6 8"
TWO_D6 = like(6, 6)

CASES = (
    ordinary(4, 2),
    Case("two d6 like 2d6", total(TWO_D6, 6, 6), 2, 2, A111588, (ORDINARY, CROOKED)),
    ordinary(8, 4),
    ordinary(10, 2),
    ordinary(12, 8),
    ordinary(5, 1, PRIME),
    ordinary(7, 1, PRIME),
    ordinary(9, 2),
    Case(
        "two cubes with blanks",
        total(TWO_D6, 6, 6, lowest=0),
        5,
        2,
        BLANKS,
        (
            ORDINARY,
            CROOKED,
            "0 1 2 3 4 5 + 2 3 4 5 6 7",
            "0 1 1 2 2 3 + 2 4 5 6 7 9",
            "2 3 3 4 4 5 + 0 2 3 4 5 7",
        ),
    ),
    Case(
        "d4+d9 like 2d6",
        total(TWO_D6, 4, 9),
        3,
        3,
        OWN,
        (
            "1 2 2 3 + 1 3 3 5 5 5 7 7 9",
            "1 2 4 5 + 1 2 3 3 4 5 5 6 7",
            "1 4 4 7 + 1 2 2 3 3 3 4 4 5",
        ),
    ),
    split((4, 4), (2, 8), 2),
    split((6, 6), (2, 18), 2),
    split((6, 6), (3, 12), 2),
    split((4, 6), (2, 12), 3),
    split((4, 6), (3, 8), 2),
    split((4, 6), (4, 6), 4),
    split((4, 8), (2, 16), 3),
    split((4, 8), (4, 8), 5),
    split((6, 8), (6, 8), 6),
    split((4, 9), (4, 9), 1),
    split((4, 9), (6, 6), 2),
    split((2, 18), (6, 6), 3),
    *(level(n, (4, 4), count) for n, count in {2: 1, 4: 2, 8: 3, 16: 3}.items()),
    *(level(n, (4, 6), count) for n, count in {2: 2, 3: 1, 4: 3, 6: 3, 8: 3, 12: 7, 24: 9}.items()),
    *(level(n, (6, 6), count) for n, count in {2: 1, 3: 1, 4: 1, 6: 3, 9: 1, 18: 4}.items()),
    level(36, (6, 6), 7, A273013),
    *(level(n, (6, 6), 0, DIVISION) for n in (5, 7, 8, 10, 11)),
    Case(
        # the content 3 of 3(1 + x + … + x^11) must be given to a die as a factor too
        "d6+d6 uniform on 12: the content is a factor",
        total(uniform(12), 6, 6, lowest=0),
        4,
        4,
        OWN,
        (
            "0 1 2 3 4 5 + 0 0 0 6 6 6",
            "0 1 4 5 8 9 + 0 0 0 2 2 2",
            "0 2 4 6 8 10 + 0 0 0 1 1 1",
            "0 1 2 6 7 8 + 0 0 0 3 3 3",
        ),
    ),
    Case(
        "three d6 like 3d6",
        total(like(6, 6, 6), 6, 6, 6),
        2,
        2,
        OWN,
        ("1 2 3 4 5 6 + 1 2 3 4 5 6 + 1 2 3 4 5 6", "1 2 2 3 3 4 + 1 2 3 4 5 6 + 1 3 4 5 6 8"),
    ),
    Case("three d4 like 3d4", total(like(4, 4, 4), 4, 4, 4), 2, 2, OWN),
    Case("four d4 like 4d4", total(like(4, 4, 4, 4), 4, 4, 4, 4), 3, 3, OWN),
    Case("d4+d6+d8 themselves", total(like(4, 6, 8), 4, 6, 8), 31, 31, OWN),
    Case("d2+d2+d9 like 2d6 from 0", total(TWO_D6.shifted(-2), 2, 2, 9, lowest=0), 3, 3, OWN),
    Case("d2+d3+d6 like 2d6 from 0", total(TWO_D6.shifted(-2), 2, 3, 6, lowest=0), 4, 4, OWN),
    Case("d3+d3+d4 like 2d6 from 0", total(TWO_D6.shifted(-2), 3, 3, 4, lowest=0), 3, 3, OWN),
    Case("d2+d2+d3+d3 like 2d6 from 0", total(TWO_D6.shifted(-2), 2, 2, 3, 3, lowest=0), 3, 3, OWN),
    Case("one die is itself", total(like(6), 6), 1, 1, HAND, ("1 2 3 4 5 6",)),
    Case(
        # a fixed three-label die: (x + … + x^6)^2 / (x + x^2 + x^3) = (1 + x^3)(x + … + x^6)
        "three labels on a cube, with twelve faces",
        total(TWO_D6, die(3, copies=2, exactly="1 2 3"), 12),
        1,
        1,
        COMMON + ", and by hand, in the comment beside it",
        ("1 2 3 + 1 2 3 4 4 5 5 6 6 7 8 9",),
    ),
    Case(
        "carriers: two three-label dice on cubes",
        total(like(3, 3), die(3, copies=2), die(3, copies=2)),
        1,
        1,
        PRIME,
        ("1 2 3 + 1 2 3",),
    ),
    Case(
        # other solids cannot be exchanged: of the two pairs for 2d4 the unlike one counts in both orders
        "four labels on a tetrahedron and on an octahedron",
        total(like(4, 4), die(4), die(4, copies=2)),
        3,
        3,
        HAND,
        ("1 2 3 4 + 1 2 3 4", "1 2 2 3 + 1 3 3 5", "1 3 3 5 + 1 2 2 3"),
    ),
    Case("one die fixed", total(TWO_D6, die(6, exactly="1 2 2 3 3 4"), 6), 1, 1, RULES, (CROOKED,)),
    Case(
        "both fixed",
        total(TWO_D6, die(6, exactly="1 2 3 4 5 6"), die(6, exactly="1 2 3 4 5 6")),
        1,
        1,
        HAND,
        (ORDINARY,),
    ),
    Case(
        "both fixed, wrongly",
        total(TWO_D6, die(6, exactly="1 2 3 4 5 6"), die(6, exactly="1 2 3 4 5 7")),
        0,
        0,
        HAND,
        (),
    ),
    Case("fixed to what no partner fits", total(TWO_D6, die(6, exactly="1 1 2 3 4 5"), 6), 0, 0, RULES, ()),
    Case("no label twice", total(TWO_D6, 6, 6, repeats=1), 1, 1, RULES, (ORDINARY,)),
    Case("no label above 8", total(TWO_D6, 6, 6, highest=8), 2, 2, RULES, (ORDINARY, CROOKED)),
    Case("no label above 7", total(TWO_D6, 6, 6, highest=7), 1, 1, RULES, (ORDINARY,)),
    Case("without the label 8", total(TWO_D6, *[die(6, avoid=[8])] * 2), 1, 1, RULES, (ORDINARY,)),
    Case("without the label 2", total(TWO_D6, *[die(6, avoid=[2])] * 2), 0, 0, RULES, ()),
    Case(
        "only some labels",
        total(TWO_D6, *[die(6, only=[1, 2, 3, 4, 5, 6, 8])] * 2),
        2,
        2,
        RULES,
        (ORDINARY, CROOKED),
    ),
    Case(
        "rules that tell two cubes apart",
        total(TWO_D6, die(6, highest=4), 6),
        1,
        1,
        RULES,
        (CROOKED,),
    ),
    Case(
        # named dice cannot be exchanged: the crooked pair counts in both orders
        "names that tell two cubes apart",
        total(TWO_D6, die(6, name="tug"), die(6, name="barge")),
        3,
        3,
        HAND,
        (ORDINARY, CROOKED, "1 3 4 5 6 8 + 1 2 2 3 3 4"),
    ),
    Case(
        # d4 - d4 is 2d4 shifted by -5. The least labels add up to -3 and are at least -4: six ordered ways. The pair of
        # unlike dice stands in all six, that of equal dice in the three unordered ones.
        "negative labels",
        total(like(4) + like(4).negated(), 4, 4, lowest=-4),
        9,
        2,
        HAND,
    ),
    Case(
        "all labels negative",
        total(like(4, 4).shifted(-20), 4, 4, lowest=-9),
        2,
        2,
        "2d4 shifted by -20",
        None,
    ),
    Case("no whole number of ways", total(TWO_D6, 5, 6), 0, 0, DIVISION, ()),
    Case("lowest labels too high", total(TWO_D6, 6, 6, lowest=2), 0, 0, HAND, ()),
    Case("highest labels too low", total(TWO_D6, 6, 6, highest=5), 0, 0, HAND, ()),
    Case("no label is allowed", total(TWO_D6, 6, die(6, highest=3, avoid=[1, 2, 3])), 0, 0, HAND, ()),
    Case(
        # 1 + x^3 divides neither die: (1 + x^3)^2 = 1 + 2x^3 + x^6, and the dice may not carry a 3
        "gaps that the rules forbid",
        total(Distribution.of({0: 1, 3: 2, 6: 1}), *[die(2, lowest=0, avoid=[3])] * 2),
        0,
        0,
        HAND,
        (),
    ),
    Case(
        # 2 + x: two faces cannot show 0 and 1 as 2 to 1, but three can
        "an unfair coin on three faces",
        total(Distribution.of({0: 2, 1: 1}), die(3, lowest=0)),
        1,
        1,
        HAND,
        ("0 0 1",),
    ),
)

READINGS = (
    Case("the highest of 2d6", read("highest", rolled("highest", *[D6] * 2), 6, 6), 1, 1, OWN, (ORDINARY,)),
    Case("no d4+d9 for the highest of 2d6", read("highest", rolled("highest", *[D6] * 2), 4, 9), 0, 0, OWN, ()),
    Case("the lowest of 2d6", read("lowest", rolled("lowest", *[D6] * 2), 6, 6), 1, 1, OWN, (ORDINARY,)),
    Case(
        # one die has 2 on both faces; the other may carry anything up to 2
        "a label that is never read",
        read("highest", Distribution.of({2: 1}), 2, 2),
        3, 3, HAND, ("1 1 + 2 2", "1 2 + 2 2", "2 2 + 2 2"),
    ),
    Case("the difference of 2d2", read("difference", Distribution.of({0: 2, 1: 2}), 2, 2), 3, 3, OWN,
         ("1 2 + 2 2", "1 2 + 1 2", "1 1 + 1 2")),
    Case("the difference of 2d3", read("difference", Distribution.of({0: 3, 1: 4, 2: 2}), 3, 3), 3, 3, OWN),
    Case("the difference of 2d4", read("difference", Distribution.of({0: 4, 1: 6, 2: 4, 3: 2}), 4, 4), 26, 26, OWN),
    Case(
        # d6 - d6 is 2d6 shifted, with the second die turned round: the pairs for 2d6 in both orders, each shifted so
        # that the lesser least label is 1
        "the first six-face die less the second",
        read("signed-difference", like(6) + like(6).negated(), 6, 6),
        3, 3, HAND, (ORDINARY, "1 3 4 5 6 8 + 3 4 4 5 5 6", "3 4 4 5 5 6 + 1 3 4 5 6 8"),
    ),
    Case(
        # with labels up to 6 the unlike pairs do not fit, and the like one cannot be shifted
        "the same with labels up to 6",
        read("signed-difference", like(6) + like(6).negated(), 6, 6, highest=6),
        1, 1, HAND, (ORDINARY,),
    ),
    Case("the product of 2d4", read("product", rolled("product", *["1 2 3 4"] * 2), 4, 4), 1, 1, OWN,
         ("1 2 3 4 + 1 2 3 4",)),
    Case(
        # 0 shows in 3 of 4 ways: one 0 on each die; then 6 = 1·6 = 2·3
        "products with zeros",
        read("product", Distribution.of({0: 3, 6: 1}), 2, 2, lowest=0),
        2, 2, HAND, ("0 1 + 0 6", "0 2 + 0 3"),
    ),
    Case(
        # each die alone must have the chances that its place has
        "side by side",
        read("side-by-side", Distribution.of({(1, 3): 2, (1, 4): 1, (2, 3): 2, (2, 4): 1}), 2, 3),
        1, 1, HAND, ("1 2 + 3 3 4",),
    ),
    Case(
        "side by side, and not independent",
        read("side-by-side", Distribution.of({(1, 1): 1, (2, 2): 1}), 2, 2),
        0, 0, HAND, (),
    ),
    Case(
        # one die must carry 0 and 1 modulo 2 equally often; the other anything: {0 0, 0 1, 1 1} and {0 1}
        "even and odd totals alike",
        read("total-modulo", uniform(2), 2, 2, how=(("modulo", 2),), lowest=0),
        3, 3, HAND, ("0 0 + 0 1", "0 1 + 0 1", "0 1 + 1 1"),
    ),
    Case("the middle of 3d4", read("middle", rolled("middle", *["1 2 3 4"] * 3), 4, 4, 4), 2, 2, BRUTE,
         ("1 2 3 4 + 1 2 3 4 + 1 2 3 4", "1 2 2 4 + 1 2 3 4 + 1 3 3 4")),
    Case(
        # three coins: 2 in all 8 ways; one coin may then be anything up to 2, the others show 2 always
        "a middle that one die cannot change",
        read("middle", Distribution.of({2: 1}), 2, 2, 2),
        3, 3, HAND, ("1 1 + 2 2 + 2 2", "1 2 + 2 2 + 2 2", "2 2 + 2 2 + 2 2"),
    ),
    Case(
        # both coins succeed half the time, whichever label under 2 stands for failing
        "how many of two coins show 2 or more",
        read("how-many", Distribution.of({0: 1, 1: 2, 2: 1}), 2, 2, how=(("at_least", 2),), lowest=0),
        3, 3, HAND, ("0 2 + 0 2", "0 2 + 1 2", "1 2 + 1 2"),
    ),
    Case("the best two of 3d3", read("total-of-highest", rolled("total-of-highest", *["1 2 3"] * 3, how=KEEP), 3, 3, 3,
         how=KEEP), 1, 1, BRUTE, ("1 2 3 + 1 2 3 + 1 2 3",)),
    Case("the worst two of 3d3", read("total-of-lowest", rolled("total-of-lowest", *["1 2 3"] * 3, how=KEEP), 3, 3, 3,
         how=KEEP, highest=3), 1, 1, BRUTE, ("1 2 3 + 1 2 3 + 1 2 3",)),
    Case(
        # 1 again once: it stays in 1 of 9 ways, the others come in 4
        "a three-face die on which 1 is rolled again",
        read("total", Distribution.of({1: 1, 2: 4, 3: 4}), 3, how=(("reroll", (1,)),)),
        1, 1, HAND, ("1 2 3",),
    ),
)  # fmt: skip
"""Questions with other readings than the total."""
