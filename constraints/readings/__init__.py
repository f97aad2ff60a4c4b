"""The readings that can be asked for: one module each, one line each in this table."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Any

from facewright.constraints.readings.base import Reading
from facewright.constraints.readings.difference import Difference
from facewright.constraints.readings.highest import Highest
from facewright.constraints.readings.how_many import HowMany
from facewright.constraints.readings.lowest import Lowest
from facewright.constraints.readings.middle import Middle
from facewright.constraints.readings.product import Product
from facewright.constraints.readings.reroll import Rerolled
from facewright.constraints.readings.side_by_side import SideBySide
from facewright.constraints.readings.signed_difference import SignedDifference
from facewright.constraints.readings.total import Total
from facewright.constraints.readings.total_modulo import TotalModulo
from facewright.constraints.readings.total_of_highest import TotalOfHighest, TotalOfLowest

How = tuple[tuple[str, Any], ...]
"""What a reading must be told: (key of the brief, value), sorted by key."""

READINGS: dict[str, Callable[..., Reading]] = {
    Total.name: Total,
    Highest.name: Highest,
    Lowest.name: Lowest,
    Difference.name: Difference,
    SignedDifference.name: SignedDifference,
    Product.name: Product,
    SideBySide.name: SideBySide,
    TotalModulo.name: TotalModulo,
    Middle.name: Middle,
    TotalOfHighest.name: TotalOfHighest,
    TotalOfLowest.name: TotalOfLowest,
    HowMany.name: HowMany,
}
"""What makes each reading, given what it must be told."""

PARAMETERS: Mapping[str, tuple[str, ...]] = {
    TotalModulo.name: ("modulo",),
    TotalOfHighest.name: ("keep",),
    TotalOfLowest.name: ("keep",),
    HowMany.name: ("at_least",),
}
"""The keys of a brief that a reading needs."""

REROLL = "reroll"
"""The key that goes with every reading: labels that are rolled again."""


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
    return Rerolled(reading, again) if again else reading


def how_to_form(how: How) -> dict[str, Any]:
    """What a reading is told, as JSON holds it."""
    return {key: list(value) if isinstance(value, tuple) else value for key, value in how}


def how_from_form(form: Mapping[str, Any]) -> How:
    """What `how_to_form` wrote."""
    told = ((key, tuple(value) if isinstance(value, list) else value) for key, value in form.items())
    return tuple(sorted(told))


__all__ = ["PARAMETERS", "READINGS", "REROLL", "How", "Reading", "how_from_form", "how_to_form", "reading_of"]
