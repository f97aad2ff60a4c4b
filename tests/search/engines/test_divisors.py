"""Divisors without negative coefficient: all at once against one by one, and against plain multiplication."""

from __future__ import annotations

from itertools import product

import flint
import pytest
from facewright.search.engines.splitting import divisors as module
from facewright.search.engines.splitting.divisors import fitting, nonnegative_divisors
from facewright.search.engines.splitting.polynomials import factored
from facewright.search.progress import silent
from facewright.search.stop import Stopped, never


def ordinary(*faces: int) -> flint.fmpz_poly:
    poly = flint.fmpz_poly([1])
    for n in faces:
        poly *= flint.fmpz_poly([1] * n)
    return poly


CASES = {
    "three twelves": (ordinary(12, 12, 12), (12,)),
    "24 and 30": (ordinary(24, 30), (24, 30, 8, 90)),
    "a content": (12 * ordinary(12, 12), (12, 144)),
    "not palindromic": (
        flint.fmpz_poly([1, 2])
        * flint.fmpz_poly([3, 1, 1])
        * ordinary(12, 18)
        * flint.fmpz_poly([2, 0, 0, 1]),
        (6, 45, 18, 270),
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_every_way_to_multiply_agrees(case: str, monkeypatch: pytest.MonkeyPatch) -> None:
    poly, faces = CASES[case]
    whole = factored(poly)
    plain = set()
    for vector in product(*(range(power + 1) for power in whole.powers)):
        value = whole.at_one(vector)
        parts = [n // value for n in faces if n % value == 0]
        if any(whole.content % part == 0 for part in parts) and min(whole.product(vector).coeffs()) >= 0:
            plain.add(vector)
    assert plain
    one_by_one = nonnegative_divisors(whole, faces, never, silent)
    assert len(one_by_one) == len(set(one_by_one))
    assert set(one_by_one) == plain
    monkeypatch.setattr(module, "ONE_BY_ONE", 0)
    assert set(nonnegative_divisors(whole, faces, never, silent)) == plain
    monkeypatch.setattr(module, "MOST_COLUMNS", 3)
    monkeypatch.setattr(module, "BATCH", 5)
    assert set(nonnegative_divisors(whole, faces, never, silent)) == plain
    # as if float64 were too small: by residues, then the exact product
    monkeypatch.setattr(module, "EXACT", 1)
    monkeypatch.setattr(module, "FIRST_ROWS", 2)
    assert set(nonnegative_divisors(whole, faces, never, silent)) == plain


def test_factors_multiply_back_and_are_positive_at_one() -> None:
    for poly, _ in CASES.values():
        whole = factored(poly)
        assert whole.product(whole.powers) * whole.content == poly
        assert all(factor.at_one > 0 for factor in whole.factors)
        assert [f.at_one > 1 for f in whole.factors] == sorted(
            (f.at_one > 1 for f in whole.factors), reverse=True
        )


def test_the_constant_of_a_die_is_a_part_of_the_content() -> None:
    whole = factored(3 * ordinary(12))
    assert whole.content == 3
    for vector in fitting(whole, [6]):
        assert 3 % (6 // whole.at_one(vector)) == 0


def test_too_many_divisors_stop_the_search(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "ONE_BY_ONE", 0)
    monkeypatch.setattr(module, "MOST_DIVISORS", 0)
    monkeypatch.setattr(module, "BATCH", 1)
    with pytest.raises(Stopped, match="too many to combine"):
        nonnegative_divisors(factored(ordinary(12, 12)), [12], never, silent)
    with pytest.raises(Stopped, match="enough"):
        nonnegative_divisors(factored(ordinary(12, 12)), [12], lambda: "enough", silent)
