"""Tests of rolls against published data and tables; each value with its source, and whether the source was seen."""

from __future__ import annotations

import json
from fractions import Fraction
from math import comb, sqrt
from pathlib import Path
from typing import Any

import pytest
from facewright.search.cli.command import status_of
from facewright.search.rolls.chi_square import chi_square, pearson
from facewright.search.rolls.power import certainty, noncentrality, rolls_needed
from scipy.stats import chi2

TWELVE = [185, 1149, 3265, 5475, 6114, 5194, 3067, 1331, 403, 105, 14, 4, 0]
"""26,306 throws of twelve dice: how many show a 5 or a 6. W. F. R. Weldon's data in K. Pearson, Philosophical Magazine
50 (1900) 157–175, and A. W. Kemp and C. D. Kemp, "Weldon's dice data revisited", The American Statistician 45 (1991)
216–222. Seen in ten public repositories that cite them."""

WOLF = [3246, 3449, 2897, 2841, 3635, 3932]
"""20,000 throws of R. Wolf's white die (Zürich, 1850–1893). Seen in four public repositories."""

FLIPS, SAME = 350_757, 178_079
"""Coin flips, and those that came down as they were thrown: F. Bartoš et al., "Fair coins tend to land on the same side
they started: evidence from 350,757 flips", arXiv 2310.04153 (2023); counts seen. They give .508, 95 % [.506, .509]."""

CRITICAL = {
    3: (6.251, 7.815, 11.345),
    5: (9.236, 11.070, 15.086),
    10: (15.987, 18.307, 23.209),
    19: (27.204, 30.144, 36.191),
}
"""Upper critical values at .10, .05 and .01: NIST/SEMATECH e-Handbook, 1.3.6.7.4 (from memory)."""


@pytest.fixture
def tested(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Any:
    """Keeps dice as a run and tests a table of counts: result → rolls."""
    monkeypatch.chdir(tmp_path)

    def testing(labels: list[str], counts: dict[Any, int], *options: str) -> Any:
        assert status_of(["ways", *labels, *options, "--save", "runs/dice"]) == 0
        capsys.readouterr()
        assert status_of(["show", "dice", "--json"]) == 0
        design = json.loads(capsys.readouterr().out)["designs"][0]["id"]
        table = "result,count\n" + "".join(f"{result},{count}\n" for result, count in counts.items())
        Path("rolls.csv").write_text(table, encoding="utf-8")
        assert status_of(["rolls", "dice", design, "rolls.csv", "--json"]) == 0
        return json.loads(capsys.readouterr().out)

    return testing


def test_twelve_dice_with_exact_expectations(tested: Any) -> None:
    found = tested(["1..6"] * 12, dict(enumerate(TWELVE)), "--read", "how-many", "--at-least", "5")
    assert found["rolls"] == sum(TWELVE) == 26_306
    [test] = found["tests"]
    # 41.312 over all 13 cells: computed twice by us, for every cell has its exact expectation
    assert (round(test["chi_square"], 3), test["degrees"]) == (41.312, 12)
    # in the last cell 0.05 throws are expected, and one there would add 18 by itself: p is simulated, not the 4e-5 of
    # the chi-square distribution
    assert test["p_is"] == "simulated"
    assert 0.0005 < test["p"] < 0.01
    assert found["unusual"] == ["result"]


def test_twelve_dice_with_whole_expectations_as_pearson_had_them() -> None:
    total = 26_306
    exact = [Fraction(total * comb(12, k) * 2 ** (12 - k), 3**12) for k in range(13)]
    whole = [
        203,
        1217,
        3345,
        5576,
        6273,
        5018,
        2927,
        1254,
        392,
        87,
        13,
        1,
        0,
    ]  # as he printed them (from memory)
    assert sum(whole) == total
    assert all(abs(one - other) < 0.61 for one, other in zip(whole, exact, strict=True))
    # Pearson's 43.87241 (seen): with whole expectations, the last cell, where none is expected, left out
    assert float(pearson(TWELVE[:12], whole[:12])) == pytest.approx(43.872, abs=0.01)
    assert float(pearson(TWELVE, exact)) == pytest.approx(41.312, abs=0.0005)


def test_the_share_of_fives_and_sixes() -> None:
    marked = sum(number * count for number, count in enumerate(TWELVE))
    # 106,602 of 315,672, .3377 (Pearson 1900, seen second-hand)
    assert (marked, 12 * sum(TWELVE)) == (106_602, 315_672)


def test_the_white_die(tested: Any) -> None:
    found = tested(["1..6"], dict(enumerate(WOLF, 1)))
    [test] = found["tests"]
    # 270.957, computed from the seen counts by two programs of ours
    assert (round(test["chi_square"], 3), test["degrees"], test["p_is"]) == (
        270.957,
        5,
        "chi-square distribution",
    )
    assert test["largest"]["of"] == "6"
    assert test["e_value"] > 10**40
    # a table of counts has lost the order of the rolls: no highest value
    assert test["e_value_highest"] is None


def test_coin_flips(tested: Any) -> None:
    found = tested(["0 1"], {1: SAME, 0: FLIPS - SAME})
    [test] = found["tests"]
    z = (SAME - FLIPS / 2) / sqrt(FLIPS / 4)
    assert round(z, 2) == 9.12
    assert test["chi_square"] == pytest.approx(z**2)
    # of two cells one is the other's rest: no correction for having picked one
    assert test["largest"]["p"] == pytest.approx(test["p"], rel=0.1)
    assert round(SAME / FLIPS, 3) == 0.508


@pytest.mark.parametrize("degrees", CRITICAL)
def test_critical_values(degrees: int) -> None:
    for tail, limit in zip((0.1, 0.05, 0.01), CRITICAL[degrees], strict=True):
        assert chi2.isf(tail, degrees) == pytest.approx(limit, abs=0.0006)
    # and our p is that of the table: counts whose statistic is known, one cell up, one down
    counts = [1000] * (degrees + 1)
    counts[0], counts[1] = 1100, 900
    found = chi_square(counts, [1] * (degrees + 1))
    assert found.statistic == pytest.approx(20.0)
    assert (found.p < 0.01) == (CRITICAL[degrees][2] < 20.0)


@pytest.mark.parametrize(
    ("faces", "eighty", "ninety"), [(4, 10.90, 14.17), (6, 12.83, 16.47), (20, 20.56, 25.65)]
)
def test_noncentrality(faces: int, eighty: float, ninety: float) -> None:
    # 10.90, 12.83, 16.47: the usual tables of the power of chi-square tests (J. Cohen 1988, from memory)
    assert noncentrality(faces - 1, 0.05, 0.8) == pytest.approx(eighty, abs=0.006)
    assert noncentrality(faces - 1, 0.05, 0.9) == pytest.approx(ninety, abs=0.006)


def test_power_against_a_general_library() -> None:
    power = pytest.importorskip("statsmodels.stats.power", reason="statsmodels is not installed")
    solver = power.GofChisquarePower()
    for faces, off in ((4, 0.1), (6, 0.2), (20, 0.5), (120, 0.2)):
        effect = off**2 / (faces - 1)
        for rolls in (100, 2000, 30_000):
            theirs = solver.power(sqrt(effect), rolls, 0.05, n_bins=faces)
            assert certainty(rolls, effect, faces - 1, 0.05) == pytest.approx(float(theirs), abs=1e-9)
        for wanted in (0.8, 0.9):
            theirs = solver.solve_power(sqrt(effect), None, 0.05, wanted, n_bins=faces)
            assert rolls_needed(effect, faces - 1, 0.05, wanted) == pytest.approx(float(theirs), abs=1.01)
