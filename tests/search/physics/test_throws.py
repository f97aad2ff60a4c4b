"""Simulated throws: shapes and outcomes by hand; with the simulator, what must hold of any throw."""

from __future__ import annotations

from fractions import Fraction
from math import sqrt

import numpy as np
import pytest
from facewright.constraints.errors import UsageError
from facewright.constraints.solids.smooth.body import SmoothBody
from facewright.search.physics import throws
from facewright.search.physics.throws import Coin, Roller, Tally, Throw, throw_many

ROLLER = Roller(SmoothBody("tetrahedral", 3, (Fraction(11, 200),)))
needs_physics = pytest.mark.skipif(
    not throws.physics_available(),
    reason="no mujoco: simulated throws are not tested; pip install -e '.[physics]'",
)


def test_without_the_simulator_it_says_what_is_needed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(throws, "ENGINE", "no_such_simulator")
    with pytest.raises(UsageError, match=r"needs the extra \[physics\]"):
        throw_many(Coin(0.3), 1)


def test_how_a_coin_lies() -> None:
    coin = Coin(0.5)
    assert coin.names[coin.outcome(np.array([0.0, 0.0, -1.0]))] == "face"
    assert coin.names[coin.outcome(np.array([1.0, 0.0, 0.0]))] == "rim"
    # over the edge: the corner below the centre, at tan = diameter / thickness from the axis
    edge = 0.5 / sqrt(1.25)
    for lean, name in ((edge - 0.01, "rim"), (edge + 0.01, "face")):
        assert coin.names[coin.outcome(np.array([sqrt(1 - lean * lean), 0.0, lean]))] == name
    assert coin.over == pytest.approx(sqrt(1.25) / 2)
    assert coin.over > max(0.5, 0.25), "a coin passes over its edge higher than it rests"


def test_how_a_smooth_body_lies() -> None:
    assert [ROLLER.outcome(np.array(tip) / sqrt(3)) for tip in ((1, -1, -1), (-1, 1, -1), (-1, -1, 1))] == [
        0,
        1,
        3,
    ]
    assert ROLLER.names == ("1", "2", "3", "4")
    assert 0.41 < ROLLER.over < 0.5


def test_a_share_and_its_error() -> None:
    tally = Tally((("face", 30), ("rim", 10)), 40)
    assert tally.throws == 40
    assert tally.chance("rim") == pytest.approx((0.25, sqrt(0.25 * 0.75 / 40)))
    with pytest.raises(KeyError):
        tally.chance("edge")


@needs_physics
def test_extreme_coins_and_a_stop() -> None:
    flat, tall = throw_many(Coin(0.02), 20, seed=1), throw_many(Coin(8.0), 20, seed=1)
    assert flat.chance("face")[0] > 0.9
    assert tall.chance("rim")[0] > 0.9
    assert throw_many(Coin(0.3), 5, stop=lambda: "now").throws == 0


@needs_physics
def test_a_seed_throws_alike_and_a_throw_matters() -> None:
    assert throw_many(Coin(0.4), 15, seed=3) == throw_many(Coin(0.4), 15, seed=3)
    slow, fast = (throw_many(Coin(0.354), 150, Throw(sideways=speed), seed=2) for speed in (0.3, 4.0))
    assert fast.chance("rim")[0] > slow.chance("rim")[0] + 0.05


@needs_physics
def test_a_smooth_body_favours_no_tip() -> None:
    tally = throw_many(ROLLER, 200, seed=5)
    assert tally.decided > 190
    # chi-square with three degrees of freedom: 16.27 is exceeded once in a thousand (table, from memory)
    assert sum((many - 50) ** 2 / 50 for _, many in tally.counts) < 16.27
