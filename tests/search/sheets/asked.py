"""Sheets of small questions of every kind, for tests."""

from __future__ import annotations

from functools import cache
from typing import Any

from facewright.constraints.brief import parse
from facewright.search import find
from facewright.search.make.sizing import Wishes
from facewright.search.report.contents import ranked_designs
from facewright.search.report.scores import load_scores
from facewright.search.sheets.facts import Sheet, sheet_of

BRIEFS = {
    "total": 'title = "Quay <dues>"\nlike = "2d4"\nread = "total"\ndice = [4, 4]\n',
    "carrier": 'title = "Tug"\nlike = "d3 + d6"\nread = "total"\ndice = [{ faces = 3, solid = "cube" }, 6]\n',
    "highest": 'title = "Lanterns"\nlike = "highest of 2d6"\nread = "highest"\ndice = [6, 6]\n',
    "nearest": 'title = "Tides"\nlike = "2d6"\nread = "total"\ndice = [8, 4]\naccept = "nearest"\n',
    "pairs": 'title = "Berths"\nways = { 2 = 1, 3 = 2, 4 = 1 }\nread = "total"\ndice = [2, 2]\n',
    "readouts": 'title = "Board"\nsolid = "cube"\nreadouts = { wind = 3, rain = "yes:1 no:1" }\n',
    "layout": 'title = "Pilot"\nsolid = "octahedron"\nplace = "1..8"\nlayout = ["opposite-sums"]\nsize_mm = 18\n',
    "duels": 'title = "Round the quay"\nread = "each-beats-next"\ndice = [3, 3, 3]\n',
    "orders": 'title = "Landing"\nread = "every-order"\ndice = [2, 2]\n',
}
"""One brief a kind of sheet."""


@cache
def asked(kind: str) -> tuple[Any, Any]:
    """The answer of a brief and its best design."""
    answer = find(parse(BRIEFS[kind]))
    ranked = answer.ranked if kind in ("readouts", "layout") else ranked_designs(answer, load_scores(None))
    return answer, ranked[0]


@cache
def sheet(kind: str) -> Sheet:
    """The sheet of the best design."""
    return sheet_of(*asked(kind), Wishes())
