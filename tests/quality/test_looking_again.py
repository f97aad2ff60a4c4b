"""False alarms of the test that may be looked at after every roll, over many dice without bias."""

from __future__ import annotations

import pytest

from tests.looks import looked_at


@pytest.mark.quality
@pytest.mark.parametrize("faces", [2, 6, 20, 120])
def test_false_alarms_stay_below_the_level(faces: int) -> None:
    alarms, peeked = looked_at(faces, runs=4000, rolls=5000, every=100, seed=faces)
    assert alarms <= 0.05
    assert peeked > 0.25
