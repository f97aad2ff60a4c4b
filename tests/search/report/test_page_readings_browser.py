"""The page of other readings in a real browser: it works out the same distributions, and shows the outcomes so read."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from facewright.search.finding import find
from facewright.search.report.contents import entries, ranked_designs, summary
from facewright.search.report.page import page
from facewright.search.report.scores import load_scores

pytestmark = pytest.mark.browser

Show = Callable[..., Any]

ASKED = {
    "highest": ('like = "highest of 2d4"\ndice = [4, 4]', "4"),
    "lowest": ('like = "lowest of 2d4"\ndice = [4, 4]', "1"),
    "difference": ('like = "difference of 2d4"\ndice = [4, 4]\nlabels = { highest = 4, repeats = 1 }', "3"),
    "signed-difference": ('like = "d4 - d4"\ndice = [4, 4]\nlabels = { highest = 4 }', "−3"),
    "product": (
        "ways = { 1 = 1, 2 = 2, 3 = 2, 4 = 3, 6 = 2, 8 = 2, 9 = 1, 12 = 2, 16 = 1 }\ndice = [4, 4]",
        "4",
    ),
    "side-by-side": ('ways = { "1 -2" = 1, "1 4" = 1 }\ndice = [2, 2]\nlabels = { lowest = -2 }', "1 4"),
    "total-modulo": ('like = "d4 - 1"\nmodulo = 4\ndice = [4, 4]\nlabels = { repeats = 1 }', "1"),
    "middle": ('like = "d2"\ndice = [2, 2, 2]', ""),
    "total-of-highest": ('keep = 1\nlike = "highest of 2d4"\ndice = [4, 4]', "4"),
    "total-of-lowest": ('keep = 1\nlike = "lowest of 2d4"\ndice = [4, 4]', "1"),
    "how-many": ('at_least = 3\nlike = "2d2 - 2"\ndice = [4, 4]\nlabels = { repeats = 1 }', "1"),
    "total": ("reroll = [1]\nways = { 1 = 1, 2 = 4, 3 = 4 }\ndice = [3]", ""),
}
"""A brief for each reading, and what stands in the grid's first row and last column for the ordinary design."""


def shown(read: str, lines: str, tmp_path: Any) -> tuple[str, Any]:
    """The page of a brief, and its answer."""
    path = tmp_path / "brief.toml"
    path.write_text(f'title = "Quays"\nread = "{read}"\n{lines}\n', encoding="utf-8")
    answer = find(path)
    ranked = ranked_designs(answer, load_scores(None))
    return page(summary(answer, run="quays"), entries(answer, ranked)), answer


@pytest.mark.parametrize("read", ASKED)
def test_the_page_reads_dice_as_the_brief_does(read: str, show: Show, tmp_path: Any) -> None:
    lines, corner = ASKED[read]
    html, answer = shown(read, lines, tmp_path)
    tab = show(html)
    tab.locator("#card details.numbers summary").click()
    rows = tab.locator("#card details.numbers tbody tr")
    rows.first.wait_for()
    found = [rows.nth(at).locator("th, td").all_inner_texts()[:2] for at in range(rows.count())]
    design = answer.found[0].design
    wanted = answer.question.reading.distribution([die.labels for die in design.dice])
    told = [(" ".join(map(str, r)) if isinstance(r, tuple) else str(r), count) for r, count in wanted.pairs]
    assert found == [[result.replace("-", "−"), str(count)] for result, count in told]
    assert "Exact." in tab.locator("#exact").inner_text()
    assert tab.locator("#columns svg.columns").count() == (0 if read == "side-by-side" else 1)
    if len(design.dice) != 2:
        return
    cells = tab.locator("#card table.outcomes tbody tr").first.locator("td").all_inner_texts()
    if len(answer.found) == 1:
        assert cells[-1] == corner


def test_a_cell_tells_its_result(show: Show, tmp_path: Any) -> None:
    html, _ = shown("total-modulo", ASKED["total-modulo"][0], tmp_path)
    tab = show(html)
    tab.locator("#card table.outcomes td[data-result]").first.focus()
    assert "the total modulo 4 is" in tab.locator("#readout").inner_text()
