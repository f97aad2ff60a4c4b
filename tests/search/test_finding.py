"""`find` and what lies behind it: briefs and questions, progress, stops, the recount that is never left out."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.design import NumberingDesign
from facewright.constraints.errors import BriefRefused, RecountError, UsageError
from facewright.constraints.question import Numbering
from facewright.search import find
from facewright.search.answer import Answering, Closing, FoundDesign, SetOutcome
from facewright.search.engines.factors import Factors
from facewright.search.finding import answer, engine_for, recounted
from facewright.search.stop import Limits, never

CUBES = 'title = "Tolls"\nread = "total"\nlike = "2d6"\ndice = [6, 6]\n'
CHOICE = CUBES.replace("[6, 6]", '"2 of 3 4 6 9 12"')


def test_a_brief_a_path_and_a_question_are_one(tmp_path: Path) -> None:
    path = tmp_path / "tolls.toml"
    path.write_text(CUBES, encoding="utf-8")
    one, two, three = find(path), find(str(path)), find(parse(CUBES, "test"))
    assert [d.design for d in one.found] == [d.design for d in two.found] == [d.design for d in three.found]
    assert one.question == two.question == three.question
    assert list(tmp_path.iterdir()) == [path]


def test_what_cannot_be_found_or_read(tmp_path: Path) -> None:
    with pytest.raises(UsageError, match="no such file"):
        find(tmp_path / "none.toml")
    (tmp_path / "bad.toml").write_text("title = 1", encoding="utf-8")
    with pytest.raises(BriefRefused):
        find(tmp_path / "bad.toml")


def test_the_limit_of_a_brief_counts_unless_another_stop_is_given() -> None:
    slow = CUBES.replace("[6, 6]", "[60, 60, 60, 60]").replace("2d6", "4d60") + "stop = { seconds = 0.2 }\n"
    limited = find(parse(slow, "test"))
    assert limited.verdict == "partial" and "the limit of 0.2 s was reached" in limited.reason
    asked = find(parse(slow, "test"), stop=lambda: "dinner is ready")
    assert "dinner is ready" in asked.reason


def test_progress_tells_of_the_sets() -> None:
    told: list[tuple[str, int, int | None]] = []
    whole = find(parse(CHOICE, "test"), report=lambda *what: told.append(what))
    sets = [done for doing, done, _ in told if doing == "sets of dice"]
    assert sets == list(range(len(whole.outcomes)))


def test_every_shard_is_handed_on_and_each_outcome_with_its_last(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("facewright.search.finding.SHARD", 2)
    kept: list[tuple[int, SetOutcome | None]] = []
    designs: list[FoundDesign] = []

    def keep(shard: Any, outcome: SetOutcome | None) -> None:
        designs.extend(shard)
        kept.append((len(shard), outcome))

    question = parse(CHOICE, "test")
    whole = answer(question, seed=0, stop=never, keep=keep)
    assert tuple(designs) == whole.found
    assert tuple(outcome for _, outcome in kept if outcome) == whole.outcomes
    assert all(size <= 2 for size, _ in kept)
    # from where an earlier run ended
    half = len(whole.outcomes) // 2
    rest = answer(
        question,
        seed=0,
        stop=never,
        done=whole.outcomes[:half],
        earlier=[one for one in whole.found if one.set < half],
    )
    assert rest.found == whole.found
    assert [o.closing for o in rest.outcomes] == [o.closing for o in whole.outcomes]


def test_the_first_engine_that_accepts_is_asked() -> None:
    assert engine_for(parse(CUBES, "test")).name == "factors"
    with pytest.raises(UsageError, match="no engine answers read = 'backwards'"):
        engine_for(Numbering("backwards", parse(CUBES, "test").target, parse(CUBES, "test").sets))


LIES: dict[str, list[list[int]]] = {
    "wrong chances": [[1, 2, 3, 4, 5, 6], [1, 2, 3, 4, 5, 7]],
    "a label below the rules": [[0, 1, 2, 3, 4, 5], [2, 3, 4, 5, 6, 7]],
    "a label too many": [[1, 2, 3, 4, 5, 6, 6], [1, 2, 3, 4, 5, 6]],
}


@pytest.mark.parametrize("name", LIES)
def test_an_engine_that_lies_is_stopped(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def lie(_self: Factors, question: Numbering, *_: object) -> Answering:
        def stream() -> Any:
            yield NumberingDesign.of(question.dice, LIES[name])
            return Closing("complete", 1, 1, "all", "One numbering does it.")

        return Answering("factors", stream())

    monkeypatch.setattr(Factors, "answer", lie)
    with pytest.raises(RecountError, match="disagrees with the engine 'factors'") as wrong:
        find(parse(CUBES, "test"))
    assert wrong.value.exit_status == 3


def test_a_design_carries_its_distance() -> None:
    text = 'title = "t"\nread = "total"\nlike = "2d6"\naccept = "nearest"\ndice = [{ exactly = [1, 2] }]\n'
    question = parse(text, "test")
    design = NumberingDesign.of(question.dice, [[1, 2]])
    assert recounted(question, design, 0, "given").distance == Fraction(35, 36)


def test_a_limit_is_asked_for_its_reason() -> None:
    limits = Limits()
    assert limits() is None
    limits.interrupted = True
    assert limits() == "interrupted"
    assert Limits(seconds=0)() == "the limit of 0 s was reached"


@pytest.mark.parametrize("seconds", [0.01, 0.2])
def test_workers_stop_in_time_and_keep_their_order(seconds: float) -> None:
    many = CUBES.replace("[6, 6]", '"2 to 4 of 4 6 8 9 12 18 24 36"').replace("2d6", "3d12")
    question = parse(many, "test")
    cut = answer(question, seed=0, stop=Limits(seconds), workers=2)
    assert cut.verdict == "partial"
    assert len(cut.outcomes) < len(question.sets)
    assert [one.set for one in cut.found] == sorted(one.set for one in cut.found)
    assert [o.dice for o in cut.outcomes] == list(question.sets[: len(cut.outcomes)])


def test_sorted_sets_and_designs_are_the_same_each_time() -> None:
    def ids(how: Callable[[], Any]) -> list[str]:
        return [one.design.id for one in how().found]

    assert ids(lambda: find(parse(CHOICE, "test"))) == ids(lambda: find(parse(CHOICE, "test"), seed=7))
