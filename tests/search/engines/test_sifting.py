"""Further rules: the same designs by sifting as by the solver, also where there are too many to sift."""

from __future__ import annotations

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.question import Numbering
from facewright.constraints.question_form import from_form, to_form
from facewright.search.engines import sifting
from facewright.search.engines.sifting import Sifting
from facewright.search.engines.solver import Solver
from facewright.search.finding import find
from facewright.search.progress import silent
from facewright.search.recount import recount
from facewright.search.stop import never

BLANKS = 'read = "total"\nlike = "2d6"\ndice = [6, 6]\nlabels = { lowest = 0 }'
MIDDLE = 'read = "middle"\nlike = "d4"\ndice = [4, 4, 4]'
RULES = [
    (BLANKS, '{ rule = "equal-labels", chance = "1/6" }'),
    (BLANKS, '{ rule = "equal-labels", chance = "1/9" }'),
    (BLANKS, '{ rule = "same-mean" }'),
    (BLANKS, '{ rule = "symmetric" }'),
    (BLANKS, '{ rule = "distinct", at_most = 5 }'),
    (BLANKS, '{ rule = "also-read", read = "highest", like = "highest of 2d6" }'),
    (
        BLANKS,
        '{ rule = "also-read", read = "total-modulo", modulo = 3, like = "d3 - 1" }, { rule = "symmetric" }',
    ),
    (MIDDLE, '{ rule = "same-mean" }'),
    (MIDDLE, '{ rule = "symmetric" }, { rule = "equal-labels", chance = "0" }'),
    (
        'read = "signed-difference"\nlike = "d6 - d6"\ndice = [6, 6]',
        '{ rule = "also-read", read = "difference", like = "difference of 2d6" }',
    ),
    (
        'read = "total-modulo"\nmodulo = 2\nlike = "d2 - 1"\ndice = [4, 4]',
        '{ rule = "same-mean" }, { rule = "symmetric" }',
    ),
    (
        'read = "product"\nways = { 0 = 3, 6 = 1 }\ndice = [2, 2]\nlabels = { lowest = 0 }',
        '{ rule = "same-mean" }',
    ),
]


def asked(lines: str, rules: str) -> Numbering:
    """The question of a brief with further rules."""
    question = parse(f'title = "t"\n{lines}\nalso = [{rules}]\n', "test")
    assert isinstance(question, Numbering)
    return question


@pytest.mark.parametrize(("lines", "rules"), RULES)
def test_the_same_designs_as_the_solver(lines: str, rules: str, monkeypatch: pytest.MonkeyPatch) -> None:
    question = asked(lines, rules)
    assert Sifting().accepts(question)
    sifted, other = (one.answer(question, 1_000_000, never, 0, silent) for one in (Sifting(), Solver()))
    found, wanted = list(sifted), list(other)
    assert set(found) == set(wanted) and len(found) == len(wanted)
    assert sifted.closing.count == other.closing.count == len(found)
    assert sifted.closing.count_up_to_shift == other.closing.count_up_to_shift
    assert sifted.closing.verdict == other.closing.verdict == ("complete" if found else "none")
    assert all(recount(question, design).agrees for design in found)
    monkeypatch.setattr(sifting, "MOST", 1)
    handed_on = Sifting().answer(question, 1_000_000, never, 0, silent)
    assert set(handed_on) == set(found) and handed_on.closing.count == len(found)


def test_a_limit_and_a_stop() -> None:
    question = asked(BLANKS, '{ rule = "symmetric" }')
    answer = Sifting().answer(question, 2, never, 0, silent)
    assert len(list(answer)) == 2 and answer.closing.count == 5
    stopped = Sifting().answer(question, 2, lambda: "interrupted", 0, silent)
    assert list(stopped) == [] and stopped.closing.verdict == "partial"


def test_the_same_totals_and_the_same_chance_of_equal_labels() -> None:
    """Only the ordinary pair keeps both."""
    answer = find(
        asked(BLANKS.replace("lowest = 0", "lowest = 1"), '{ rule = "equal-labels", chance = "1/6" }')
    )
    assert answer.count == 1 and answer.found[0].design.ordinary
    assert "and with a chance of 1/6 of equal labels, there is no other" in answer.reason


@pytest.mark.parametrize(
    ("rules", "words"),
    [
        (
            '{ rule = "equal-labels", chance = "1/5" }',
            "equal labels would need 36/5 of them, no whole number",
        ),
        ('{ rule = "also-read", read = "highest", like = "d5" }', "Read as the highest of them"),
    ],
)
def test_a_chance_that_no_outcomes_make(rules: str, words: str) -> None:
    answer = find(asked(BLANKS, rules))
    assert (
        answer.verdict == "none" and words in answer.reason and answer.reason.startswith("No labels whatever")
    )


def test_fixed_dice_are_judged_by_further_rules() -> None:
    fixed = 'read = "total"\nlike = "2d6"\ndice = [{ exactly = [1, 2, 2, 3, 3, 4] }, { exactly = [1, 3, 4, 5, 6, 8] }]'
    near = fixed + '\naccept = "nearest"'
    for lines in (fixed, near):
        assert find(asked(lines, '{ rule = "same-mean" }')).verdict == "none"
        assert find(asked(lines, '{ rule = "symmetric" }')).verdict in ("complete", "best")


def test_the_nearest_that_keep_further_rules() -> None:
    lines = 'read = "total"\nlike = "2d5"\ndice = [4, 4]\nlabels = { highest = 6 }\naccept = "nearest"'
    free, few = (
        find(parse(f'title = "t"\n{lines}\n', "t")),
        find(asked(lines, '{ rule = "distinct", at_most = 2 }')),
    )
    assert few.verdict == "best"
    assert few.found[0].distance > free.found[0].distance
    assert all(len(set(die.labels)) <= 2 for die in few.found[0].design.dice)


@pytest.mark.parametrize(("lines", "rules"), RULES)
def test_questions_are_kept_and_told_apart(lines: str, rules: str) -> None:
    question = asked(lines, rules)
    again = from_form(to_form(question))
    assert again == question and again.fingerprint() == question.fingerprint()
    assert question.fingerprint() != asked(lines, '{ rule = "distinct", at_most = 9 }').fingerprint()
