"""The best designs proved without listing the rest, against listing, recounting and scoring them all."""

from __future__ import annotations

import statistics
import sys
import time
from typing import Any

from facewright.constraints.brief import parse
from facewright.search.finding import answered
from facewright.search.report.contents import ranked_designs
from facewright.search.report.scores import load_scores
from facewright.search.stop import never

BEST = 20
"""So many are asked for."""

SOLIDS = "4 6 8 10 12 16 20 24 30 48 60 120"

CASES = [
    ("two 120-face dice", 'like = "2d120"\ndice = [120, 120]'),
    ("two of twelve face counts, like 2d60", f'like = "2d60"\ndice = "2 of {SOLIDS}"'),
    ("three of twelve face counts, like 3d12", f'like = "3d12"\ndice = "3 of {SOLIDS}"'),
    ("four 60-face dice", f'like = "4d60"\ndice = {[60] * 4}'),
]
"""Questions with more designs than one looks at; the last two only in the long form."""

MOST_LISTED = 100_000
"""So many designs are listed for comparison, at the most."""


def best_first(*, quick: bool, repeats: int) -> list[str]:
    """Rows: the best of each question, and how long both ways take."""
    rows = []
    for title, text in CASES[:2] if quick else CASES:
        head = f'title = "bench"\nread = "total"\n{text}\n'
        ours, count, best = _timed(f"{head}stop = {{ designs = {BEST} }}\n", BEST, repeats)
        beside = "not listed | –"
        if count <= MOST_LISTED:
            plain, _, every = _timed(head, MOST_LISTED, 1)
            if [one.overall for one in best] != [one.overall for one in every[:BEST]]:
                raise SystemExit(f"bench: {title}: the best are others than those of all designs")
            beside = f"{plain:.2f} s | {plain / ours:,.1f}"
        rows.append(f"| {title} | {count:,} | {ours:.2f} s | {beside} |")
        print(rows[-1], file=sys.stderr)
    return rows


def _timed(text: str, limit: int, repeats: int) -> tuple[float, int, list[Any]]:
    """Median seconds to answer and rank, how many designs there are, and those listed with their scores, best first."""
    question, settings = parse(text, "bench"), load_scores(None)
    times: list[float] = []
    ranked: list[Any] = []
    for _ in range(repeats):
        started = time.perf_counter()
        answer = answered(question, seed=0, stop=never, limit=limit, settings=settings)
        ranked = ranked_designs(answer, settings)
        times.append(time.perf_counter() - started)
    if answer.verdict != "complete":
        raise SystemExit(f"bench: best first: found the verdict {answer.verdict}")
    return statistics.median(times), answer.count, ranked
