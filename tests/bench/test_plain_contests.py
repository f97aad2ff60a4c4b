"""The frozen models of contests count right: a wrong one would measure nothing."""

from __future__ import annotations

from tests.bench import plain_contests


def test_the_plain_duels_reach_what_is_known() -> None:
    # three 3-face dice, labels 1..9: 5/9, found by full enumeration (numberings of nine labels, once each)
    found, best, bound, seconds = plain_contests.duels(3, 3, 9, 60, 2)
    assert (found, best, bound) == (5, 5, 5)
    assert seconds > 0


def test_the_plain_orders_count_right() -> None:
    # by hand: two 2-face dice share alike only as 1 4 and 2 3
    assert plain_contests.orders(2, 2, 60, every=True)[0] == 1
    # two 4-face dice: half of the labelled words of OEIS A063074 (seen)
    assert plain_contests.orders(4, 2, 60, every=True)[0] == 4
    assert plain_contests.orders(3, 2, 60, every=True)[0] == 0
    assert plain_contests.orders(4, 2, 60, every=False)[0] == 1
    assert plain_contests.orders(6, 3, 0.2, every=True)[0] is None
