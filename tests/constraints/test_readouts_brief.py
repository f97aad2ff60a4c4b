"""Readouts briefs: what they mean, and what is refused, with the line, what was found and what would be accepted."""

from __future__ import annotations

import pytest
from facewright.constraints.brief import parse
from facewright.constraints.brief.readouts import parse_readout
from facewright.constraints.brief.starter import starter
from facewright.constraints.errors import BriefRefused, Fault, UsageError
from facewright.constraints.question import StopRule
from facewright.constraints.question_form import any_from_form, any_to_form
from facewright.constraints.readouts import Readouts
from facewright.constraints.solids.names import solid_named

GOOD = 'title = "Wind"\nsolid = "rhombic dodecahedron"\nreadouts = { wind = 4, rain = 2 }\n'


def faults(text: str) -> tuple[Fault, ...]:
    with pytest.raises(BriefRefused) as refused:
        parse(text)
    return refused.value.faults


def only_fault(text: str) -> Fault:
    [fault] = faults(text)
    return fault


def ask(text: str) -> Readouts:
    question = parse(text)
    assert isinstance(question, Readouts)
    return question


def test_defaults() -> None:
    question = ask(GOOD)
    assert question.solids == ("rhombic dodecahedron",)
    assert [one.name for one in question.readouts] == ["wind", "rain"]
    assert (question.independent, question.measure, question.share) == ("best", "together", 1)
    assert (question.same_under, question.rename) == ("rotation", False)
    assert question.choice == ""


def test_every_key_reaches_the_question() -> None:
    question = ask(
        'title = "Wind"\nnote = "n"\nschema = 1\nsolid = ["cube", 8, "cube"]\nreadouts = { a = 2, b = "x:1 y:1" }\n'
        'independent = "exact"\nmeasure = "pairs"\non = { a = "edges" }\nshare = 2\nsame_under = "reflection"\n'
        "rename = true\nstop = { seconds = 3, designs = 4 }\nrank = { cost = 1 }\n"
    )
    assert question.solids == ("cube", "octahedron")
    assert question.readouts[0].on == "edges"
    assert question.readouts[1].labels == ("x", "y")
    assert (question.independent, question.measure, question.share) == ("exact", "pairs", 2)
    assert (question.same_under, question.rename) == ("reflection", True)
    assert question.stop == StopRule(3, 4)
    assert question.choice == "cube, 8, cube"
    again = any_from_form(any_to_form(question))
    assert again == question
    assert again.fingerprint() == question.fingerprint()


def test_what_does_not_tell_questions_apart() -> None:
    one, other = ask(GOOD), ask(GOOD.replace("Wind", "Rain") + 'note = "x"\nstop = { designs = 3 }')
    assert one == other
    assert one.fingerprint() == other.fingerprint()
    assert ask(GOOD + 'measure = "pairs"').fingerprint() != one.fingerprint()


def test_weights_in_lowest_terms_and_dice() -> None:
    assert parse_readout("rain", "yes:2, no:4").weights == (1, 2)
    tide = parse_readout("tide", "2d3")
    assert (tide.labels, tide.weights, tide.ways) == ((2, 3, 4, 5, 6), (1, 2, 3, 2, 1), 9)


def test_any_solid_up_to_a_number_of_faces() -> None:
    question = ask(GOOD.replace('"rhombic dodecahedron"', '"any up to 12"'))
    assert "rhombic dodecahedron" in question.solids
    assert all(solid_named(name)[1] <= 12 for name in question.solids)
    assert len(ask(GOOD.replace('"rhombic dodecahedron"', '"any"')).solids) > len(question.solids)


def test_the_starter_is_a_brief() -> None:
    assert ask(starter("readouts")).solids == ("tetrakis hexahedron",)
    with pytest.raises(UsageError, match="accepted: numbering, readouts, layout"):
        starter("readout")


@pytest.mark.parametrize(
    ("text", "line", "key", "found", "accepted"),
    [
        (
            GOOD.replace("rhombic", "rombic"),
            2,
            "solid",
            '"rombic dodecahedron"',
            "rhombic dodecahedron",
        ),
        (GOOD.replace('"rhombic dodecahedron"', "500"), 2, "solid", "500 faces", "at most 120 faces"),
        (GOOD.replace('"rhombic dodecahedron"', '"any up to 500"'), 2, "solid", "500 faces", "at most 120"),
        (GOOD.replace('"rhombic dodecahedron"', "true"), 2, "solid", "true", "a face count"),
        (GOOD.replace("wind = 4", "wind = 1"), 3, "readouts.wind", "one label", "at least two labels"),
        (GOOD.replace("wind = 4", 'wind = "calm:3"'), 3, "readouts.wind", "one label, calm", "at least two"),
        (GOOD.replace("wind = 4", "wind = 5"), 3, "readouts.wind", "do not fit", "2, 3, 4, 6, 12"),
        (
            GOOD.replace("wind = 4", 'wind = "a:2 b:3"'),
            3,
            "readouts.wind",
            "weights that add up to 5",
            "a multiple of 5",
        ),
        (GOOD.replace("wind = 4", 'wind = "a:1 b"'), 3, "readouts.wind", '"b" in', "pairs"),
        (GOOD.replace("wind = 4", 'wind = "a:1 a:2"'), 3, "readouts.wind", 'the label "a" twice', "once"),
        (GOOD.replace("wind = 4", 'wind = "a:0 b:2"'), 3, "readouts.wind", "the weight 0", "weights from 1"),
        (GOOD.replace("wind = 4", 'wind = "4"'), 3, "readouts.wind", '"4", a text', "a number of labels"),
        (GOOD.replace("wind = 4", "wind = 4.0"), 3, "readouts.wind", "4.0", "a number of labels"),
        (
            GOOD.replace("{ wind = 4, rain = 2 }", "{}"),
            3,
            "readouts",
            "an empty table",
            "at least one readout",
        ),
        (GOOD + 'on = { wynd = "faces" }', 4, "on.wynd", "does not have", "wind"),
        (GOOD + 'on = { wind = "corners" }', 4, "on.wind", '"corners"', '"vertices"'),
        (GOOD + "share = 0", 4, "share", "0", "from 1 up"),
        (GOOD + 'independent = "bets"', 4, "independent", '"bets"', '"exact" or "best"'),
        (GOOD + "dice = [6]", 4, "dice", "a key of numbering briefs", "own keys"),
        (GOOD + "mesure = 3", 4, "mesure", "an unknown key", "measure"),
        (GOOD + "shape = 2.0", 4, "shape", "shape 2", "no free proportion"),
        (GOOD + 'layout = ["apart", "even-vertices"]', 4, "layout[2]", '"even-vertices" in this', '"apart"'),
        (GOOD.replace('title = "Wind"\n', ""), 0, "title", "missing", "a title"),
        (GOOD.replace('solid = "rhombic dodecahedron"\n', ""), 0, "solid", "missing", "any up to 60"),
    ],
)
def test_one_clear_message_each(text: str, line: int, key: str, found: str, accepted: str) -> None:
    fault = only_fault(text)
    assert (fault.line, fault.key) == (line, key)
    assert found in fault.found
    assert accepted in fault.accepted


def test_all_faults_at_once() -> None:
    text = 'title = 3\nsolid = ["cub", 500]\nreadouts = { wind = 0, rain = 1, tide = "2x" }\nshare = "one"\nbogus = 1'
    found = [(fault.line, fault.key) for fault in faults(text)]
    assert found == [
        (1, "title"),
        (2, "solid[1]"),
        (2, "solid[2]"),
        (3, "readouts.rain"),
        (3, "readouts.tide"),
        (3, "readouts.wind"),
        (4, "share"),
        (5, "bogus"),
    ]


def test_too_many_combinations_and_too_many_readouts() -> None:
    many = GOOD.replace("{ wind = 4, rain = 2 }", "{ a = 60, b = 60 }").replace("rhombic dodecahedron", "any")
    assert "3,600 combinations" in only_fault(many).found
    names = ", ".join(f"r{n} = 2" for n in range(9))
    assert "9 readouts" in only_fault(GOOD.replace("wind = 4, rain = 2", names)).found


def test_two_kinds_of_brief_in_one() -> None:
    found = faults(GOOD + 'read = "total"\n')
    assert "one of them: a brief asks one question" in [fault.accepted for fault in found]
