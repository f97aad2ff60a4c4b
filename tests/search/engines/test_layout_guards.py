"""Shifts kept up to date from swap to swap, against shifts worked out anew; probes in whole numbers."""

from __future__ import annotations

import numpy as np
import pytest
from facewright.constraints.flaw_probes import half_sphere, in_whole_numbers, probes
from facewright.constraints.flaws import FLAW, rolled, shift
from facewright.constraints.guards import GUARDS
from facewright.constraints.layout import Roll
from facewright.constraints.readouts import Label
from facewright.constraints.solids import solid
from facewright.search.engines.layout_guards import GuardSums


def columns(labels: tuple[Label, ...]) -> list[int]:
    different = list(dict.fromkeys(labels))
    return [different.index(label) for label in labels]


def test_directions_leave_no_gap() -> None:
    tried = np.random.default_rng(6).normal(size=(20_000, 3))
    tried /= np.linalg.norm(tried, axis=1, keepdims=True)
    nearest = np.abs(tried @ half_sphere().T).max(axis=1)
    assert np.degrees(np.arccos(nearest)).max() < 7.5


@pytest.mark.parametrize("goal", GUARDS)
@pytest.mark.parametrize("roll", [Roll(), Roll("total", ((1, 2, 3),)), Roll("highest", ((1, 5, 9),))])
def test_probes_come_near_the_worst_and_never_above(goal: str, roll: Roll) -> None:
    body = solid("rhombic triacontahedron")
    labels: tuple[Label, ...] = tuple(int(x) for x in np.random.default_rng(3).integers(1, 8, size=30))
    sums = GuardSums(probes(goal, body, "vertex"), rolled(labels, roll), columns(labels))
    worst = shift(goal, body, labels, roll, "vertex").worst / FLAW
    assert worst * 0.98 <= sums.shift() <= worst + 1e-9


@pytest.mark.parametrize("roll", [Roll(), Roll("lowest", ((2, 4, 6),))])
def test_many_swaps(roll: Roll) -> None:
    body, rng = solid("deltoidal icositetrahedron"), np.random.default_rng(4)
    labels: list[Label] = [int(x) for x in rng.integers(1, 7, size=24)]
    probed, results = probes("off-centre", body, None), rolled(tuple(labels), roll)
    different = list(dict.fromkeys(labels))
    sums = GuardSums(probed, results, columns(tuple(labels)))
    for a, b in rng.integers(0, 24, size=(60, 2)).tolist():
        expected = sums.after(a, b)
        sums.swap(a, b)
        labels[a], labels[b] = labels[b], labels[a]
        anew = GuardSums(probed, results, [different.index(label) for label in labels])
        assert [different[number] for number in sums.labels] == labels
        assert sums.shift() == pytest.approx(expected, abs=1e-12)
        assert sums.shift() == pytest.approx(anew.shift(), abs=1e-12)


def test_whole_numbers_are_off_by_little() -> None:
    body = solid("octahedron")
    probed, unit = probes("out-of-round", body, None), 1e-6
    numbers = in_whole_numbers(probed, unit)
    assert numbers.dtype == np.int64
    labels = np.array([0, 1, 1, 2, 2, 0, 1, 2])
    exact, whole = (
        sum(np.abs(rows[labels == label].sum(axis=0)) for label in range(3)) / 2 for rows in (probed, numbers)
    )
    assert np.abs(np.asarray(whole) * unit - exact).max() <= len(labels) / 4 * unit
