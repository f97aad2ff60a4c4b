"""The engines, in order: the first that accepts a question answers it. One file and one line here each.

A module is loaded when its engine's turn comes, so that a question loads no more than it needs.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from importlib import import_module
from typing import Any, overload

from facewright.constraints.contest import BEATS, ORDERS
from facewright.search.engines.base import ContestEngine, Engine


@cache
def _engine(place: str) -> Any:
    """The engine that stands at a place such as "factors:Factors"."""
    module, _, kind = place.partition(":")
    return getattr(import_module(f"{__name__}.{module}"), kind)()


class Engines(Sequence[Engine]):
    """The engines of numberings that have a target."""

    def __init__(self, *places: str) -> None:
        self._places = places

    @overload
    def __getitem__(self, at: int) -> Engine: ...
    @overload
    def __getitem__(self, at: slice) -> Sequence[Engine]: ...
    def __getitem__(self, at: int | slice) -> Engine | Sequence[Engine]:
        if isinstance(at, slice):
            return [_engine(place) for place in self._places[at]]
        engine: Engine = _engine(self._places[at])
        return engine

    def __len__(self) -> int:
        return len(self._places)


class ContestEngines(Mapping[str, ContestEngine]):
    """The engines of contests, by reading."""

    def __init__(self, places: Mapping[str, str]) -> None:
        self._places = places

    def __getitem__(self, read: str) -> ContestEngine:
        engine: ContestEngine = _engine(self._places[read])
        return engine

    def __iter__(self) -> Iterator[str]:
        return iter(self._places)

    def __len__(self) -> int:
        return len(self._places)


ENGINES = Engines(
    "factors:Factors",
    "given:Given",
    "exact.ranks:Ranks",
    "exact.mirrored:Mirrored",
    "exact.products:Products",
    "exact.side_by_side:SideBySide",
    "exact.classes:Classes",
    "sifting:Sifting",
    "nearest.totals:NearestTotals",
    "nearest.solver:NearestSolver",
    "solver:Solver",
)

CONTEST_ENGINES = ContestEngines({BEATS: "duels.engine:Duels", ORDERS: "orders.engine:Orders"})

__all__ = ["CONTEST_ENGINES", "ENGINES", "ContestEngine", "Engine"]
