"""Product sheets of the best products of a run, beside its report."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from facewright.constraints.errors import FacewrightError
from facewright.search.products.measuring import MAKING
from facewright.search.products.ranking import RankedProduct

MADE = 2
"""So many of the best products get a sheet: which two to make is the usual question."""


def write_best_sheets(ranked: Sequence[RankedProduct], compare_at: int, folder: Path) -> dict[str, str]:
    """Writes the sheets of the best products to which a route is open.

    Params:
        ranked: the products, best first.
        compare_at: the number of sets whose cheapest route makes them.
        folder: the product run's folder; each sheet gets a folder of its own in it.
    Returns: the id of a product → its page, as a link from the folder; none for a product whose run has gone.
    """
    links = {}
    for one in [product for product in ranked if product.quote is not None][:MADE]:
        try:
            links[one.id] = _written(one, compare_at, folder)
        except FacewrightError:
            continue  # the run has gone, or was answered anew: its sheet can be asked for by itself
    return links


def _written(one: RankedProduct, compare_at: int, folder: Path) -> str:
    from facewright.search.folders import REPORT, folder_of
    from facewright.search.make.sizing import Wishes
    from facewright.search.sheets.facts import sheet_of
    from facewright.search.sheets.writing import FILES, write_sheet

    assert one.quote is not None
    answer, design = _of_run(one)
    wishes = Wishes(route=MAKING[one.quote.at(compare_at).best.route])
    sizes = {die.positions[0]: (die.size_mm, die.size_is) for die in one.design.dice}
    sheet = sheet_of(answer, design, wishes, sizes=sizes)
    home = Path("sheets") / one.id[:8]
    write_sheet(sheet, folder / home, report=folder_of(one.candidate.run) / REPORT)
    return (home / FILES[0]).as_posix()


def _of_run(one: RankedProduct) -> tuple[Any, Any]:
    """The answer of the product's run, and the design as it is ranked there."""
    from facewright.search.cli.kinds import shown
    from facewright.search.cli.showing import answer_of, one_of
    from facewright.search.report.scores import load_scores

    run = one.candidate.run
    answer = answer_of(run)
    return answer, one_of(shown(answer).ranked(answer, load_scores(None)), one.id, run)
