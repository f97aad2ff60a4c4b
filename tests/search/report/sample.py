"""Runs for the tests of the report: real designs, found here by plain means, in an invented harbour town."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import cache
from itertools import combinations_with_replacement, product
from math import prod
from typing import Any

import numpy as np
from facewright.constraints.design import DesignDie, NumberingDesign

SOLIDS = {
    3: "cube", 4: "tetrahedron", 6: "cube", 8: "octahedron", 9: "9-sided log", 12: "dodecahedron",
    16: "octagonal bipyramid", 18: "9-gonal trapezohedron", 120: "disdyakis triacontahedron",
}  # fmt: skip
CAUTIONS = [
    "Small parts: not for children under three.",
    "Numbers here are about ideal bodies; test a prototype before you claim that a die is fair.",
    "Not for licensed gaming. Local rules come first.",
]
Poly = list[int]
Cut = tuple[dict[int, int], Poly]
Run = tuple[dict[str, Any], list[dict[str, Any]]]


def times(a: Sequence[int], b: Sequence[int]) -> Poly:
    """The product of two polynomials, coefficients from the lowest power up."""
    return [int(x) for x in np.convolve(np.array(a, dtype=np.int64), np.array(b, dtype=np.int64))]


def over(a: Sequence[int], b: Sequence[int]) -> Poly:
    """The exact quotient of a polynomial by a monic one."""
    rest, out = list(a), [0] * (len(a) - len(b) + 1)
    for place in range(len(out) - 1, -1, -1):
        out[place] = rest[place + len(b) - 1]
        for j, y in enumerate(b):
            rest[place + j] -= out[place] * y
    assert not any(rest)
    return out


@cache
def cyclotomic(n: int) -> tuple[int, ...]:
    """The n-th cyclotomic polynomial: x^n - 1 divided by those of all smaller divisors."""
    out = [-1] + [0] * (n - 1) + [1]
    for d in range(1, n):
        if n % d == 0:
            out = over(out, cyclotomic(d))
    return tuple(out)


def words(poly: Sequence[int]) -> str:
    """A polynomial as text, highest power first."""
    terms = []
    for power in range(len(poly) - 1, -1, -1):
        if poly[power]:
            power_words = {0: "", 1: "x"}.get(power, f"x^{power}")
            size = abs(poly[power])
            term = power_words if size == 1 and power else f"{size}{power_words}"
            terms.append(("- " if poly[power] < 0 else "+ ") + term)
    text = " ".join(terms)
    return text[2:] if text.startswith("+ ") else f"-{text[2:]}"


def ordinary_ways(sides: Sequence[int]) -> dict[int, int]:
    """The totals of ordinary dice."""
    return ways_of([range(1, n + 1) for n in sides])


def ways_of(dice: Sequence[Sequence[int]]) -> dict[int, int]:
    """The totals of dice of any kind, added in turn."""
    found = {0: 1}
    for labels in dice:
        after: Counter[int] = Counter()
        for total, count in found.items():
            for label in labels:
                after[total + label] += count
        found = dict(after)
    return dict(sorted(found.items()))


def orders(sides: Sequence[int]) -> Counter[int]:
    """Which cyclotomic polynomials the totals of ordinary dice hold, and how often."""
    return Counter(d for n in sides for d in range(2, n + 1) if n % d == 0)


def labels_of(poly: Sequence[int], lowest: int) -> list[int]:
    """The labels of the die that a polynomial is."""
    return [lowest + power for power, faces in enumerate(poly) for _ in range(faces)]


def die_of(powers: dict[int, int]) -> Poly:
    """The product of cyclotomic polynomials."""
    out = np.ones(1, dtype=np.int64)
    for d, power in sorted(powers.items()):
        for _ in range(power):
            out = np.convolve(out, np.array(cyclotomic(d), dtype=np.int64))
    return [int(x) for x in out]


def deals(sides: Sequence[int], faces: Sequence[int]) -> Iterator[tuple[list[list[int]], list[list[int]]]]:
    """Every way to deal the factors of ordinary dice to as many new ones: labels and exponents, each die from 1 up."""
    held = orders(sides)
    ds = sorted(held)
    seen = set()
    one = [dict(zip(ds, cuts, strict=True)) for cuts in product(*(range(held[d] + 1) for d in ds))]
    dice = {n: [(c, p) for c in one if sum(p := die_of(c)) == n and min(p) >= 0] for n in set(faces)}

    def go(place: int, left: dict[int, int], first: int, chosen: tuple[Cut, ...]) -> Iterator[Any]:
        if place == len(faces):
            if not any(left.values()):
                yield chosen
            return
        alike = place > 0 and faces[place] == faces[place - 1]
        for at, (cut, poly) in enumerate(dice[faces[place]]):
            if (not alike or at >= first) and all(cut[d] <= left[d] for d in ds):
                yield from go(place + 1, {d: left[d] - cut[d] for d in ds}, at, (*chosen, (cut, poly)))

    for chosen in go(0, dict(held), 0, ()):
        pairs = sorted(
            (
                (n, labels_of(poly, 1), [1, *(cut[d] for d in ds)])
                for n, (cut, poly) in zip(faces, chosen, strict=True)
            ),
            key=lambda item: (faces.index(item[0]), item[1]),
        )
        key = repr([labels for _, labels, _ in pairs])
        if key not in seen:
            seen.add(key)
            yield [labels for _, labels, _ in pairs], [split for *_, split in pairs]


def part(name: str, share: float | None, told: str) -> dict[str, Any]:
    """One part of a score."""
    return {"name": name, "share": None if share is None else round(share, 3), "words": told}


def scored(dice: Sequence[Sequence[int]]) -> dict[str, Any]:
    """Invented but plausible scores with their parts."""
    faces = [x for labels in dice for x in labels]
    two = sum(1 for x in faces if x > 9)
    turned = any({6, 9} <= set(labels) for labels in dice)
    gaps = [max(labels) - min(labels) + 1 - len(set(labels)) for labels in dice]
    repeats = [len(labels) - len(set(labels)) for labels in dice]
    legible = round(100 * (0.8 * (1 - two / len(faces)) + 0.2 * (not turned)))
    spread = [1 / (1 + sum(gaps) / 6), 1 / (1 + sum(repeats) / 8)]
    familiar = round(100 * (spread[0] + spread[1]) / 2)
    cost = 30 + sum(len(set(labels)) for labels in dice) // 2
    readability = round((legible + familiar) / 2)
    overall = round((2 * readability + 100 - min(cost, 100)) / 3)
    listed = " and ".join(map(str, gaps)), " and ".join(map(str, repeats))
    return {
        "scores": {
            "legible": legible, "familiar": familiar, "readability": readability, "cost": cost, "overall": overall,
        },
        "parts": {
            "legible": [
                part("two-figure labels", 1 - two / len(faces), f"{two} of {len(faces)} faces"),
                part("upside down", float(not turned), "6 and 9 need a mark" if turned else "no pair to confuse"),
            ],
            "familiar": [
                part("gaps", spread[0], f"{listed[0]} numbers skipped"),
                part("repeats", spread[1], f"{listed[1]} faces repeat a label"),
            ],
            "cost": [part("different marks", None, f"{(cost - 30) * 2} to cut")],
        },
    }  # fmt: skip


def design(
    dice: Sequence[Sequence[int]], split: Any = None, place: int = 0, distance: str = "0"
) -> dict[str, Any]:
    """One design as the page takes it, not yet ranked."""
    form = NumberingDesign(tuple(DesignDie(len(x), SOLIDS.get(len(x), "solid"), tuple(x)) for x in dice))
    out = {
        "id": form.id, "set": place, "rank": 0, "tied": False, "dice": [list(x) for x in dice],
        "ordinary": form.ordinary, "distance": distance, **scored(dice),
    }  # fmt: skip
    return out if split is None else {**out, "split": split}


def ranked(designs: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Best first; equals share a rank."""
    best = sorted(designs, key=lambda one: (-one["scores"]["overall"], one["id"]))
    scores = [one["scores"]["overall"] for one in best]
    for one in best:
        one["rank"] = scores.index(one["scores"]["overall"]) + 1
        one["tied"] = scores.count(one["scores"]["overall"]) > 1
    return best


def one_set(
    faces: Sequence[int], sides: Sequence[int], count: int, verdict: str = "complete"
) -> dict[str, Any]:
    """A set of dice and what was found with it."""
    held = orders(sides)
    factors = [
        {"text": words(cyclotomic(d)), "at_1": sum(cyclotomic(d)), "power": held[d]} for d in sorted(held)
    ]
    dice = [
        {"faces": n, "solid": SOLIDS.get(n, "solid"), "copies": 2 if n == 3 else 1, "name": None}
        for n in faces
    ]
    return {
        "dice": dice,
        "verdict": verdict, "count": count, "count_up_to_shift": count, "reason": "", "outcomes": prod(faces),
        "factors": factors, "content": 1,
    }  # fmt: skip


def run(
    name: str, title: str, ask: str, sentence: str, sides: Sequence[int], sets: list[dict[str, Any]],
    designs: list[dict[str, Any]], **more: Any,
) -> Run:  # fmt: skip
    """A summary and its ranked designs."""
    ways = ordinary_ways(sides)
    count = sum(one["count"] for one in sets)
    counted = Counter(sides)
    like = " + ".join(f"{'' if k == 1 else k}d{n}" for n, k in counted.items())
    summary = {
        "schema": 1, "kind": "numbering", "title": title, "note": "invented data", "run": name,
        "written": "2026-11-25", "read": "total", "ask": ask, "sentence": sentence, "verdict": "complete",
        "count": count, "count_up_to_shift": count, "count_is": "all", "listed": len(designs),
        "reason": "Labels are whole numbers from 1 up; every label rule of the brief is kept.",
        "evidence": {"engine": "factors", "proved": True, "recounted": count, "seconds": 0.01, "bound": None},
        "proof": [
            "A die is the polynomial of its labels: each face adds x^label. The polynomial of a total is the product.",
            "The target's polynomial falls into irreducible factors over the whole numbers, in one way only.",
            "Every way to deal these factors to the dice was tried; kept are those whose value at x = 1 is the number "
            "of faces and whose coefficients are not negative.",
        ],
        "target": {"words": like, "outcomes": sum(ways.values()), "ways": [list(pair) for pair in ways.items()]},
        "sets": sets, "dropped": [], "weights": {"readability": 2, "cost": 1},
        "provenance": {"facewright": "0.1.0", "python": "3.12", "seed": 0, "seconds": 0.01},
        "cautions": CAUTIONS, **more,
    }  # fmt: skip
    return summary, ranked(designs)


@cache
def harbour() -> Run:
    """A cube and an octagonal bipyramid like an eight- and a twelve-face die: all designs."""
    found = [design(dice, split) for dice, split in deals((8, 12), (6, 16))]
    return run(
        "harbour-dues", "Harbour dues on a cube and an octagonal bipyramid",
        "Which labels on a fair 6-face and a fair 16-face die, rolled together, give the totals of an ordinary 8-face "
        "and 12-face die?",
        "Ten sets do it. With whole numbers from 1 up there are no others.",
        (8, 12), [one_set((6, 16), (8, 12), len(found))], found,
    )  # fmt: skip


@cache
def six_dice() -> Run:
    """Six twelve-face dice like six ordinary ones."""
    found = [design(dice, split) for dice, split in deals((12,) * 6, (12,) * 6)]
    return run(
        "six-buoys", "Six buoys, one channel", "Which labels on six 12-face dice give the totals of six ordinary ones?",
        f"{len(found):,} sets do it, the ordinary one among them.",
        (12,) * 6, [one_set((12,) * 6, (12,) * 6, len(found))], found,
    )  # fmt: skip


@cache
def choice() -> Run:
    """Two dice of a choice like two cubes."""
    sets, found = [], []
    for faces in ((3, 12), (4, 9), (6, 6)):
        here = [design(dice, split, len(sets)) for dice, split in deals((6, 6), faces)]
        sets.append(one_set(faces, (6, 6), len(here), "complete" if here else "none"))
        if not here:
            sets[-1]["reason"] = "No way to deal the factors leaves whole numbers of faces."
        found += here
    dropped = [
        {
            "faces": [a, b],
            "reason": f"{a} × {b} outcomes cannot give the chances of 36 equally likely outcomes.",
        }
        for a, b in combinations_with_replacement((3, 4, 6, 9, 12), 2)
        if a * b % 36
    ]
    return run(
        "ferry-fares", "Ferry fares with whatever dice the shop has",
        "Which two of 3, 4, 6, 9 and 12 faces give the totals of two ordinary cubes?",
        f"{len(found)} sets of labels do it, on {sum(1 for one in sets if one['count'])} sets of dice.",
        (6, 6), sets, found, dropped=dropped,
    )  # fmt: skip


@cache
def nothing() -> Run:
    """Five and seven faces like two cubes: none."""
    return run(
        "lost-cargo", "Lost cargo", "Which labels on a 5-face and a 7-face die give the totals of two ordinary cubes?",
        "No set does it, whatever whole numbers stand on the faces.", (6, 6), [one_set((5, 7), (6, 6), 0, "none")], [],
        verdict="none",
        reason="Five and seven faces make 35 equally likely outcomes. A total of 2 should come up once in 36, and no "
        "whole number of 35 outcomes is one in 36.",
        evidence={"engine": "factors", "proved": True, "recounted": 0, "seconds": 0.001, "bound": None},
    )  # fmt: skip


@cache
def nearest() -> Run:
    """Two tetrahedra nearest to two five-face dice: every pair of dice with labels 1 to 6 was compared."""
    target = ordinary_ways((5, 5))
    best: list[tuple[Fraction, list[Sequence[int]]]] = []
    pool = list(combinations_with_replacement(range(1, 7), 4))
    for a, b in combinations_with_replacement(pool, 2):
        found = ways_of((a, b))
        off = sum(abs(25 * found.get(r, 0) - 16 * target.get(r, 0)) for r in {*found, *target})
        if not best or off < best[0][0]:
            best = []
        if not best or off == best[0][0]:
            best.append((Fraction(off), [a, b]))
    distance = str(best[0][0] / (2 * 16 * 25))
    found_designs = [design(dice, None, 0, distance) for _, dice in best]
    one = one_set((4, 4), (5, 5), len(best), "best")
    return run(
        "short-tide", "A short tide", "Which labels on two tetrahedra come nearest to two ordinary 5-face dice?",
        f"The nearest is {distance} away. With labels from 1 to 6 nothing comes nearer.", (5, 5), [one], found_designs,
        verdict="best", proof=[],
        reason="The distance is the share of the chances that would have to move.",
        evidence={"engine": "solver", "proved": True, "recounted": len(best), "seconds": 1.2, "bound": distance},
    )  # fmt: skip


@cache
def great_pairs() -> tuple[tuple[list[int], list[int], list[int], list[int]], ...]:
    """Pairs of 120-face dice like two ordinary ones, one of each pair a product of evenly spaced rows of labels."""
    held = orders((120, 120))
    ds = sorted(held)
    pieces = [
        (k, [1 if (m * k) % d == 0 and m % d else 0 for d in ds])
        for m in range(1, 121)
        for k in range(2, 121)
        if 120 % (m * k) == 0
    ]
    cuts: set[tuple[int, ...]] = set()

    def go(first: int, left: int, cut: list[int]) -> None:
        if left == 1:
            cuts.add(tuple(cut))
            return
        for place in range(first, len(pieces)):
            k, more = pieces[place]
            after = [a + b for a, b in zip(cut, more, strict=True)]
            if left % k == 0 and max(after) <= 2:
                go(place, left // k, after)

    go(0, 120, [0] * len(ds))
    out, seen = [], set()
    for cut in sorted(cuts):
        rest = tuple(2 - c for c in cut)
        a, b = (die_of(dict(zip(ds, c, strict=True))) for c in (cut, rest))
        key = frozenset((tuple(a), tuple(b)))
        if min(b) >= 0 and key not in seen:
            seen.add(key)
            out.append((a, b, [1, *cut], [1, *rest]))
    return tuple(out)


@cache
def great(count: int) -> Run:
    """So many designs on two 120-face dice; past the pairs found, the numbers move from one die to the other."""
    pairs, found = great_pairs(), []
    for place in range(count):
        a, b, cut, rest = pairs[place % len(pairs)]
        shift = place // len(pairs)
        found.append(design([labels_of(a, 1 - shift), labels_of(b, 1 + shift)], [cut, rest]))
    return run(
        "great-tide", "The great tide table", "Which labels on two 120-face dice give the totals of two ordinary ones?",
        f"{count:,} sets are listed here.", (120, 120), [one_set((120, 120), (120, 120), count)], found,
    )  # fmt: skip
