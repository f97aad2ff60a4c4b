"""The Pareto front against its definition, spelt out."""

from __future__ import annotations

from facewright.search.products.front import bettered_by, dominates, front_of
from hypothesis import given
from hypothesis import strategies as st

tables = st.integers(1, 4).flatmap(
    lambda wide: st.lists(st.tuples(*[st.integers(0, 4)] * wide), min_size=1, max_size=14)
)


def spelt_out(rows: list[tuple[int, ...]]) -> list[bool]:
    front = []
    for mine in rows:
        beaten = False
        for theirs in rows:
            nowhere_worse = all(t >= m for t, m in zip(theirs, mine, strict=True))
            somewhere_better = any(t > m for t, m in zip(theirs, mine, strict=True))
            beaten = beaten or (nowhere_worse and somewhere_better)
        front.append(not beaten)
    return front


@given(tables)
def test_the_front_is_that_of_the_definition(rows: list[tuple[int, ...]]) -> None:
    wanted = spelt_out(rows)
    assert front_of(rows) == wanted
    assert any(wanted)
    criteria = [lambda one, other, at=at: rows[one][at] > rows[other][at] for at in range(len(rows[0]))]
    assert [not by for by in bettered_by(len(rows), criteria)] == wanted


@given(st.lists(st.tuples(st.floats(1, 10), st.floats(0.01, 3), st.integers(0, 3)), min_size=1, max_size=10))
def test_with_costs_that_hardly_differ_some_design_is_still_on_the_front(
    rows: list[tuple[float, float, int]],
) -> None:
    # cheaper only where the gap is wider than both uncertainties: this is no transitive order
    def cheaper(one: int, other: int) -> bool:
        return rows[one][0] + rows[one][1] + rows[other][1] < rows[other][0]

    def nicer(one: int, other: int) -> bool:
        return rows[one][2] > rows[other][2]

    by = bettered_by(len(rows), [cheaper, nicer])
    assert any(not one for one in by)
    for other, beaten in enumerate(by):
        for one in beaten:
            assert dominates(one, other, [cheaper, nicer])
            assert not dominates(other, one, [cheaper, nicer])


def test_nothing_to_compare_by_leaves_all_on_the_front() -> None:
    assert bettered_by(3, []) == [(), (), ()]
