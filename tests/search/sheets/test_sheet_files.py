"""The files of a sheet: sizes on paper are true, pages are whole, the command writes and refuses kindly."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from facewright.constraints.solids.sizes import measures
from facewright.search.cli.command import status_of
from facewright.search.sheets.canvas import Drawing
from facewright.search.sheets.figures import draw_scale
from facewright.search.sheets.pictures import COIN_MM, side_for, together
from facewright.search.sheets.sheet_page import sheet_page
from facewright.search.sheets.sheet_pdf import CARD_MM, card_pdf, sheet_pdf
from facewright.search.sheets.writing import FILES

from tests.pdf_files import Drawn, pages_of
from tests.search.sheets.asked import BRIEFS, sheet


def boxes(svg: str) -> list[tuple[float, float]]:
    """Width and height of every path of an SVG."""
    found = []
    for path in re.findall(r' d="([^"]+)"', svg):
        points = np.array(
            [[float(x) for x in pair.split()] for pair in re.split("[MLZ]", path) if pair.strip()]
        )
        found.append((float(np.ptp(points[:, 0])), float(np.ptp(points[:, 1]))))
    return found


def drawn(page: Drawn) -> list[np.ndarray]:
    """All that is drawn on a page but its ground."""
    ground = [path for path in page.filled if np.ptp(path, axis=0) == pytest.approx(page.size_mm, abs=0.01)]
    assert len(ground) == 1
    return [*page.whole, *(path for path in page.filled if path is not ground[0])]


def test_dice_and_coin_are_drawn_in_true_size() -> None:
    told = sheet("layout")
    wide, high = together(told.dice)
    drawing = Drawing(wide + 2, high + 2, "t")
    assert draw_scale(drawing, told.dice, (1, 1, wide, high)) == 1
    widths = [box[0] for box in boxes(drawing.svg())]
    assert max(widths) == pytest.approx(COIN_MM, abs=0.1)
    # an octahedron of 18 mm across flats, seen from above: nothing of it is wider than from tip to tip
    [die] = told.dice
    span = measures(die.die.artwork.solid)["tip-to-tip"] * die.inradius_mm
    assert wide - COIN_MM - 6 <= span
    assert wide - COIN_MM - 6 >= 18 * 0.8
    assert side_for(die.die.artwork, 0).rest == 0


@pytest.mark.parametrize("kind", BRIEFS)
def test_a_sheet_fills_one_page_and_a_card_two_sides(kind: str) -> None:
    [page] = pages_of(sheet_pdf(sheet(kind)))
    assert page.size_mm == pytest.approx((210, 297), abs=0.1)
    for path in drawn(page):
        assert (path.min(axis=0) > 8).all()
        assert (path.max(axis=0) < [202, 289]).all()
    front, back = pages_of(card_pdf(sheet(kind)))
    assert front.size_mm == pytest.approx(CARD_MM, abs=0.1)
    for side in (front, back):
        for path in drawn(side):
            assert (path.min(axis=0) > 1.5).all()
            assert (path.max(axis=0) < np.array(CARD_MM) - 1.5).all()
    assert sheet_pdf(sheet(kind)) == sheet_pdf(sheet(kind))


def test_a_page_escapes_what_the_brief_says() -> None:
    text = sheet_page(sheet("total"), "../../report.html")
    assert "Quay &lt;dues&gt;" in text
    assert "Quay <dues>" not in text
    assert 'href="../../report.html"' in text
    assert "http" not in text.replace("http-equiv", "").replace("http://www.w3.org/", "")


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> str:
    """A run with one kind of dice; gives the id of its best design."""
    monkeypatch.chdir(tmp_path)
    Path("brief.toml").write_text(BRIEFS["total"], encoding="utf-8")
    assert status_of(["find", "brief.toml", "--json", "--quiet", "--out", "run"]) == 0
    return str(json.loads(capsys.readouterr().out)["designs"][0]["id"])


def test_the_command_writes_all_files(run: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert status_of(["sheet", "run", run[:6], "--json", "--quiet", "--title", "Two quays"]) == 0
    told: dict[str, Any] = json.loads(capsys.readouterr().out)
    folder = Path("run") / "sheets" / run[:8]
    assert told == {"design": run, "files": [str(folder / name) for name in FILES]}
    assert {path.name for path in folder.iterdir()} == set(FILES)
    text = (folder / "sheet.html").read_text(encoding="utf-8")
    assert "<h1>Two quays</h1>" in text
    link = re.search(r'href="([^"]+report\.html)"', text)
    assert link is not None
    assert (folder / link[1]).resolve() == Path("run/report.html").resolve()


@pytest.mark.parametrize(
    ("arguments", "status", "told"),
    [
        (["sheet", "run", "zz"], 2, "ids begin"),
        (["sheet", "nowhere", "a"], 2, "nowhere"),
        (["sheet", "run", "DESIGN", "--size", "2"], 2, "accepted"),
        (["sheet", "run", "DESIGN", "--out", "brief.toml/there"], 1, "cannot be written"),
    ],
)
def test_what_cannot_be_is_refused_kindly(
    run: str, capsys: pytest.CaptureFixture[str], arguments: list[str], status: int, told: str
) -> None:
    assert status_of([run if one == "DESIGN" else one for one in arguments]) == status
    assert told in capsys.readouterr().err
