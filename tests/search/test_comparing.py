"""Designs of several runs and batches, compared: the front against brute force, conditions, what has no scores."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from facewright.search.batch.performing import perform_batch
from facewright.search.batch.plan import parse_plan
from facewright.search.batch.tasks import answer_one
from facewright.search.cli.command import status_of
from facewright.search.compared_sources import Entry
from facewright.search.comparing import Front
from facewright.search.stop import never
from hypothesis import given
from hypothesis import strategies as st

NIGHT = 'title = "Night"\nlike = "2d6"\nread = "total"\ndice = "2 of 3 4 6 9 12"\n'
NEAR = 'title = "Near"\nlike = "2d6"\nread = "total"\ndice = [8, 4]\naccept = "nearest"\n'
PLAN = 'title = "Many"\n[brief]\nread = "total"\nlike = "2d6"\n[lists]\ndice = [[6, 6], [4, 9], [6, 12]]\n'


class Here:
    """Answers in this process."""

    def run(self, jobs: Any, _stop: Any, keep: Any) -> None:
        """Answers all jobs."""
        keep([answer_one(key, brief, 5, 20) for key, brief in jobs])


@pytest.fixture
def rank(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Any:
    """Two runs and a batch; gives what the command says."""
    monkeypatch.chdir(tmp_path)
    for text in (NIGHT, NEAR):
        Path("brief.toml").write_text(text, encoding="utf-8")
        assert status_of(["find", "brief.toml", "--quiet"]) == 0
    perform_batch(
        parse_plan(PLAN),
        PLAN,
        "plan",
        Path("runs/many"),
        workers=1,
        stop=never,
        watch=lambda *_: None,
        runner=Here(),
    )
    capsys.readouterr()

    def ranking(*arguments: str) -> Any:
        status = status_of(["rank", *arguments])
        said = capsys.readouterr()
        return json.loads(said.out) if "--json" in arguments and status == 0 else (status, said.out, said.err)

    return ranking


def betters(one: dict[str, Any], other: dict[str, Any]) -> bool:
    mine, theirs = (
        (each["legible"], each["familiar"], -each["cost"], -Fraction(each["distance"]))
        for each in (one, other)
    )
    return mine != theirs and all(a >= b for a, b in zip(mine, theirs, strict=True))


def test_the_front_is_that_of_all_pairs(rank: Any) -> None:
    told = rank("night", "near", "many", "--json", "--most", "1000")
    designs = told["designs"]
    assert told["compared"] == len(designs) > 25
    assert told["front"] == sum(one["front"] for one in designs)
    for one in designs:
        assert one["front"] == (not any(betters(other, one) for other in designs))
    fronts = [one["front"] for one in designs]
    assert fronts == sorted(fronts, reverse=True)
    for sort in (True, False):
        scores = [one["overall"] for one in designs if one["front"] is sort]
        assert scores == sorted(scores, reverse=True)
    assert len({one["name"] for one in designs}) == len(designs)
    fewer = rank("night", "near", "many", "--json", "--most", "7")
    assert fewer["designs"] == designs[:7]
    assert {one["name"].split("/")[0] for one in designs} == {"night", "near", "many"}


VALUES = st.tuples(*[st.integers(0, 3)] * 4, st.fractions(0, 1, max_denominator=3))


@given(st.lists(VALUES, max_size=40), st.integers(1, 5))
def test_a_front_read_as_a_stream_is_that_of_all_pairs(rows: list[Any], most: int) -> None:
    source: Any = None
    front = Front(most)
    for at, values in enumerate(rows):
        front.take(Entry("lot", f"{at:03}", values, None), values[2], source)

    def worse(one: Any, other: Any) -> bool:
        mine, theirs = ((-legible, -familiar, cost, far) for legible, familiar, _, cost, far in (one, other))
        return mine != theirs and all(a >= b for a, b in zip(mine, theirs, strict=True))

    on = [(at, one) for at, one in enumerate(rows) if not any(worse(one, other) for other in rows)]
    assert front.size == len(on)
    first = sorted((-one[2], f"lot/{at:03}") for at, one in on)[:most]
    assert [(-overall, entry.name) for overall, entry, _ in front.designs()][:most] == first


def test_conditions_hold_for_all(rank: Any) -> None:
    told = rank("night", "--json", "--keep", "legible >= 90", "--keep", "cost<2")
    assert told["designs"]
    assert all(one["legible"] >= 90 and one["cost"] < 2 for one in told["designs"])
    assert rank("near", "--json", "--keep", "distance = 0")["compared"] == 0
    # a decimal bound is the decimal that is shown, not a fraction beside it
    costs = {one["cost"] for one in rank("night", "--json", "--most", "1000")["designs"]}
    for cost in costs:
        designs = rank("night", "--json", "--most", "1000", "--keep", f"cost = {cost}")["designs"]
        assert designs and {one["cost"] for one in designs} == {cost}
    status, _, err = rank("night", "--keep", "nice > 3", "--keep", "legible")
    assert status == 2
    assert "'nice > 3', 'legible'" in err


@pytest.mark.parametrize("run", ["many", "night"])
def test_conditions_of_stores_and_of_streams_are_the_same(rank: Any, run: str) -> None:
    everything = rank(run, "--json", "--most", "1000")["designs"]
    values = sorted({one["cost"] for one in everything})
    for sign, fits in (
        ("<=", lambda a, b: a <= b),
        (">=", lambda a, b: a >= b),
        ("<", lambda a, b: a < b),
        (">", lambda a, b: a > b),
        ("=", lambda a, b: a == b),
    ):
        for bound in (values[0], values[len(values) // 2], values[-1], 2.345):
            told = rank(run, "--json", "--most", "1000", "--keep", f"cost {sign} {bound}")
            wanted = sorted(one["id"] for one in everything if fits(one["cost"], bound))
            assert sorted(one["id"] for one in told["designs"]) == wanted
            assert told["compared"] == len(wanted)


def test_the_table_and_what_cannot_be_compared(rank: Any) -> None:
    status, out, _ = rank("night", "many")
    assert status == 0
    assert "on the front" in out
    assert rank("nowhere")[0] == 2
    Path("solid.toml").write_text('title = "S"\nsolid = "cube"\nreadouts = { wind = 3 }\n', encoding="utf-8")
    assert status_of(["find", "solid.toml", "--quiet"]) == 0
    status, _, err = rank("s")
    assert status == 2
    assert "product brief" in err
