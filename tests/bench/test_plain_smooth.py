"""The plain programme of smooth bodies and the engine agree, so that the benchmark compares like with like."""

from __future__ import annotations

from fractions import Fraction

import pytest
from facewright.constraints.smooth import Smooth
from facewright.search.engines.smooth.engine import EPSILON, Smoothing
from facewright.search.progress import silent
from facewright.search.stop import never

from tests.bench import plain_smooth


@pytest.mark.parametrize(("degree", "coarse"), [(3, 1e-3), (9, 1e-3), (15, 2e-3)])
def test_the_plain_programme_comes_near(degree: int, coarse: float) -> None:
    plain, _ = plain_smooth.run(degree)
    [design] = Smoothing().answer(Smooth("tetrahedral", Fraction(0), degree), 1, never, 0, silent)
    # nothing exceeds the engine's by more than it states, but for what the plain check misses between its points
    assert plain <= design.settling * (1 + EPSILON + 1e-4)
    assert plain == pytest.approx(design.settling, rel=coarse)
