"""The readings that can be asked for: one module each, one line each in this table."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from importlib import import_module
from typing import Any

from facewright.constraints.readings.base import Reading

How = tuple[tuple[str, Any], ...]
"""What a reading must be told: (key of the brief, value), sorted by key."""

REROLL = "reroll"
"""The key that goes with every reading: labels that are rolled again."""

PARAMETERS: Mapping[str, tuple[str, ...]] = {
    "total-modulo": ("modulo",),
    "total-of-highest": ("keep",),
    "total-of-lowest": ("keep",),
    "how-many": ("at_least",),
}
"""The keys of a brief that a reading needs."""


class Readings(Mapping[str, Callable[..., Reading]]):
    """Name → what makes the reading, given what it must be told; a module is loaded when its reading is asked for."""

    def __init__(self, places: Mapping[str, str]) -> None:
        self._places = places

    def __getitem__(self, name: str) -> Callable[..., Reading]:
        module, _, kind = self._places[name].partition(":")
        found: Callable[..., Reading] = getattr(import_module(f"{__name__}.{module}"), kind)
        return found

    def __contains__(self, name: object) -> bool:
        return name in self._places

    def __iter__(self) -> Iterator[str]:
        return iter(self._places)

    def __len__(self) -> int:
        return len(self._places)


READINGS = Readings(
    {
        "total": "total:Total",
        "highest": "highest:Highest",
        "lowest": "lowest:Lowest",
        "difference": "difference:Difference",
        "signed-difference": "signed_difference:SignedDifference",
        "product": "product:Product",
        "side-by-side": "side_by_side:SideBySide",
        "total-modulo": "total_modulo:TotalModulo",
        "middle": "middle:Middle",
        "total-of-highest": "total_of_highest:TotalOfHighest",
        "total-of-lowest": "total_of_highest:TotalOfLowest",
        "how-many": "how_many:HowMany",
    }
)
"""Every reading, by the name that briefs use, and where it stands."""


@lru_cache(maxsize=256)
def reading_of(read: str, how: How = ()) -> Reading:
    """The reading of this name, told what it must know.

    Raises:
        KeyError: no reading has this name.

    Example:
        >>> reading_of("total-modulo", (("modulo", 4),)).result([3, 3])
        2
    """
    told = dict(how)
    again = told.pop(REROLL, ())
    reading = READINGS[read](**told)
    if not again:
        return reading
    from facewright.constraints.readings.reroll import Rerolled

    return Rerolled(reading, again)


def how_to_form(how: How) -> dict[str, Any]:
    """What a reading is told, as JSON holds it."""
    return {key: list(value) if isinstance(value, tuple) else value for key, value in how}


def how_from_form(form: Mapping[str, Any]) -> How:
    """What `how_to_form` wrote."""
    told = ((key, tuple(value) if isinstance(value, list) else value) for key, value in form.items())
    return tuple(sorted(told))


__all__ = ["PARAMETERS", "READINGS", "REROLL", "How", "Reading", "how_from_form", "how_to_form", "reading_of"]
