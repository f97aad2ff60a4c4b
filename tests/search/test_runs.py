"""Runs: known, resumed, cut, reworded; nothing lost and nothing twice."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.errors import RecountError, RunError
from facewright.search import finding
from facewright.search.answer import Answer, Answering
from facewright.search.engines.factors import Factors
from facewright.search.finding import find
from facewright.search.folders import BRIEF, PROVENANCE
from facewright.search.progress import silent
from facewright.search.runs import about_run, perform
from facewright.search.stop import Stop, never
from facewright.search.store import Store

SETS = "dice = '2 of 3 4 6 9 12'\nlike = '2d6'"
CUBES = "dice = [6, 6, 6]\nlike = '3d6'\nlabels = { lowest = 0 }"


def brief(lines: str, more: str = "", title: str = "Tolls") -> str:
    return f'title = "{title}"\nread = "total"\n{lines}\n{more}\n'


def performed(folder: Path, text: str, stop: Stop = never, **how: Any) -> tuple[Answer, str]:
    return perform(parse(text, "test"), text, folder, seed=0, stop=stop, report=silent, **how)


def after(calls: int) -> Stop:
    """A stop that comes after so many questions whether to stop."""
    left = [calls]

    def stop() -> str | None:
        left[0] -= 1
        return "enough" if left[0] < 0 else None

    return stop


def same(one: Answer, other: Answer) -> None:
    """Two answers that differ in their time at most."""
    assert [d.design for d in one.found] == [d.design for d in other.found]
    assert [d.set for d in one.found] == [d.set for d in other.found]
    assert [o.closing for o in one.outcomes] == [o.closing for o in other.outcomes]
    assert [o.listed for o in one.outcomes] == [o.listed for o in other.outcomes]
    assert (one.verdict, one.count, one.count_up_to_shift, one.reason) == (
        other.verdict,
        other.count,
        other.count_up_to_shift,
        other.reason,
    )


@pytest.fixture
def engine_at_rest(monkeypatch: pytest.MonkeyPatch) -> Callable[[], None]:
    """Once called, no engine may be asked any more."""

    def fails(*_: Any) -> Answering:
        raise AssertionError("an engine was asked")

    return lambda: monkeypatch.setattr(Factors, "answer", fails)


@pytest.mark.parametrize("lines", [SETS, CUBES])
def test_the_same_question_again_is_shown_not_answered(
    lines: str, tmp_path: Path, engine_at_rest: Callable[[], None]
) -> None:
    first, done = performed(tmp_path, brief(lines))
    assert done == "answered"
    same(first, find(parse(brief(lines), "test")))
    engine_at_rest()
    kept = (tmp_path / "run.sqlite").read_bytes()
    again, done = performed(tmp_path, brief(lines))
    assert done == "known"
    same(again, first)
    # looking writes nothing
    assert body((tmp_path / "run.sqlite").read_bytes()) == body(kept)


def test_another_wording_is_the_same_question(tmp_path: Path, engine_at_rest: Callable[[], None]) -> None:
    performed(tmp_path, brief(CUBES))
    engine_at_rest()
    text = brief(
        CUBES,
        "note = 'later'\nstop = { seconds = 9, designs = 20000 }\nrank = { cost = 1 }",
        title="Fees",
    )
    answer, done = performed(tmp_path, text)
    assert done == "known"
    question = parse(text, "test")
    for kept in (answer.question, stored(tmp_path).question):
        assert (kept.title, kept.note, kept.rank) == ("Fees", "later", question.rank)
        assert kept.stop == question.stop
    assert (tmp_path / BRIEF).read_text(encoding="utf-8") == text


def body(data: bytes) -> bytes:
    """The bytes of a store without its header, where SQLite counts how often it was opened to be written."""
    return data[100:]


def stored(folder: Path) -> Answer:
    with Store.open(folder / "run.sqlite") as store:
        answer: Answer = store.answer()
    return answer


@pytest.mark.parametrize("lines", [SETS, CUBES])
def test_limits_on_designs_in_any_order(lines: str, tmp_path: Path) -> None:
    question = parse(brief(lines), "test")
    whole = find(question).count
    for number in (3, 7, 2, whole, 5, 10_000, 0, 1, whole - 1):
        answer, _ = performed(tmp_path, brief(lines), limit=number)
        fresh, _ = performed(tmp_path / f"fresh-{number}", brief(lines), limit=number)
        assert [d.design for d in answer.found] == [d.design for d in fresh.found]
        assert (answer.verdict, answer.count, answer.count_is) == ("complete", whole, "all")
        assert [one.listed for one in answer.outcomes] == [one.listed for one in fresh.outcomes]
        with Store.open(tmp_path / "run.sqlite") as store:
            # what is there stays
            assert store.size() >= len(answer.found)


@pytest.mark.parametrize("lines", [SETS, CUBES])
def test_stopped_at_any_question_it_goes_on_alike(lines: str, tmp_path: Path) -> None:
    whole = find(parse(brief(lines), "test"))
    calls, seen = 0, set()
    while True:
        folder = tmp_path / str(calls)
        answer, done = performed(folder, brief(lines), after(calls))
        assert done == "answered"
        seen.add(answer.verdict)
        if answer.verdict == "complete":
            same(answer, whole)
            break
        assert answer.verdict == "partial" and answer.count_is == "at least"
        assert {d.design for d in answer.found} <= {d.design for d in whole.found}
        assert about_run(folder)["verdict"] == "partial"
        # stopped sooner the second time: what was found the first time stays, and is counted
        again, done = performed(folder, brief(lines), after(calls // 3))
        assert done == "resumed"
        assert {d.design for d in again.found} >= {d.design for d in answer.found}
        assert again.count >= answer.count
        last, done = performed(folder, brief(lines))
        assert done == "resumed"
        same(last, whole)
        calls = calls + 1 if calls < 6 else calls * 2
    assert seen == {"partial", "complete"}


def test_a_reason_counts_what_an_earlier_try_had_found(tmp_path: Path) -> None:
    first, _ = performed(tmp_path, brief(CUBES), after(12))
    assert first.count > 2
    again, _ = performed(tmp_path, brief(CUBES), after(0))
    assert again.count == len(again.found) == first.count
    assert again.reason == first.reason
    assert "(enough); there may be more" in again.reason


@pytest.mark.parametrize("shards", [0, 1, 2, 5])
def test_an_error_in_the_midst_loses_no_shard(
    shards: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(finding, "SHARD", 2)
    append = Store.append
    done = 0

    def fails(store: Store, *what: Any) -> None:
        nonlocal done
        if done == shards:
            raise RunError("the disk is full")
        done += 1
        append(store, *what)

    with monkeypatch.context() as broken:
        broken.setattr(Store, "append", fails)
        with pytest.raises(RunError, match="full"):
            performed(tmp_path, brief(CUBES))
    with Store.open(tmp_path / "run.sqlite") as store:
        assert store.size() == 2 * shards
    assert about_run(tmp_path)["verdict"] == "unfinished"
    same(performed(tmp_path, brief(CUBES))[0], find(parse(brief(CUBES), "test")))


def test_an_engine_that_disagrees_with_the_recount_leaves_no_verdict(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    recounted = finding.recounted
    calls = 0

    def disagrees(*what: Any) -> Any:
        nonlocal calls
        calls += 1
        if calls == 3:
            raise RecountError("the recount disagrees")
        return recounted(*what)

    with monkeypatch.context() as broken:
        broken.setattr(finding, "recounted", disagrees)
        with pytest.raises(RecountError):
            performed(tmp_path, brief(CUBES))
    assert about_run(tmp_path)["verdict"] == "unfinished"


def test_replacing_forgets(tmp_path: Path) -> None:
    performed(tmp_path, brief(CUBES))
    answer, done = performed(tmp_path, brief(SETS), again=True)
    assert done == "answered"
    assert stored(tmp_path).count == answer.count
    with pytest.raises(RunError, match="another question"):
        performed(tmp_path, brief(CUBES))
    # the refusal left nothing open and nothing changed
    assert performed(tmp_path, brief(SETS))[1] == "known"


def test_sets_that_all_drop_out_make_a_run_too(tmp_path: Path) -> None:
    text = brief("dice = '2 of 4 5'\nlike = '2d6'")
    answer, _ = performed(tmp_path, text)
    assert (answer.verdict, answer.count, answer.outcomes) == ("none", 0, ())
    assert answer.engine == "division"
    assert performed(tmp_path, text)[1] == "known"
    assert about_run(tmp_path)["verdict"] == "none"


def test_provenance_says_what_a_run_was_made_with(tmp_path: Path) -> None:
    answer, _ = performed(tmp_path, brief(CUBES))
    about = json.loads((tmp_path / PROVENANCE).read_text(encoding="utf-8"))
    assert about["fingerprint"] == answer.question.fingerprint()
    assert (about["verdict"], about["count"], about["seed"]) == ("complete", answer.count, 0)
    assert {"python", "system", "facewright", "python-flint"} <= set(about["made_with"])
    assert about["started"] <= about["ended"]
    # no name of a person, a machine or a folder
    assert str(Path.home()) not in json.dumps(about)
