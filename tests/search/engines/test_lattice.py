"""Counting on a lattice against counting by hand."""

from __future__ import annotations

from collections import Counter
from itertools import combinations_with_replacement, product

import pytest
from facewright.search.engines.splitting import lattice as module
from facewright.search.engines.splitting.lattice import Lattice, Multisets
from facewright.search.stop import Stopped
from hypothesis import given, settings
from hypothesis import strategies as st

tops = st.lists(st.integers(0, 3), min_size=1, max_size=4).map(tuple)


def vectors(top: tuple[int, ...]) -> list[tuple[int, ...]]:
    return list(product(*(range(t + 1) for t in top)))


@settings(derandomize=True, max_examples=60, deadline=None)
@given(tops, st.data())
def test_sums_of_two_bags(top: tuple[int, ...], data: st.DataObject) -> None:
    lattice = Lattice(top)
    some = st.dictionaries(st.sampled_from(vectors(top)), st.integers(1, 5), max_size=12)
    one, other = data.draw(some), data.draw(some)
    expected: Counter[tuple[int, ...]] = Counter()
    for a, b in product(one, other):
        whole = tuple(x + y for x, y in zip(a, b, strict=True))
        if all(w <= t for w, t in zip(whole, top, strict=True)):
            expected[whole] += one[a] * other[b]
    packed = [{lattice.pack(v): n for v, n in bag.items()} for bag in (one, other)]
    wanted = {lattice.pack(v): n for v, n in expected.items()}
    assert lattice.convolved(*packed) == wanted
    if one and other:
        assert lattice._in_chunks(*packed, lambda: None) == wanted
    assert lattice.meeting(*packed) == expected[top]


@settings(derandomize=True, max_examples=60, deadline=None)
@given(tops, st.integers(1, 3))
def test_dilation(top: tuple[int, ...], factor: int) -> None:
    lattice = Lattice(top)
    for vector in vectors(top):
        grown = tuple(factor * v for v in vector)
        fits = all(g <= t for g, t in zip(grown, top, strict=True))
        assert lattice.times(factor, lattice.pack(vector)) == (lattice.pack(grown) if fits else None)


@settings(derandomize=True, max_examples=60, deadline=None)
@given(
    st.lists(st.integers(0, 3), min_size=1, max_size=3).map(tuple),
    st.lists(st.integers(1, 3), min_size=1, max_size=2),
    st.data(),
)
def test_multisets_against_enumeration(top: tuple[int, ...], sizes: list[int], data: st.DataObject) -> None:
    lattice = Lattice(top)
    kinds = [
        data.draw(st.lists(st.sampled_from(vectors(top)), unique=True, min_size=1, max_size=6)) for _ in sizes
    ]
    ways = 0
    for choice in product(*(combinations_with_replacement(k, n) for k, n in zip(kinds, sizes, strict=True))):
        chosen = [vector for group in choice for vector in group]
        ways += tuple(map(sum, zip(*chosen, strict=True))) == top
    bags = [dict.fromkeys(map(lattice.pack, kind), 1) for kind in kinds]
    assert Multisets(lattice, bags, sizes).count == ways


def test_a_carry_is_no_sum() -> None:
    lattice = Lattice((1, 1))
    assert not lattice.adds(lattice.pack((1, 0)), lattice.pack((1, 0)))
    assert lattice.adds(lattice.pack((1, 0)), lattice.pack((0, 1)))


def test_counting_can_be_stopped(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "BY_HAND", 0)
    lattice = Lattice((3, 3))
    bag = {lattice.pack(v): 1 for v in vectors((3, 3))}
    with pytest.raises(Stopped, match="enough"):
        lattice.convolved(bag, bag, lambda: "enough")
