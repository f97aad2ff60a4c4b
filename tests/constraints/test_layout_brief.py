"""Layout briefs: what they mean, and what is refused, with the line, what was found and what would be accepted."""

from __future__ import annotations

import random

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.brief.earlier import EarlierDie, NotThere
from facewright.constraints.brief.starter import starter
from facewright.constraints.errors import BriefRefused, Fault
from facewright.constraints.layout import Layout, Roll
from facewright.constraints.question import StopRule
from facewright.constraints.question_form import any_from_form, any_to_form

GOOD = 'title = "Numbers"\nsolid = "icosahedron"\nplace = "1..20"\nlayout = ["opposite-sums"]\n'
OF_RUN = 'title = "Numbers"\nfrom = { run = "dues", design = "3f", die = 2 }\nlayout = ["apart"]\n'
BIPYRAMID = EarlierDie((1, 2, 2, 3, 3, 4), "triangular bipyramid", 2.0, Roll("total", ((1, 2, 3, 4),)))


def faults(text: str) -> tuple[Fault, ...]:
    with pytest.raises(BriefRefused) as refused:
        parse(text)
    return refused.value.faults


def only_fault(text: str) -> Fault:
    [fault] = faults(text)
    return fault


def ask(text: str) -> Layout:
    question = parse(text, earlier=one_run)
    assert isinstance(question, Layout)
    return question


def one_run(run: str, design: str, die: int | None) -> EarlierDie:
    """Runs with one die to be had: dues, 3f, die 2."""
    if run != "dues":
        raise NotThere("run", f'"{run}": no run', "the name of a run")
    if design != "3f":
        raise NotThere("design", "no design", "ids begin: 3f2a")
    if die != 2:
        raise NotThere("die", "nothing: the key is missing", "a number from 1 to 2")
    return BIPYRAMID


def test_defaults() -> None:
    question = ask(GOOD)
    assert (question.solid, question.labels) == ("icosahedron", tuple(range(1, 21)))
    assert (question.goals, question.shape, question.draw) == (("opposite-sums",), "largest-numeral", None)
    assert (question.same_under, question.rename, question.roll) == ("rotation", False, Roll())
    assert (question.size_mm, question.size_is) == (None, "across-flats")
    assert question.sets == ("icosahedron",)


def test_every_key_reaches_the_question() -> None:
    question = ask(
        'title = "N"\nnote = "n"\nschema = 1\nsolid = "octagonal bipyramid"\nshape = 1.5\nplace = [1, 1, 2, 3]\n'
        'layout = ["apart", "long-along-draw"]\nsize_mm = 18.5\nsize_is = "tip-to-tip"\ndraw = [0, 0, 2]\n'
        'same_under = "reflection"\nrename = true\nstop = { seconds = 3, designs = 4 }\nrank = { cost = 1 }\n'
    )
    assert question.labels == (1, 1, 1, 1, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3)
    assert (question.goals, question.shape, question.draw) == (
        ("apart", "long-along-draw"),
        1.5,
        (0.0, 0.0, 2.0),
    )
    assert (question.size_mm, question.size_is) == (18.5, "tip-to-tip")
    assert (question.same_under, question.rename, question.stop) == ("reflection", True, StopRule(3, 4))
    again = any_from_form(any_to_form(question))
    assert again == question
    assert any_to_form(again) == any_to_form(question)
    assert again.fingerprint() == question.fingerprint()


def test_what_tells_questions_apart() -> None:
    one = ask(GOOD)
    assert (
        ask(GOOD.replace("Numbers", "Others") + "size_mm = 20\nstop = { designs = 3 }").fingerprint()
        == one.fingerprint()
    )
    for more in ('draw = "face"', 'same_under = "reflection"'):
        assert ask(GOOD + more).fingerprint() != one.fingerprint()
    apart = GOOD.replace("opposite-sums", "apart")
    assert ask(apart + "rename = true").fingerprint() != ask(apart).fingerprint()
    assert ask(GOOD.replace("opposite-sums", "even-vertices")).fingerprint() != one.fingerprint()
    assert ask(GOOD.replace("1..20", "0..19")).fingerprint() != one.fingerprint()


@pytest.mark.parametrize(
    ("solid", "place", "labels"),
    [
        ('solid = "cube"\n', '"1..3"', (1, 1, 2, 2, 3, 3)),
        ("solid = 6\n", '["N", "E", "S"]', ("N", "N", "E", "E", "S", "S")),
        ("", '"1 2 2 3 3 4"', (1, 2, 2, 3, 3, 4)),
        ("", '["", "x", 0, -3]', ("", "x", 0, -3)),
    ],
)
def test_labels(solid: str, place: str, labels: tuple[int | str, ...]) -> None:
    question = ask(f'title = "N"\n{solid}place = {place}\nlayout = ["apart"]')
    assert question.labels == labels
    assert question.solid == ("tetrahedron" if len(labels) == 4 else "cube")


def test_a_solid_without_opposite_faces_is_measured_by_its_height() -> None:
    assert ask('title = "N"\nplace = "1..4"\nlayout = ["even-vertices"]\nsize_mm = 18').size_is == "height"


def test_a_die_of_a_run_brings_its_solid_its_shape_and_its_roll() -> None:
    question = ask(OF_RUN)
    assert (question.solid, question.shape, question.labels) == (
        "triangular bipyramid",
        2.0,
        BIPYRAMID.labels,
    )
    assert question.roll == Roll("total", ((1, 2, 3, 4),))
    assert question.asked == "dues/3f, die 2"
    other = ask(OF_RUN + 'solid = "cube"')
    assert (other.solid, other.shape, other.roll) == ("cube", "largest-numeral", question.roll)
    assert ask(OF_RUN + 'solid = "dodecahedron"').labels[:4] == (1, 1, 2, 2)


def test_the_starter_is_a_brief() -> None:
    question = ask(starter("layout"))
    assert (question.solid, question.goals) == ("icosahedron", ("opposite-sums", "even-vertices"))


WRONG = [
    (GOOD.replace("icosa", "icosi"), 2, "solid", '"icosihedron"', "icosahedron"),
    (GOOD.replace('"icosahedron"', "500"), 2, "solid", "500 faces", "at most 120 faces"),
    (GOOD.replace('"icosahedron"', "[20]"), 2, "solid", "a list, [20]", "a face count"),
    (GOOD.replace("1..20", "1..19"), 3, "place", "19 labels for the 20 faces of the icosahedron", "2, 4, 5, 10, 20"),
    (GOOD.replace("1..20", "20..1"), 3, "place", "runs downwards", '"1..20"'),
    (GOOD.replace("1..20", "1-20"), 3, "place", '"1-20"', '"1..20"'),
    (GOOD.replace("1..20", "7"), 3, "place", "one label, 7", "at least two labels"),
    (GOOD.replace('"1..20"', "20"), 3, "place", "20", "a range"),
    (GOOD.replace('"1..20"', "[5, 5, 5, 5]"), 3, "place", "4 labels, all 5", "two different labels"),
    (GOOD.replace('"1..20"', "[1, 2, 3, 4.5]"), 3, "place[4]", "4.5", "a whole number or a text"),
    (GOOD.replace('"1..20"', '[1, 2, 3, "4"]'), 3, "place[4]", '"4", a text', "without quotation marks, 4"),
    (GOOD.replace('"1..20"', '[1, 2, 3, " x"]'), 3, "place[4]", '" x" for a label', "no spaces around it"),
    (GOOD.replace('"1..20"', '[1, 2, 3, "a\\nb"]'), 3, "place[4]", "for a label", "a text of up to 40"),
    (GOOD.replace('"1..20"', '["N", "E", "S", "W"]'), 4, "layout[1]", 'words, such as "N"', '"apart"'),
    (GOOD.replace("opposite-sums", "opposite sums"), 4, "layout[1]", '"opposite sums"', '"opposite-sums"'),
    (GOOD.replace('["opposite-sums"]', '["apart", "apart"]'), 4, "layout[2]", "second time", "each goal once"),
    (GOOD.replace('["opposite-sums"]', "[]"), 4, "layout", "an empty list", "even-vertices"),
    (GOOD.replace('["opposite-sums"]', '"apart"'), 4, "layout", '"apart", a text', "a list of what matters"),
    (GOOD.replace('["opposite-sums"]', '["long-along-draw"]'), 4, "layout[1]", "without a draw", '"vertex"'),
    (GOOD.replace("icosa", "tetra").replace("20", "4"), 4, "layout[1]", "have no opposite", "a solid with opposite"),
    (GOOD + 'draw = "corner"', 5, "draw", '"corner"', '"face", "edge", "vertex"'),
    (GOOD + "draw = [0, 0, 0]", 5, "draw", "no direction", "such as [0, 0, 1]"),
    (GOOD + "draw = [0, 1e-200, 0]", 5, "draw", "[0, 1e-200, 0], which is no direction", "such as [0, 0, 1]"),
    (GOOD + "draw = [0, 1]", 5, "draw", "2 items", "such as [0, 0, 1]"),
    (GOOD + 'draw = [0, 1, "x"]', 5, "draw[3]", '"x"', "a number"),
    (GOOD + "draw = [0, 1, nan]", 5, "draw[3]", "nan", "a number"),
    (GOOD + "size_mm = 0", 5, "size_mm", "0", "above 0"),
    (GOOD + "size_mm = -2.5", 5, "size_mm", "-2.5", "above 0"),
    (GOOD + "size_mm = inf", 5, "size_mm", "inf", "above 0"),
    (GOOD + 'size_mm = "20"', 5, "size_mm", '"20"', "millimetres"),
    (GOOD + 'size_is = "flats"', 5, "size_is", '"flats"', '"across-flats", "edge", "height", "tip-to-tip"'),
    (GOOD + "shape = 2", 5, "shape", "shape 2", "icosahedron has no free proportion"),
    (GOOD + 'shape = "tall"', 5, "shape", '"tall"', "largest-numeral, settles-best"),
    (GOOD + "shape = true", 5, "shape", "true", "a number"),
    (GOOD + 'same_under = "mirror"', 5, "same_under", '"mirror"', '"reflection"'),
    (GOOD + 'rename = "yes"', 5, "rename", '"yes"', "true or false"),
    (GOOD + "rename = true", 5, "rename", 'although "opposite-sums" makes', "false"),
    (GOOD + "share = 2", 5, "share", "a key of readouts briefs", "own keys"),
    (GOOD + "dice = [6]", 5, "dice", "a key of numbering briefs", "a layout brief's own keys"),
    (GOOD + "sise_mm = 20", 5, "sise_mm", "an unknown key", "size_mm"),
    (GOOD.replace('title = "Numbers"\n', ""), 0, "title", "missing", "a title"),
    (GOOD.replace('layout = ["opposite-sums"]\n', ""), 0, "layout", "missing", "what matters, most first"),
    (OF_RUN.replace('run = "dues", ', ""), 2, "from.run", "missing", "the name of a run"),
    (OF_RUN.replace(', design = "3f"', ""), 2, "from.design", "missing", "the id of a design"),
    (OF_RUN.replace("die = 2", "die = 0"), 2, "from.die", "0", "counted from 1"),
    (OF_RUN.replace('{ run = "dues", design = "3f", die = 2 }', '"dues"'), 2, "from", '"dues"', "a table such as"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "line", "key", "found", "accepted"), WRONG, ids=range(len(WRONG)))
def test_one_clear_message_each(text: str, line: int, key: str, found: str, accepted: str) -> None:
    with pytest.raises(BriefRefused) as refused:
        parse(text, earlier=one_run)
    [fault] = refused.value.faults
    assert (fault.line, fault.key) == (line, key)
    assert found in fault.found
    assert accepted in fault.accepted


@pytest.mark.parametrize(
    ("part", "key", "found"),
    [
        ('run = "duty", design = "3f", die = 2', "from.run", '"duty": no run'),
        ('run = "dues", design = "4f", die = 2', "from.design", "no design"),
        ('run = "dues", design = "3f"', "from.die", "missing"),
    ],
)
def test_a_run_a_design_or_a_die_that_is_not_there(part: str, key: str, found: str) -> None:
    with pytest.raises(BriefRefused) as refused:
        parse(f'title = "N"\nfrom = {{ {part} }}\nlayout = ["apart"]', earlier=one_run)
    [fault] = refused.value.faults
    assert (fault.line, fault.key) == (2, key)
    assert found in fault.found


def test_without_runs_a_die_of_a_run_is_refused() -> None:
    fault = only_fault(OF_RUN)
    assert (fault.line, fault.key) == (2, "from")


def test_two_kinds_in_one_brief() -> None:
    found = {fault.found: fault.accepted for fault in faults(GOOD + 'read = "total"')}
    assert "one of them: a brief asks one question" in found["`read` (numbering) beside `place` (layout)"]


def test_place_and_from_together() -> None:
    fault = only_fault(GOOD + 'from = { run = "a", design = "b" }')
    assert (fault.line, fault.key) == (5, "from")
    assert fault.accepted == "one of them: the labels stand in the brief, or come from a run"


def test_all_faults_at_once() -> None:
    text = (
        'title = 3\nsolid = "icosahedrom"\nplace = [1, "1", 2.5]\nlayout = ["apart", "apart", "evn-vertices"]\n'
        'size_mm = 0\nsize_is = "flats"\ndraw = [0, 0, 0]\nshape = true\nrename = 1\nbogus = 1\n'
    )
    assert [(fault.line, fault.key) for fault in faults(text)] == [
        (1, "title"),
        (2, "solid"),
        (3, "place[3]"),
        (4, "layout[2]"),
        (4, "layout[3]"),
        (5, "size_mm"),
        (6, "size_is"),
        (7, "draw"),
        (8, "shape"),
        (9, "rename"),
        (10, "bogus"),
    ]


def test_planted_faults_are_found_where_they_stand_and_no_others() -> None:
    """Wrong lines that do not bear on each other, any of them together in any order."""
    sound = {"title": 'title = "N"', "place": 'place = "1..6"', "layout": 'layout = ["apart"]'}
    plants = {
        "title": 'title = ""',
        "solid": 'solid = "cub"',
        "place": 'place = "6..1"',
        "layout": 'layout = ["apart", "apart"]',
        "size_mm": "size_mm = 0",
        "size_is": "size_is = 3",
        "draw": "draw = [0, 0, 0.0]",
        "same_under": 'same_under = ""',
        "rename": "rename = 0",
        "stop": "stop = 3",
        "colour": "colour = 1",
    }
    at = {"layout": "layout[2]"}
    rng = random.Random("layout briefs")
    for _ in range(200):
        planted = set(rng.sample(sorted(plants), rng.randint(1, 6)))
        keys = [*(planted | set(sound))]
        rng.shuffle(keys)
        text = "\n".join(plants[key] if key in planted else sound[key] for key in keys)
        found = {(fault.line, fault.key) for fault in faults(text)}
        assert found == {(keys.index(key) + 1, at.get(key, key)) for key in planted}, text
