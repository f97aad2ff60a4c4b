"""The engines, in order: the first that accepts a question answers it. One file and one line here each."""

from __future__ import annotations

from facewright.search.engines.base import Engine
from facewright.search.engines.factors import Factors
from facewright.search.engines.given import Given
from facewright.search.engines.nearest.solver import NearestSolver
from facewright.search.engines.nearest.totals import NearestTotals
from facewright.search.engines.solver import Solver

ENGINES: tuple[Engine, ...] = (Factors(), Given(), NearestTotals(), NearestSolver(), Solver())

__all__ = ["ENGINES", "Engine"]
