"""Bars of characters: a share as one bar, a distribution as one bar a result beside its exact ways."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from typing import Any

from facewright.constraints.distribution import Distribution, Result
from facewright.search.report.terminal import NARROWEST, bold

LEAST_BAR = 20
"""Where the bars of a distribution would be shorter, what was wanted goes to a line of its own."""

SHORTEST_BAR, LONGEST_BAR = 8, 60
"""Cells of a distribution's longest bar; huge numbers of ways make lines longer rather than bars shorter."""


def distribution_text(
    ways: Mapping[Any, int] | Iterable[Sequence[Any]],
    target_ways: Mapping[Any, int] | Iterable[Sequence[Any]] | None,
    width: int,
    *,
    colour: bool = False,
    plain: bool = False,
) -> str:
    """A distribution as bars, a result a line, with its exact ways; a stroke shows where the wanted bar ends.

    Params: `ways` and `target_ways` as result → ways, or as pairs; None where nothing is wanted. `width` in
    characters; `colour` sets the heading in bold; `plain` keeps to ASCII.
    Returns: lines of text. Results whose chance is not the wanted one say what was wanted.
    """
    width = max(width, NARROWEST)
    found = distribution_given(ways)
    wanted = None if target_ways is None else distribution_given(target_ways)
    both = [found] if wanted is None else [found, wanted]
    results = sorted(set().union(*(one.ways for one in both)))
    highest = max(one.chance(r) for one in both for r in results)
    rows = [(r, _counted(found, r), _wanted(found, wanted, r)) for r in results]
    digits = max(len(result_text(r)) for r in results)
    beside = max(len(words) for _, words, _ in rows)
    noted = max(len(words) + len(note) for _, words, note in rows)
    if width - digits - noted - 5 >= LEAST_BAR:
        beside = noted
    cells = max(SHORTEST_BAR, min(LONGEST_BAR, width - digits - beside - 5))
    lines = [bold(_fit(found, wanted), colour), ""]
    for result, words, note in rows:
        end = None if wanted is None else round(cells * wanted.chance(result) / highest)
        line = f"{result_text(result):>{digits}}  {bar_of(found.chance(result) / highest, cells, plain, end)}  {words}"
        if len(line) + len(note) <= width:
            lines.append(line + note)
        else:
            lines += [line, f"{'':{digits}}{note}"]
    return "\n".join(lines)


def result_text(result: Result) -> str:
    """A result as it is written: a number, or labels side by side.

    Example:
        >>> result_text(-3), result_text((1, 4))
        ('-3', '1 4')
    """
    return " ".join(map(str, result)) if isinstance(result, tuple) else str(result)


def bar_of(share: Fraction | float, cells: int, plain: bool, end: int | None = None) -> str:
    """A bar of so many cells, in eighths of one; a stroke in the cell after `end`."""
    eighths = min(8 * cells, round(8 * cells * share))
    blocks = "█" * (eighths // 8) + " ▏▎▍▌▋▊▉"[eighths % 8].strip()
    bar = "#" * round(eighths / 8) if plain else blocks
    drawn = bar.ljust(cells + (end is not None))
    if end is None:
        return drawn
    return f"{drawn[:end]}{'|' if plain else '│'}{drawn[end + 1 :]}"


def distribution_given(ways: Mapping[Any, int] | Iterable[Sequence[Any]]) -> Distribution:
    """A distribution from result → ways, or from pairs; labels side by side may stand as a list."""
    pairs = ways.items() if isinstance(ways, Mapping) else ways
    return Distribution.of({tuple(r) if isinstance(r, list) else r: count for r, count in pairs})


def _counted(found: Distribution, result: Result) -> str:
    """The ways of a result, set in a column: "5 ways in 96   5.21 %"."""
    count, digits = found.ways.get(result, 0), len(str(max(found.ways.values())))
    many = "way " if count == 1 else "ways"
    return f"{count:>{digits}} {many} in {found.outcomes}  {percent(found, result):>7}"


def _wanted(found: Distribution, wanted: Distribution | None, result: Result) -> str:
    if wanted is None or found.chance(result) == wanted.chance(result):
        return ""
    return f"  wanted {wanted.ways.get(result, 0)} in {wanted.outcomes} ({percent(wanted, result)})"


def percent(distribution: Distribution, result: Result) -> str:
    """The chance of a result in per cent with two decimals, halves rounded up."""
    outcomes = distribution.outcomes
    hundredths = (20_000 * distribution.ways.get(result, 0) + outcomes) // (2 * outcomes)
    return f"{hundredths // 100}.{hundredths % 100:02} %"


def _fit(found: Distribution, wanted: Distribution | None) -> str:
    outcomes = f"{found.outcomes:,} outcome{'s' * (found.outcomes != 1)}"
    if wanted is None:
        return outcomes
    distance = found.distance(wanted)
    if not distance:
        return f"{outcomes}; every chance is exactly as wanted"
    return f"{outcomes}; distance {distance} from what was wanted"
