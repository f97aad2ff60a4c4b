"""The engines, in order: the first that accepts a question answers it. One file and one line here each."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from importlib import import_module
from typing import overload

from facewright.search.engines.base import Engine


class Engines(Sequence[Engine]):
    """The engines; a module is loaded when its engine's turn comes, so that a question loads no more than it needs."""

    def __init__(self, *places: str) -> None:
        self._places = places

    @overload
    def __getitem__(self, at: int) -> Engine: ...
    @overload
    def __getitem__(self, at: slice) -> Sequence[Engine]: ...
    def __getitem__(self, at: int | slice) -> Engine | Sequence[Engine]:
        return (
            [_engine(one) for one in self._places[at]] if isinstance(at, slice) else _engine(self._places[at])
        )

    def __len__(self) -> int:
        return len(self._places)


@cache
def _engine(place: str) -> Engine:
    """The engine that stands at a place such as "factors:Factors"."""
    module, _, kind = place.partition(":")
    engine: Engine = getattr(import_module(f"{__name__}.{module}"), kind)()
    return engine


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

__all__ = ["ENGINES", "Engine"]
