"""Random questions: all engines give the same designs and counts, and brute force does where it can."""

from __future__ import annotations

from functools import reduce

from facewright.constraints.distribution import Distribution
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.question import Numbering
from facewright.search.engines import ENGINES
from facewright.search.progress import silent
from facewright.search.recount import recount
from facewright.search.stop import never
from hypothesis import event, given, settings
from hypothesis import strategies as st

from tests import brute

NO_LIMIT = 1_000_000
TINY = 5_000
"""So many sets of numberings take brute force a few hundredths of a second."""


@st.composite
def label_rules(draw: st.DrawFn) -> LabelRules:
    """Rules of any kind, each of them often absent."""
    lowest = draw(st.integers(-3, 2))
    highest = lowest + draw(st.integers(2, 10))
    labels = st.integers(lowest, highest)
    only, avoid = None, ()
    kind = draw(st.integers(0, 5))
    if kind == 0:
        only = tuple(sorted(draw(st.sets(labels, min_size=2, max_size=8))))
    if kind in (0, 1):
        avoid = tuple(sorted(draw(st.sets(labels, min_size=1, max_size=2))))
    repeats = draw(st.sampled_from((None, None, None, 1, 2, 3)))
    return LabelRules(lowest, highest, repeats, only, avoid)


@st.composite
def numbering(draw: st.DrawFn, faces: int, lowest: int = 0, highest: int = 5) -> tuple[int, ...]:
    """Labels of one die: some plain, some with every label a few times over, so that there is a content."""
    times = draw(st.sampled_from([n for n in (1, 1, 1, 2, 3) if faces % n == 0]))
    labels = draw(st.lists(st.integers(lowest, highest), min_size=faces // times, max_size=faces // times))
    if draw(st.booleans()):
        labels = list(range(lowest, lowest + faces // times))
    return tuple(sorted(labels * times))


@st.composite
def dice(draw: st.DrawFn) -> tuple[Die, ...]:
    """One to three dice: some interchangeable, some alike but for a name, some fixed."""
    made: list[Die] = []
    for _ in range(draw(st.sampled_from((1, 2, 2, 2, 2, 3, 3)))):
        if made and draw(st.integers(0, 2)):
            made.append(made[-1])
            continue
        faces = draw(st.integers(2, 6 if len(made) < 2 else 4))
        exactly = draw(numbering(faces)) if draw(st.integers(0, 7)) == 0 else None
        name = draw(st.sampled_from((None, None, None, "tug")))
        made.append(Die(faces, f"solid with {faces} faces", 1, draw(label_rules()), exactly, name))
    return tuple(draw(st.permutations(made)))


@st.composite
def questions(draw: st.DrawFn) -> Numbering:
    """A target that these dice give, that other dice of these sizes give, or nearly give, or that is all random."""
    asked = draw(dice())
    kind = draw(st.sampled_from(("own", "own", "own", "others", "others", "merged", "perturbed", "random")))
    event(kind)
    if kind == "random":
        least = sum(die.lowest_label for die in asked)
        ways = draw(st.lists(st.integers(0, 3), min_size=1, max_size=8).filter(any))
        return Numbering("total", Distribution.of(dict(enumerate(ways, start=least))), (asked,))
    rolled = []
    for die in asked:
        pool = die.rules.allowed()
        if kind != "own" or not pool:
            rolled.append(draw(numbering(die.faces)))
        elif die.exactly is not None:
            rolled.append(die.exactly)
        else:
            rolled.append(draw(st.lists(st.sampled_from(pool), min_size=die.faces, max_size=die.faces)))
    target = reduce(Distribution.__add__, map(Distribution.of_labels, rolled))
    if kind == "merged" and len(rolled) > 1:
        # two of the dice become one with as many faces as they have outcomes: other sizes, the same outcomes
        many = draw(numbering(len(rolled[0]) * len(rolled[1]), 0, 8))
        target = reduce(Distribution.__add__, map(Distribution.of_labels, [many, *rolled[2:]]))
    if kind == "perturbed":
        ways = dict(target.ways)
        ways[draw(st.sampled_from(sorted(ways)))] -= 1
        to = draw(st.integers(target.least, target.greatest))
        ways[to] = ways.get(to, 0) + 1
        target = Distribution.of(ways)
    if kind != "own" and draw(st.booleans()):
        target = target.shifted(sum(die.lowest_label for die in asked) - target.least)
    return Numbering("total", target.reduced() if draw(st.booleans()) else target, (asked,))


@settings(max_examples=1_200)
@given(questions())
def test_engines_agree(question: Numbering) -> None:
    answers = {}
    for engine in ENGINES:
        if not engine.accepts(question):
            continue
        answer = engine.answer(question, NO_LIMIT, never, 0, silent)
        found = list(answer)
        assert len(found) == len(set(found)), engine.name
        closing = answer.closing
        assert closing.verdict == ("complete" if found else "none"), engine.name
        assert (closing.count, closing.count_is) == (len(found), "all"), engine.name
        answers[engine.name] = (set(found), closing.count_up_to_shift)
    assert len(answers) >= 2
    designs, shapes = answers["solver"]
    event("some designs" if designs else "no design")
    assert {name: one for name, one in answers.items() if one != (designs, shapes)} == {}
    assert shapes == brute.shapes(question, designs)
    assert all(recount(question, design).agrees for design in designs)
    if brute.work(question) <= TINY:
        event("tried by brute force")
        assert designs == brute.designs(question)
