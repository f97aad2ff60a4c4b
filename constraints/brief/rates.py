"""A file of rates of one's own: read over the shipped ones, with every fault of it at once."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from facewright.constraints.brief.describe import describe
from facewright.constraints.brief.faults import Faults, Path, nearest_keys
from facewright.constraints.brief.toml import load
from facewright.constraints.rates import VALUES, Rate, Rates, shipped
from facewright.constraints.texts import quoted

MOST = 1e9
"""No rate is greater."""

MOST_SHARE = 0.95
"""No share is greater."""

MOST_SOURCE = 300
"""How long the words on where a rate is from may be, in characters."""

FIELDS = (*VALUES, "unit", "source")
FORM = 'a table such as { low = 10, likely = 14, high = 20, unit = "EUR a kg", source = "quote of 3 May" }'
POSITIVE = ("dice a mould", "pulls a mould", "shots a tool", "m² a s", "g a cm³", "MPa", "kN")
"""Units of rates that something is divided by, or that cannot be 0."""

NAMES = 'names of solids, such as ["cube", "octahedron"]'
CURRENCY = 'three capital letters, such as "EUR"'


def rates_in(text: str, faults: Faults) -> Rates:
    """The shipped rates with those of a text over them, part by part; with faults, the shipped ones."""
    raw = load(text.removeprefix("\ufeff"), faults)
    return rates_over(shipped(), raw, faults)


def rates_over(usual: Rates, raw: Mapping[str, Any], faults: Faults) -> Rates:
    """Rates with those of a table over them."""
    known = usual.by_key
    currency = _currency(usual, raw, faults)
    stocked = _stocked(usual, raw, faults)
    tables = list(dict.fromkeys(key.partition(".")[0] for key in known))
    stated: dict[str, Rate] = {}
    for table, rates in raw.items():
        if table in ("currency", "stocked"):
            continue
        if table not in tables:
            faults.add((table,), "an unknown key", nearest_keys(table, [*tables, "currency", "stocked"]))
        elif not isinstance(rates, dict):
            faults.add((table,), describe(rates), f"a table [{table}] of rates")
        else:
            own = [key.partition(".")[2] for key in known if key.startswith(f"{table}.")]
            for name, one in rates.items():
                if name not in own:
                    faults.add((table, name), "an unknown rate", nearest_keys(name, own))
                    continue
                key = f"{table}.{name}"
                rate = _rate(known[key], one, currency, (table, name), faults)
                if rate is not None:
                    stated[key] = rate
    if currency != usual.currency:
        _all_money(usual, stated, currency, faults)
    found = replace(usual.with_rates(stated), currency=currency, stocked=stocked)
    _temperatures(found, faults)
    return usual if faults else found


def _currency(usual: Rates, raw: Mapping[str, Any], faults: Faults) -> str:
    stated = raw.get("currency", usual.currency)
    if (
        isinstance(stated, str)
        and len(stated) == 3
        and stated.isascii()
        and stated.isalpha()
        and stated.isupper()
    ):
        return stated
    faults.add(("currency",), describe(stated), CURRENCY)
    return usual.currency


def _stocked(usual: Rates, raw: Mapping[str, Any], faults: Faults) -> tuple[str, ...]:
    stated = raw.get("stocked", list(usual.stocked))
    if not isinstance(stated, list):
        faults.add(("stocked",), describe(stated), NAMES)
        return usual.stocked
    return tuple(solids_in(stated, ("stocked",), faults))


def solids_in(names: list[Any], path: Path, faults: Faults) -> list[str]:
    """The solids of a list by their usual names; a fault for each that is none."""
    from facewright.constraints.solids.names import solid_named
    from facewright.constraints.texts import TextError

    found = []
    for at, name in enumerate(names):
        if not isinstance(name, str):
            faults.add((*path, at), describe(name), NAMES)
            continue
        try:
            found.append(solid_named(name)[0])
        except TextError as unknown:
            faults.add((*path, at), unknown.found, unknown.accepted)
    return found


def _rate(usual: Rate, one: Any, currency: str, path: Path, faults: Faults) -> Rate | None:
    """A rate as the file states it over the usual one; None, with the faults, where it is not sound."""
    unit = usual.unit.replace("EUR", currency)
    if not isinstance(one, dict):
        faults.add(path, describe(one), FORM.replace("EUR a kg", unit))
        return None
    before = faults.many
    source = one.get("source", "your own file")
    values = {name: one[name] for name in VALUES if name in one}
    _stated(one, unit, source, path, faults)
    for name, value in values.items():
        if wrong := _wrong(value, unit):
            faults.add((*path, name), describe(value), wrong)
    if faults.many > before:
        return None
    if set(values) == {"likely"}:
        low = likely = high = float(values["likely"])
    else:
        low, likely, high = (float(values.get(name, getattr(usual, name))) for name in VALUES)
    if not low <= likely <= high:
        filled = [name for name in VALUES if name not in values]
        beside = f" ({' and '.join(filled)} as shipped)" if filled else ""
        faults.add(path, f"low {low:g}, likely {likely:g}, high {high:g}{beside}", "low ≤ likely ≤ high")
        return None
    return Rate(low, likely, high, unit, source.strip())


def _stated(one: Mapping[str, Any], unit: str, source: Any, path: Path, faults: Faults) -> None:
    """The faults of a rate apart from those of its values: unknown keys, its unit, its source, no value at all."""
    for name in one:
        if name not in FIELDS:
            faults.add((*path, name), "an unknown key", nearest_keys(name, FIELDS))
    if "unit" not in one:
        faults.add((*path, "unit"), "nothing: the unit is missing", f'unit = "{unit}"')
    elif one["unit"] != unit:
        faults.add((*path, "unit"), describe(one["unit"]), f'unit = "{unit}"')
    if not isinstance(source, str) or not source.strip() or len(source) > MOST_SOURCE:
        accepted = f"a text of 1 to {MOST_SOURCE} characters: where the rate is from"
        faults.add((*path, "source"), describe(source), accepted)
    if not any(name in one for name in VALUES):
        faults.add(path, "no value", "likely, or low, likely and high")


def _wrong(value: Any, unit: str) -> str | None:
    """What a value would have to be; None where it is sound."""
    number = isinstance(value, int | float) and not isinstance(value, bool)
    if unit.startswith(("share", "from the ball", "part of")):
        most = MOST_SHARE if unit.startswith("share") else 1
        return None if number and 0 <= value <= most else f"a number from 0 to {most:g}, in {quoted(unit)}"
    if unit == "°C":
        return None if number and -50 <= value <= 1000 else "degrees from -50 to 1,000"
    if (
        number
        and math.isfinite(value)
        and (value > 0 or (value == 0 and unit not in POSITIVE))
        and value <= MOST
    ):
        return None
    least = "above 0" if unit in POSITIVE else "from 0"
    return f"a number {least}, up to 1,000,000,000, in {quoted(unit)}"


def _all_money(usual: Rates, stated: Mapping[str, Rate], currency: str, faults: Faults) -> None:
    """In another currency every rate of money must be given: nothing is converted here."""
    lacking = [key for key, rate in usual.rates if rate.unit.startswith(usual.currency) and key not in stated]
    if lacking and not faults:
        shown = ", ".join(lacking[:6]) + (f" and {len(lacking) - 6} more" if len(lacking) > 6 else "")
        accepted = f"{usual.currency}, or all rates of money in {currency}; missing: {shown}"
        faults.add(("currency",), f"{quoted(currency)}, while other rates are in {usual.currency}", accepted)


def _temperatures(rates: Rates, faults: Faults) -> None:
    """The wall must be colder than the ejected part, and that colder than the melt, whatever the rates."""
    known = rates.by_key
    wall, eject, melt = (known[f"mould.{name}"] for name in ("wall", "eject", "melt"))
    if not wall.high < eject.low or not eject.high < melt.low:
        faults.add(
            ("mould", "eject"),
            f"wall up to {wall.high:g} °C, ejected from {eject.low:g} to {eject.high:g} °C, melt from {melt.low:g} °C",
            "a wall colder than the ejected part, and that colder than the melt, over their whole ranges",
        )
