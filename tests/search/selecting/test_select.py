"""The best by bounds against listing everything, scoring it and sorting."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.design import NumberingDesign
from facewright.constraints.question import Numbering, StopRule
from facewright.search.answer import Answer
from facewright.search.cli.common import status
from facewright.search.finding import answer, engine_for
from facewright.search.progress import silent
from facewright.search.rank import Ranked, rank, score
from facewright.search.report.contents import ranked_designs
from facewright.search.report.scores import Settings, load_scores
from facewright.search.runs import perform
from facewright.search.selecting.bounded import best_by_bounds
from facewright.search.selecting.bounds import Aim, Goal
from facewright.search.selecting.few import few
from facewright.search.selecting.placed import Placed
from facewright.search.selecting.walk import Walk
from facewright.search.selecting.weighed import best_known
from facewright.search.stop import Stopped, never
from hypothesis import given, settings
from hypothesis import strategies as some

SCORES = load_scores(None)


@pytest.fixture(autouse=True)
def bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    """Bounds on scores however few designs there are, which else are scored one by one."""
    monkeypatch.setattr("facewright.search.selecting.few.FEW", 0)
    monkeypatch.setattr("facewright.search.selecting.few.MOST_OF_TWO", 0)
    monkeypatch.setattr("facewright.search.selecting.few.MOST_SPARE", 0)
    monkeypatch.setattr("facewright.search.selecting.few.SHARE", 0)


def question(body: str) -> Numbering:
    asked = parse(f'title = "x"\nread = "total"\n{body}')
    assert isinstance(asked, Numbering)
    return asked


def all_designs(asked: Numbering) -> list[NumberingDesign]:
    return list(engine_for(asked).answer(asked, 20_000, never, 0, silent))


def all_ranked(asked: Numbering) -> list[Ranked]:
    alone = [asked.alone(dice) for dice in asked.sets]
    scored = [
        score(design, [die.copies for die in one.dice], SCORES)
        for one in alone
        for design in all_designs(one)
    ]
    return rank(scored, asked.rank)


def agrees(asked: Numbering, most: int) -> None:
    """The scores of the best are those of the first in the full list; only the last score may be of others."""
    every = all_ranked(asked)
    best = best_by_bounds(asked, most, SCORES, never, silent)
    assert best is not None
    overall = {one.id: one.overall for one in every}
    mine = [overall[one.design.id] for one in best.designs]
    assert mine == [one.overall for one in every[:most]]
    assert len({one.design.id for one in best.designs}) == min(most, len(every))
    surely = {one.id for one in every if one.overall > mine[-1]}
    assert surely <= {one.design.id for one in best.designs}
    assert best.least == mine[-1]
    if dict(asked.rank).get("cost"):
        assert best.cheapest == min(one.scores.scores["cost"] for one in every)


@pytest.mark.parametrize(
    "body",
    [
        'like = "d4 + d6 + d8"\ndice = [12, 16]',
        'like = "3d24"\ndice = [24, 24, 24]',
        'like = "d8 + d12 + d20"\ndice = [10, 12, 16]',
        'like = "2d48"\ndice = [48, 48]\nrank = { cost = 1 }',
        'like = "2d6"\ndice = [6, 6, 4]\nlabels = { lowest = -1 }',
        f'like = "3d12"\ndice = [12, {{ faces = 12, exactly = {list(range(1, 13))} }}, 12]\nlabels = {{ lowest = 0 }}',
        'like = "2d6"\ndice = [{ faces = 3, solid = "cube" }, 12]\nlabels = { lowest = -2 }',
    ],
)
def test_the_best_are_those_of_the_full_list(body: str) -> None:
    agrees(question(body), 7)


@given(
    like=some.sampled_from(["2d12", "d4 + d6 + d8", "2d18", "3d8", "d6 + d12", "2d6 + d4"]),
    lowest=some.integers(-1, 1),
    weights=some.tuples(*[some.integers(0, 3)] * 4).filter(any),
    most=some.integers(1, 12),
    data=some.data(),
)
@settings(max_examples=12, deadline=None)
def test_random_questions(
    like: str, lowest: int, weights: tuple[int, ...], most: int, data: some.DataObject
) -> None:
    faces = {
        "2d12": [[12, 12], [8, 18], [6, 24]],
        "d4 + d6 + d8": [[4, 6, 8], [12, 16], [8, 24]],
        "2d18": [[18, 18], [12, 27]],
        "3d8": [[8, 8, 8]],
        "d6 + d12": [[6, 12], [8, 9]],
        "2d6 + d4": [[6, 6, 4], [12, 12]],
    }[like]
    names = ("readability", "legible", "familiar", "cost")
    told = ", ".join(f"{name} = {weight}" for name, weight in zip(names, weights, strict=True))
    dice = data.draw(some.sampled_from(faces))
    asked = question(f'like = "{like}"\ndice = {dice}\nlabels = {{ lowest = {lowest} }}\nrank = {{ {told} }}')
    if all_ranked(asked):
        agrees(asked, most)


def test_an_answer_lists_the_best_and_says_what_is_proved() -> None:
    asked = question('like = "2d120"\ndice = [120, 120]\nstop = { designs = 5 }')
    found = answer(asked, seed=0, stop=never)
    every = all_ranked(asked)
    assert (found.verdict, found.count, len(found.found)) == ("complete", len(every), 5)
    shown = ranked_designs(found, SCORES)
    assert [one.overall for one in shown] == [one.overall for one in every[:5]]
    assert "the best 5 are listed" in found.reason
    assert f"none of the others scores more than {shown[-1].overall} overall" in found.reason


@pytest.mark.parametrize("held", [0, 50, 1_000])
def test_few_designs_are_scored_one_by_one_to_the_same_end(
    held: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = question('like = "2d12"\ndice = "2 of 4 6 8 12 18 24 36"\nstop = { designs = 7 }\n')
    bounded = answer(asked, seed=0, stop=never)
    monkeypatch.setattr("facewright.search.selecting.few.FEW", 1_000)
    monkeypatch.setattr("facewright.search.selecting.few.MOST_SPARE", held)
    monkeypatch.setattr("facewright.search.selecting.select.best_by_bounds", None)
    if held == 1_000:
        monkeypatch.setattr("facewright.search.selecting.weighed._listed_again", None)
    scored = answer(asked, seed=0, stop=never)
    assert 7 < bounded.count == scored.count <= 1_000
    assert [one.overall for one in ranked_designs(bounded, SCORES)] == [
        one.overall for one in ranked_designs(scored, SCORES)
    ]
    assert (bounded.verdict, bounded.reason) == (scored.verdict, scored.reason)


@pytest.mark.parametrize(
    ("dice", "most", "are"),
    [
        ("[6, 6]", 7, 500_000),
        ("[6, 6, 6]", 7, 5_000),
        ("[6, 6, { exactly = [1, 2, 3, 4, 5, 6] }]", 7, 500_000),
        ("[6, 6, 6]", 100_000, 1_000_000),
    ],
)
def test_designs_of_two_dice_are_few_unless_they_are_very_many(
    dice: str, most: int, are: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.undo()
    asked = question(f'like = "{3 if dice.count(",") > 1 else 2}d6"\ndice = {dice}')
    assert few(most, asked.sets) == are


def test_a_run_selects_anew_where_weights_or_number_change(tmp_path: Path) -> None:
    def run(more: str) -> tuple[list[int], str]:
        asked = question(f'like = "2d48"\ndice = [48, 48]\n{more}')
        found, done = perform(asked, more, tmp_path / "run", seed=0, stop=never, report=silent)
        assert [one.overall for one in ranked_designs(found, SCORES)] == [
            one.overall for one in all_ranked(asked)[: asked.stop.designs]
        ]
        return [one.overall for one in ranked_designs(found, SCORES)], done

    first, done = run("stop = { designs = 6 }")
    assert done == "answered"
    assert run("stop = { designs = 6 }") == (first, "known")
    fewer, done = run("stop = { designs = 3 }")
    assert (fewer, done) == (first[:3], "resumed")
    _, done = run("stop = { designs = 3 }\nrank = { cost = 1 }")
    assert done == "resumed"


def test_a_stop_leaves_the_first_found_and_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = question('like = "2d48"\ndice = [48, 48]\nstop = { designs = 3 }')

    def never_begun(*_: object) -> None:
        raise Stopped("interrupted")

    monkeypatch.setattr("facewright.search.selecting.select.best_by_bounds", never_begun)
    found = answer(asked, seed=0, stop=never)
    assert [one.design for one in found.found] == all_designs(asked)[:3]
    assert (found.verdict, found.count) == ("partial", len(all_designs(asked)))
    assert found.reason.endswith("The search for the best of them ended early (interrupted).")


def test_a_selection_cut_short_lists_the_best_found_with_a_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = question('like = "3d24"\ndice = [24, 24, 24]\nstop = { designs = 9 }')
    every = all_ranked(asked)
    whole, cut_at = Walk.all_at_least, every[4].overall

    def cut(walk: Walk, goal: Goal, score: int) -> Iterator[tuple[int, NumberingDesign]]:
        if isinstance(goal, Aim) and score == cut_at:
            raise Stopped("interrupted")
        return whole(walk, goal, score)

    monkeypatch.setattr(Walk, "all_at_least", cut)
    found = answer(asked, seed=0, stop=never)
    assert (found.verdict, found.count, len(found.found)) == ("partial", len(every), 9)
    assert found.outcomes[0].closing.bound == str(cut_at)
    listed = {one.design.id for one in found.found}
    assert {one.id for one in every if one.overall > cut_at} <= listed
    assert "the best 9 found are listed" in found.reason
    assert f"none of the others scores more than {cut_at} overall" in found.reason
    assert status(found) == 1
    monkeypatch.undo()
    assert status(answer(asked, seed=0, stop=never)) == 0


CHOICE = 'like = "2d24"\ndice = "2 of 6 12 18 24 32 48"\n'


def listed_are_best(asked: Numbering, **how: int) -> str:
    """The answer lists as many as the brief wants, with the scores of the first in the full list; its reason."""
    every = all_ranked(asked)
    found = answer(asked, seed=0, stop=never, **how)
    shown = ranked_designs(found, SCORES)
    assert (found.verdict, found.count) == ("complete", len(every))
    assert [one.overall for one in shown] == [one.overall for one in every[: asked.stop.designs]]
    assert {one.id for one in every if one.overall > shown[-1].overall} <= {one.id for one in shown}
    for position, outcome in enumerate(found.outcomes):
        assert outcome.listed == sum(one.set == position for one in found.found)
    assert f"none of the others scores more than {shown[-1].overall} overall" in found.reason
    return found.reason


@pytest.mark.parametrize("most", [1, 6, 40])
@pytest.mark.parametrize("weights", ["readability = 2, cost = 1", "cost = 1", "familiar = 1"])
def test_the_best_of_a_choice_are_the_best_of_all_its_sets(most: int, weights: str) -> None:
    asked = question(f"{CHOICE}stop = {{ designs = {most} }}\nrank = {{ {weights} }}")
    assert len(asked.sets) > 3
    assert "there are no others" in listed_are_best(asked)


def test_workers_that_share_the_sets_select_the_same() -> None:
    asked = question(f"{CHOICE}stop = {{ designs = 6 }}")
    assert listed_are_best(asked, workers=2) == listed_are_best(asked)


@pytest.mark.parametrize(
    "body",
    [
        'read = "signed-difference"\nlike = "d6 - d24"\ndice = [12, 12]\nlabels = { lowest = -30 }',
        'read = "total"\nlike = "2d24"\ndice = "2 of 12 24 48"\nlabels = { lowest = -2 }\n'
        'also = [{ rule = "distinct", at_most = 20 }]',
        'read = "every-order"\ndice = [6, 6, 6]',
        'read = "how-many"\nat_least = 3\nways = { "0" = 1, "1" = 2, "2" = 1 }\ndice = [4, 6]\n'
        "labels = { highest = 5 }",
        'read = "highest"\nlike = "highest of 2d4"\ndice = "2 of 8 12 16"\nlabels = { highest = 4 }\n'
        'also = [{ rule = "distinct", at_most = 4 }]',
    ],
)
def test_the_best_of_what_other_engines_list(body: str) -> None:
    asked = parse(f'title = "x"\n{body}\nstop = {{ designs = 4 }}')
    found = answer(asked, seed=0, stop=never)
    every = answer(replace(asked, stop=StopRule()), seed=0, stop=never)
    assert every.count == len(every.found) > 4 == len(found.found)
    best = [one.overall for one in ranked_designs(every, SCORES)]
    assert [one.overall for one in ranked_designs(found, SCORES)] == best[:4]
    assert found.engine != "factors"
    assert f"none of the others scores more than {best[3]} overall" in found.reason


ONE_BY_ONE = (
    'title = "x"\nread = "signed-difference"\nlike = "d6 - d24"\ndice = [12, 12]\nlabels = { lowest = -30 }\n'
    "stop = { designs = 4 }"
)


def test_scoring_cut_short_keeps_the_best_of_those_scored(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = parse(ONE_BY_ONE)
    every = answer(replace(asked, stop=StopRule()), seed=0, stop=never)
    monkeypatch.setattr("facewright.search.selecting.weighed.EACH", 1)
    scored = 0

    def report(what: str, done: int, of: int | None) -> None:
        nonlocal scored
        if what == "designs scored":
            scored = done

    found = answer(asked, seed=0, stop=lambda: "interrupted" if scored >= 7 else None, report=report)
    assert scored == 7 < every.count
    assert (found.verdict, found.count, found.bound, status(found)) == ("partial", every.count, "100", 1)
    of_seven = [score(one.design, [1, 1], SCORES) for one in every.found[:7]]
    best = [one.overall for one in rank(of_seven, asked.rank)[:4]]
    assert [one.overall for one in ranked_designs(found, SCORES)] == best
    assert "the best 4 found are listed" in found.reason
    assert "none of the others scores more than 100 overall" in found.reason


def test_of_a_search_cut_short_the_best_that_are_known_are_listed(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = parse(
        'title = "x"\nread = "total-of-highest"\nkeep = 2\nlike = "highest 2 of 3d4"\n'
        "dice = [4, 8, 8]\nlabels = { lowest = -2 }\nstop = { designs = 2 }"
    )
    seen: list[str] = []
    passed: list[Placed] = []
    given: list[tuple[Placed, ...]] = []

    def spied(question: Numbering, known: list[Placed], most: int, wanted: Settings) -> tuple[Placed, ...]:
        passed.extend(known)
        given.append(best_known(question, known, most, wanted))
        return given[-1]

    monkeypatch.setattr("facewright.search.selecting.select.best_known", spied)
    few = answer(
        asked,
        seed=0,
        stop=lambda: "interrupted" if seen.count("designs found") > 5 else None,
        report=lambda what, *_: seen.append(what),
    )
    assert (few.verdict, few.engine) == ("partial", "solver")
    assert few.count == len(passed) > 2 == len(few.found)
    scored = [score(one.design, [1, 1, 1], SCORES) for one in passed]
    best = [one.overall for one in rank(scored, asked.rank)]
    assert [one.overall for one in ranked_designs(few, SCORES)] == best[:2]
    assert [Placed(one.set, one.design) for one in few.found] == list(given[0])


def test_more_than_are_scored_are_the_first_found(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("facewright.search.selecting.weighed.MOST_SCORED", 5)
    asked = parse(ONE_BY_ONE)
    every = answer(replace(asked, stop=StopRule()), seed=0, stop=never)
    found = answer(asked, seed=0, stop=never)
    assert found.found == every.found[:4]
    assert "the first 4 found are listed" in found.reason


def test_a_choice_says_how_to_get_the_best() -> None:
    found = answer(question(CHOICE), seed=0, stop=never, limit=3)
    assert found.reason.endswith("With `stop.designs` in the brief the best are listed.")


def test_a_choice_that_is_known_is_not_answered_again_and_new_weights_only_select(tmp_path: Path) -> None:
    def run(more: str) -> tuple[Answer, str]:
        asked = question(f"{CHOICE}{more}")
        found, done = perform(asked, more, tmp_path / "run", seed=0, stop=never, report=silent)
        best = [one.overall for one in all_ranked(asked)[: asked.stop.designs]]
        assert [one.overall for one in ranked_designs(found, SCORES)] == best
        return found, done

    first, done = run("stop = { designs = 6 }")
    assert done == "answered"
    again, done = run("stop = { designs = 6 }")
    assert (done, set(again.found), again.reason) == ("known", set(first.found), first.reason)
    fewer, done = run("stop = { designs = 3 }")
    assert (done, len(fewer.found)) == ("resumed", 3)
    assert [one.engine for one in fewer.outcomes] == [one.engine for one in first.outcomes]
    _, done = run("stop = { designs = 3 }\nrank = { cost = 1 }")
    assert done == "resumed"


def test_a_choice_whose_selection_was_cut_short_goes_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = question(f"{CHOICE}stop = {{ designs = 40 }}")
    every = all_ranked(asked)
    whole = Walk.all_at_least

    def cut(walk: Walk, goal: Goal, score: int) -> Iterator[tuple[int, NumberingDesign]]:
        if isinstance(goal, Aim):
            raise Stopped("interrupted")
        return whole(walk, goal, score)

    monkeypatch.setattr(Walk, "all_at_least", cut)
    found, _ = perform(asked, "x", tmp_path / "run", seed=0, stop=never, report=silent)
    assert (found.verdict, found.count, len(found.found), status(found)) == ("partial", len(every), 40, 1)
    bound = int(found.bound or 0)
    assert {one.id for one in every if one.overall > bound} <= {one.design.id for one in found.found}
    assert (
        f"ended early (interrupted), and none of the others scores more than {bound} overall" in found.reason
    )
    monkeypatch.undo()
    found, done = perform(asked, "x", tmp_path / "run", seed=0, stop=never, report=silent)
    assert (done, found.verdict, found.bound, status(found)) == ("resumed", "complete", None, 0)
    assert [one.overall for one in ranked_designs(found, SCORES)] == [one.overall for one in every[:40]]
