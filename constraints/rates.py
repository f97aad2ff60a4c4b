"""What making costs: rates with their least, likely and greatest values, units and sources."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

SHIPPED = Path(__file__).with_name("rates.toml")
"""The rates that hold unless a file gives others; its money is invented."""

VALUES = ("low", "likely", "high")
"""The three values of a rate."""


@dataclass(frozen=True)
class Rate:
    """One rate: its least, likely and greatest value, its unit, and what it rests on."""

    low: float
    likely: float
    high: float
    unit: str
    source: str

    @property
    def sure(self) -> bool:
        """Whether it is a fixed quote."""
        return self.low == self.high


@dataclass(frozen=True)
class Rates:
    """All rates, by table and name ("cast.resin"), in one currency.

    `stocked` are the solids that are sold as blanks.
    """

    currency: str
    stocked: tuple[str, ...]
    rates: tuple[tuple[str, Rate], ...]

    @property
    def by_key(self) -> Mapping[str, Rate]:
        """The rates by their keys, in the order of the file."""
        return dict(self.rates)

    def with_rates(self, others: Mapping[str, Rate]) -> Rates:
        """The same with some rates in place of its own; unknown ones are passed over."""
        return replace(self, rates=tuple((key, others.get(key, rate)) for key, rate in self.rates))

    def to_form(self) -> dict[str, Any]:
        """All of it as plain values, from which `from_form` makes an equal one."""
        return {
            "currency": self.currency,
            "stocked": list(self.stocked),
            "rates": {key: asdict(rate) for key, rate in self.rates},
        }

    @classmethod
    def from_form(cls, form: dict[str, Any]) -> Rates:
        """What `to_form` wrote; raises LookupError, TypeError or AttributeError for another form."""
        rates = tuple((key, Rate(**one)) for key, one in form["rates"].items())
        return cls(form["currency"], tuple(form["stocked"]), rates)


@cache
def shipped() -> Rates:
    """The rates of the demo."""
    tables = tomllib.loads(SHIPPED.read_text(encoding="utf-8"))
    return Rates(tables["currency"], tuple(tables["stocked"]), tuple(_rates(tables)))


def _rates(tables: dict[str, Any]) -> Iterator[tuple[str, Rate]]:
    for table, rates in tables.items():
        if isinstance(rates, dict):
            for name, one in rates.items():
                yield f"{table}.{name}", Rate(**one)
