"""The engines, in order: the first that accepts a question answers it. One file and one line here each."""

from __future__ import annotations

from facewright.constraints.contest import BEATS, ORDERS
from facewright.search.engines.base import ContestEngine, Engine
from facewright.search.engines.duels.engine import Duels
from facewright.search.engines.exact.classes import Classes
from facewright.search.engines.exact.mirrored import Mirrored
from facewright.search.engines.exact.products import Products
from facewright.search.engines.exact.ranks import Ranks
from facewright.search.engines.exact.side_by_side import SideBySide
from facewright.search.engines.factors import Factors
from facewright.search.engines.given import Given
from facewright.search.engines.nearest.solver import NearestSolver
from facewright.search.engines.nearest.totals import NearestTotals
from facewright.search.engines.orders.engine import Orders
from facewright.search.engines.sifting import Sifting
from facewright.search.engines.solver import Solver

ENGINES: tuple[Engine, ...] = (
    Factors(),
    Given(),
    Ranks(),
    Mirrored(),
    Products(),
    SideBySide(),
    Classes(),
    Sifting(),
    NearestTotals(),
    NearestSolver(),
    Solver(),
)

CONTEST_ENGINES: dict[str, ContestEngine] = {BEATS: Duels(), ORDERS: Orders()}
"""The engines of contests, by reading."""

__all__ = ["CONTEST_ENGINES", "ENGINES", "ContestEngine", "Engine"]
