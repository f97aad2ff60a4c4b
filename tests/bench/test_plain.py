"""The frozen yardsticks count right: a wrong one would measure nothing."""

from __future__ import annotations

import pytest

from tests.bench import plain, plain_split

COUNTS = {2: 1, 4: 2, 5: 1, 6: 2, 8: 4, 9: 2, 10: 2}
"""Pairs of n-face dice like 2dn. Source: OEIS A111588 (N. J. A. Sloane 2005; corr. 2010), seen; 2 by hand."""


@pytest.mark.parametrize(("n", "count"), COUNTS.items())
@pytest.mark.parametrize("workers", [1, 2])
def test_the_plain_model_counts_right(n: int, count: int, workers: int) -> None:
    found, seconds = plain.run(n, 60, workers)
    assert found == count
    assert seconds > 0


@pytest.mark.parametrize(("n", "count"), [*COUNTS.items(), (24, 33), (30, 13), (48, 140)])
def test_plain_splitting_counts_right(n: int, count: int) -> None:
    found, seconds = plain_split.run(n, 60, 1)
    assert found == count
    assert seconds > 0


def test_both_say_so_when_the_time_was_short() -> None:
    assert plain.run(24, 0.2, 1)[0] is None
    assert plain_split.run(120, 0.1, 1)[0] is None
