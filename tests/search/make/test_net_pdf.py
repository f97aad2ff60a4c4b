"""Nets on paper: true size, read back from the file; every joint numbered; nothing written over anything."""

from __future__ import annotations

import subprocess
import sys
from collections import Counter

import numpy as np
import pytest
import shapely
from facewright.constraints.solids import solid
from facewright.search.artwork.placing import numbered
from facewright.search.make.net_pdf import net_pages, net_pdf
from facewright.search.make.net_sheet import CAPITAL, Number, sheets_of
from facewright.search.make.nets import net_of
from facewright.search.make.pages import width_of
from facewright.search.make.paper import MARGIN_MM, PAPERS

from tests.pdf_files import Drawn, pages_of

MM = 9.0


def drawn(name: str, mm: float = MM, paper: str = "a4") -> list[Drawn]:
    built = solid(name)
    return pages_of(net_pdf(net_of(built, mm, PAPERS[paper]), numbered(built), "A die", ["design 0123"]))


@pytest.mark.parametrize("paper", PAPERS)
def test_the_sheet_and_its_ruler_have_their_true_size(paper: str) -> None:
    [page] = drawn("cube", paper=paper)
    assert page.size_mm == pytest.approx((PAPERS[paper].width_mm, PAPERS[paper].height_mm), abs=1e-4)
    level = [run for run in page.whole if len(run) == 2 and np.ptp(run[:, 1]) < 1e-6]
    assert max(np.ptp(run[:, 0]) for run in level) == pytest.approx(100, abs=1e-4)
    ticks = [run[0, 0] for run in page.whole if len(run) == 2 and np.ptp(run[:, 0]) < 1e-6 and run[0, 1] < 20]
    assert sorted(ticks)[-1] - sorted(ticks)[0] == pytest.approx(100, abs=1e-4)


@pytest.mark.parametrize(("name", "over", "folds"), [("cube", 0.5, 5), ("dodecahedron", 1.113516, 11)])
def test_edges_are_as_long_on_paper_as_on_the_die(name: str, over: float, folds: int) -> None:
    """The inradius over the edge is ½ for the cube and 1.113516 for the dodecahedron, as handbooks print them."""
    [page] = drawn(name)
    lengths = [float(np.linalg.norm(run[1] - run[0])) for run in page.dashed]
    tabs, legend = len(solid(name).edges) - folds, 1
    assert len(lengths) == folds + tabs + legend
    assert sum(length == pytest.approx(MM / over, abs=1e-4) for length in lengths) >= folds


def test_the_numerals_lie_on_their_faces() -> None:
    [page] = drawn("icosahedron")
    corners = np.concatenate([run for run in (*page.dashed, *page.whole) if run[:, 1].min() > 40])
    hull = shapely.MultiPoint(corners).convex_hull
    ink = [run for run in page.filled if np.ptp(run) < 60]
    assert len(ink) > 30
    assert all(hull.covers(shapely.Polygon(run)) for run in ink if len(run) > 3)


@pytest.mark.parametrize("paper", PAPERS)
def test_no_words_run_off_the_sheet(paper: str) -> None:
    """A net with slips has the longest line at its foot."""
    built = solid("disdyakis dodecahedron")
    net = net_of(built, 14.5, PAPERS[paper])
    assert net.slips
    pages = net_pages(net, numbered(built), "A long title for a die of many faces, " * 6, ["about it " * 40])
    for page in pages:
        boxes = np.array([box for _, box in page.words])
        width, height = page.size_mm
        assert boxes[:, 0].min() >= MARGIN_MM - 1
        assert boxes[:, 1].min() > 5
        assert boxes[:, 2].max() <= width - MARGIN_MM + 1
        assert boxes[:, 3].max() <= height - MARGIN_MM + 1


NUMBERED = [
    "cube",
    "icosahedron",
    "rhombic triacontahedron",
    "triakis icosahedron",
    "disdyakis triacontahedron",
]


@pytest.mark.parametrize("name", NUMBERED)
def test_numbers_tell_what_is_glued_to_what(name: str) -> None:
    built = solid(name)
    net = net_of(built, 12.0, PAPERS["a4"])
    sheets = sheets_of(net, numbered(built))
    on = Counter(int(one.words) for sheet in sheets for one in sheet.numbers if one.role == "on")
    mates = Counter(int(one.words) for sheet in sheets for one in sheet.numbers if one.role != "on")
    assert on == {**{tab.number: 1 for tab in net.tabs}, **{slip.number: 2 for slip in net.slips}}
    wanted = {**{tab.number: 1 for tab in net.tabs}, **{slip.number: 2 for slip in net.slips}}
    assert mates == wanted


@pytest.mark.parametrize("name", NUMBERED)
def test_no_number_stands_on_a_numeral_or_another_number(name: str) -> None:
    built = solid(name)
    [sheet] = sheets_of(net_of(built, 15.0, PAPERS["a4"]), numbered(built))
    boxes = [box(one) for one in sheet.numbers]
    ink = [shapely.MultiPoint(np.concatenate(rings)).convex_hull for rings in sheet.numerals]
    roomy = [shape for shape, one in zip(boxes, sheet.numbers, strict=True) if one.role != "under"]
    assert shapely.STRtree(ink).query(roomy, predicate="intersects").size == 0
    assert len(roomy) > 0.8 * len(boxes)
    loose = [shape for shape, one in zip(boxes, sheet.numbers, strict=True) if one.role != "on"]
    pairs = shapely.STRtree(boxes).query(loose, predicate="intersects").T.tolist()
    assert len(pairs) == len(loose)


def box(one: Number) -> shapely.Polygon:
    wide = width_of(one.words, one.size_mm) / 2
    flat = np.array([[-wide, 0], [wide, 0], [wide, CAPITAL * one.size_mm], [-wide, CAPITAL * one.size_mm]])
    cos, sin = np.cos(np.radians(one.turn)), np.sin(np.radians(one.turn))
    return shapely.Polygon(one.at + flat @ np.array([[cos, sin], [-sin, cos]]))


def test_the_bytes_depend_on_the_net_alone() -> None:
    program = (
        "import hashlib;from facewright.constraints.solids import solid;"
        "from facewright.search.artwork.placing import numbered;"
        "from facewright.search.make.net_pdf import net_pdf;from facewright.search.make.nets import net_of;"
        "from facewright.search.make.paper import PAPERS;s=solid('octahedron');"
        "print(hashlib.sha256(net_pdf(net_of(s,9,PAPERS['a4']),numbered(s),'A die')).hexdigest())"
    )
    found = {
        subprocess.run(
            [sys.executable, "-c", program],
            check=True,
            capture_output=True,
            text=True,
            env={"PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "2")
    }
    assert len(found) == 1
    assert len(found.pop().strip()) == 64


def test_titles_may_hold_any_characters() -> None:
    built = solid("cube")
    net = net_of(built, MM, PAPERS["a4"])
    title = "Zölle & $x_1$ — \\frac{1}{2} Ωμέγα " + "a very long title " * 12
    [page] = pages_of(net_pdf(net, numbered(built), title))
    assert len(page.dashed) > 5
