"""Tested rolls as the contract's JSON."""

from __future__ import annotations

from typing import Any

from facewright.search.rolls.deviation import ranges
from facewright.search.rolls.judging import Judged, Test
from facewright.search.rolls.tally import Tally


def as_json(judged: Judged, tally: Tally, said: dict[str, Any]) -> dict[str, Any]:
    """One object: `rolls`, `tests`, `untested`, `unread`, and what more is known.

    Params:
        said: the sentences, and what the page is called.
    """
    seen = judged.seen
    return {
        **said,
        "rolls": tally.rolls,
        "rows": tally.rows,
        "level": judged.level,
        "unusual": [one.of for one in judged.unusual],
        "unusual_whenever_looked": [one.of for one in judged.alarms],
        "e_value_needed": judged.limit,
        "seen": None
        if seen is None
        else {
            "off": seen.off,
            "certainty": seen.certainty,
            "share": None if seen.share == float("inf") else seen.share,
            "at_certainty": seen.wanted,
            "level": judged.own_level,
            "hardest": seen.named,
        },
        "tests": [_test(one, judged.level) for one in (*judged.whole, *judged.parts)],
        "untested": list(judged.untested),
        "unread": [{"line": one.line, "text": one.text, "reason": one.reason} for one in tally.unread],
        "unread_more": tally.uncounted,
        "passed_over": list(tally.header.passed_over),
    }


def _test(one: Test, level: float) -> dict[str, Any]:
    found: dict[str, Any] = {
        "of": one.of,
        "rolls": one.rolls,
        "chi_square": one.chi.statistic,
        "degrees": one.chi.degrees,
        "p": one.chi.p,
        "p_is": one.chi.p_is,
        "p_adjusted": one.p_adjusted,
        "e_value": one.e_value,
        "e_value_highest": one.highest,
        "e_value_highest_at": one.highest_at,
        "same_as": one.same_as,
        "largest": None,
    }
    if one.most is not None:
        low, high = ranges(one.rolls, one.view.ways, level)
        place = one.most.place
        found["largest"] = {"of": one.view.cells[place], "observed": one.counts[place], "p": one.most.p}
        found["counts"] = [
            {
                "of": cell,
                "observed": count,
                "expected": one.rolls * way / one.view.outcomes,
                "usual": [int(least), int(most)],
            }
            for cell, count, way, least, most in zip(
                one.view.cells, one.counts, one.view.ways, low, high, strict=True
            )
        ]
    return found
