"""The worst direction of sums of absolute values: by hand, by all sign patterns, by many directions."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from facewright.constraints.worst import GAP, worst_axis, worst_direction
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

whole = st.integers(-4, 4).map(float)


def everywhere(many: int = 20_000) -> np.ndarray:
    found = np.random.default_rng(2).normal(size=(many, 3))
    return np.asarray(found / np.linalg.norm(found, axis=1, keepdims=True))


@settings(max_examples=60, deadline=None)
@given(rows=st.integers(1, 7).flatmap(lambda m: arrays(np.float64, (m, 3), elements=whole)))
def test_the_longest_signed_sum(rows: np.ndarray) -> None:
    """Small whole numbers make many forms parallel, coplanar or nothing."""
    best = max(float(np.linalg.norm(np.array(signs) @ rows)) for signs in product((1, -1), repeat=len(rows)))
    found = worst_direction(rows)
    assert found.value == pytest.approx(best, abs=1e-9)
    assert found.bound == found.value
    assert float(np.abs(rows @ found.direction).sum()) == pytest.approx(best, abs=1e-9)
    assert float(np.linalg.norm(found.direction)) == pytest.approx(1, abs=1e-12)


def test_a_hundred_and_twenty_forms() -> None:
    rows = np.random.default_rng(3).normal(size=(120, 3))
    found = worst_direction(rows)
    seen = np.abs(everywhere() @ rows.T).sum(axis=1).max()
    assert seen <= found.value < seen * 1.001


@pytest.mark.parametrize("many", [1, 2, 5, 40])
def test_the_worst_axis_is_reached_and_bounded(many: int) -> None:
    raw = np.random.default_rng(many).normal(size=(many, 3, 3))
    forms = raw + raw.transpose(0, 2, 1)
    found = worst_axis(forms)
    d = found.direction
    assert float(np.abs(np.einsum("rij,i,j->r", forms, d, d)).sum()) == pytest.approx(found.value, rel=1e-12)
    assert found.value <= found.bound <= found.value * (1 + 2 * GAP)
    seen = np.abs(np.einsum("rij,ni,nj->nr", forms, everywhere(), everywhere())).sum(axis=1).max()
    assert seen <= found.bound
    assert found.value < seen * 1.01


def test_one_form_gives_its_largest_eigenvalue() -> None:
    found = worst_axis(np.diag([1.0, 2.0, -5.0])[None])
    assert found.value == pytest.approx(5)
    assert found.direction == pytest.approx([0, 0, 1])


def test_the_bound_is_honest_where_the_search_is_cut_short(monkeypatch: pytest.MonkeyPatch) -> None:
    raw = np.random.default_rng(9).normal(size=(30, 3, 3))
    forms = raw + raw.transpose(0, 2, 1)
    whole_search = worst_axis(forms)
    monkeypatch.setattr("facewright.constraints.worst.MOST_CAPS", 1)
    cut_short = worst_axis(forms)
    assert cut_short.bound > whole_search.bound >= cut_short.value


@pytest.mark.parametrize("nothing", [np.zeros((0, 3)), np.zeros((4, 3)), np.full((2, 3), 1e-17)])
def test_nothing_has_no_worst_direction(nothing: np.ndarray) -> None:
    assert worst_direction(nothing).value == 0
    assert worst_axis(nothing[:, :, None] * np.ones((1, 1, 3))).value == 0
