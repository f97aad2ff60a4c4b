"""Which rules of a question cannot stand together: the smallest set of them, every smaller one shown to be possible.

What is left when no division and no factor rules every design out. The rules are those that a brief states: parts of
the label rules, fixed dice, further rules. A set of them is possible where the question with these rules alone has a
design, and impossible where an engine proves that it has none.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from facewright.constraints.further import Further
from facewright.constraints.grammar import capital, counted, number, series
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.question import Numbering, StopRule
from facewright.search.answer import Closing
from facewright.search.progress import Progress, silent
from facewright.search.stop import Limits, Stop, Stopped
from facewright.search.words import TIMES, conditions, further_rule_words

PARTS = ("highest", "repeats", "only", "avoid")
"""Parts of the label rules that may be left out; the lowest label is looked at by itself."""

REASON_SECONDS = 10.0
"""How long a reason is looked for: none is proved already."""

Rule = str | int | Further
"""A part of the label rules, the position of a fixed die, or a further rule."""


@dataclass
class Patience:
    """Stops where the question's own stop does, or when enough time has gone by."""

    stop: Stop
    limit: Limits

    def __call__(self) -> str | None:
        """The reason to stop now, or None."""
        return self.stop() or self.limit()


@dataclass(frozen=True)
class Tried:
    """A set of rules that was tried, and whether some design keeps them."""

    rules: tuple[Rule, ...]
    possible: bool


def explained(
    question: Numbering, closing: Closing, seed: int, stop: Stop, report: Progress = silent
) -> Closing:
    """The closing statement of a question without designs, with a plainer reason where there is one.

    Params:
        question: about one set of dice.
        closing: what the engine says.
        seed: for engines that use chance.
        stop: asked whether to stop early; the reason is then the engine's.
        report: told of the progress.
    """
    if closing.verdict != "none" or closing.cause != "search":
        return closing
    report("looking for the reason", 0, None)
    patience = Patience(stop, Limits(REASON_SECONDS))
    try:
        return _clash(question, closing, seed, patience)
    except Stopped:
        return closing


def rules_of(question: Numbering) -> tuple[Rule, ...]:
    """The rules that the brief states and that may be left out."""
    free = [die for die in question.dice if die.exactly is None]
    parts = [part for part in PARTS if any(part in die.rules.given for die in free)]
    fixed = [place for place, die in enumerate(question.dice) if die.exactly is not None]
    return (*parts, *fixed, *question.also)


def with_rules(question: Numbering, kept: Sequence[Rule]) -> Numbering:
    """The question with these of its rules alone; every design of the question is one of it."""
    dice = question.dice
    lowest = [min(die.lowest_label, _default_lowest(die)) for die in dice]
    faces = [die.faces for die in dice]
    wide = []
    for place, die in enumerate(dice):
        if die.exactly is not None and place in kept:
            wide.append(die)
            continue
        top = question.reading.highest_label(place, lowest, faces, question.target)
        ends = die.exactly or (die.rules.lowest, die.rules.highest)
        rules = _loose(die, kept, min(lowest[place], ends[0]), max(top, ends[-1]))
        wide.append(replace(die, exactly=None, rules=rules))
    return replace(
        question.alone(tuple(wide)),
        anchored=False,
        also=tuple(rule for rule in question.also if rule in kept),
        stop=StopRule(question.stop.seconds, 1),
    )


def _default_lowest(die: Die) -> int:
    """The lowest label of a die once no list of labels says it."""
    return die.rules.lowest if die.exactly is None and "lowest" in die.rules.given else 1


def _loose(die: Die, kept: Sequence[Rule], lowest: int, highest: int) -> LabelRules:
    rules = die.rules
    if die.exactly is not None:
        return LabelRules(lowest, highest)
    only = rules.only if "only" in kept else None
    bounded = "highest" in kept and "highest" in rules.given
    return LabelRules(
        lowest,
        rules.highest if bounded else highest,
        rules.repeats if "repeats" in kept else None,
        only,
        rules.avoid if "avoid" in kept else (),
        rules.given & {"lowest", *(part for part in kept if isinstance(part, str))},
    )


def possible(question: Numbering, seed: int, stop: Stop) -> bool:
    """Whether a question has a design at all; where the nearest is wanted, whether dice can keep its rules.

    Raises:
        Stopped: `stop` asked for it.
    """
    if question.accept == "nearest":
        return _numberable(question, seed, stop)
    from facewright.search.finding import engine_for

    answering = engine_for(question).answer(question, 1, stop, seed, silent)
    for _ in answering:
        return True
    if answering.closing.verdict == "partial":
        raise Stopped(answering.closing.reason)
    return answering.closing.count > 0


def _numberable(question: Numbering, seed: int, stop: Stop) -> bool:
    """Whether dice can keep the rules of a question, whatever their chances."""
    from facewright.constraints.model.counts import CountModel
    from facewright.constraints.model.further import post_further
    from facewright.search.engines.solver_run import SolverRun

    model = CountModel(question.dice, question.again)
    for rule in question.also:
        post_further(model, rule)
    solutions = SolverRun(model, seed).solutions(stop)
    try:
        return next(solutions, None) is not None
    finally:
        solutions.close()


def smallest(question: Numbering, seed: int, stop: Stop) -> Iterator[Tried]:
    """Sets of rules, smaller ones first, as they are tried; the last is the first impossible one, if there is one.

    Raises:
        Stopped: `stop` asked for it.
    """
    rules = rules_of(question)
    for size in range(len(rules) + 1):
        for kept in combinations(rules, size):
            found = Tried(kept, possible(with_rules(question, kept), seed, stop))
            yield found
            if not found.possible:
                return


def _clash(question: Numbering, closing: Closing, seed: int, stop: Stop) -> Closing:
    tried = list(smallest(question, seed, stop)) if rules_of(question) else []
    clash = tried[-1].rules if tried and not tried[-1].possible else ()
    lowest = _lowest_that_works(question, seed, stop)
    below = "" if lowest is None else f" With lowest = {lowest} there are some."
    proof = closing.proof
    if lowest is not None:
        known = f"With lowest = {lowest} an engine finds a design, with {lowest + 1} it proves that there is none."
        proof = (*proof, known)
    if clash:
        smaller = capital(counted(sum(one.possible for one in tried), "set"))
        known = f"{smaller} of rules, no rules and all smaller sets among them, have a design each; this one has none."
        words = f"{conditions(with_rules(question, ()))} {_clash_words(question, clash)}{below}"
        return replace(closing, reason=words, proof=(*proof, known), cause="clash")
    if lowest is not None:
        start = f"{conditions(question)} no numbering does it: the lowest label is too high."
        return replace(closing, reason=f"{start}{below}", proof=proof, cause="clash")
    if tried and not tried[-1].possible:
        start = (
            f"{conditions(with_rules(question, ()))} no numbering does it, with or without your other rules"
        )
        return replace(closing, reason=f"{start}: every choice of labels was ruled out.")
    return closing


def _clash_words(question: Numbering, clash: Sequence[Rule]) -> str:
    """Which rules cannot stand together, to follow the conditions."""
    told = series(rule_words(question, rule) for rule in clash)
    if len(clash) == 1:
        return f"one rule rules every numbering out: {told}. Without it, other rules aside, there are some."
    apart = "Either alone can be kept" if len(clash) == 2 else "Any one left out, the others can be kept"
    return f"these {number(len(clash))} rules cannot stand together: {told}. {apart}, other rules aside."


def rule_words(question: Numbering, rule: Rule) -> str:
    """A rule in words."""
    if isinstance(rule, int):
        return f"die {rule + 1} fixed to {' '.join(map(str, question.dice[rule].exactly or ()))}"
    if not isinstance(rule, str):
        return further_rule_words(rule)
    found = {die.rules for die in question.dice if die.exactly is None and rule in die.rules.given}
    if len(found) > 1:
        return {
            "highest": "your highest labels",
            "repeats": "your limits on equal labels",
            "only": "your lists of labels allowed",
            "avoid": "your barred labels",
        }[rule]
    [rules] = found
    match rule:
        case "highest":
            return f"no label above {rules.highest}"
        case "repeats":
            most = rules.repeats or 0
            return f"no label more than {TIMES.get(most, f'{number(most)} times')} on a die"
        case "only":
            return f"only the labels {series(map(str, rules.only or ()), 'or')}"
    return f"no label {series(map(str, rules.avoid), 'or')}"


def _lowest_that_works(question: Numbering, seed: int, stop: Stop) -> int | None:
    """The highest lowest label with which there are designs, all other rules kept; None where none is known."""
    free = [die for die in question.dice if die.exactly is None and die.rules.only is None]
    if not free or question.accept == "nearest":
        return None
    fails, works = max(die.rules.lowest for die in free), _lowest_worth_trying(question)
    if works >= fails or not possible(lowered(question, works), seed, stop):
        return None
    while fails - works > 1:
        middle = (works + fails) // 2
        if possible(lowered(question, middle), seed, stop):
            works = middle
        else:
            fails = middle
    return works


def lowered(question: Numbering, lowest: int) -> Numbering:
    """The question with every die that has no list of labels allowed to go down to `lowest`, other rules kept."""
    lows = [
        min(die.rules.lowest, lowest) if die.exactly is None and die.rules.only is None else die.lowest_label
        for die in question.dice
    ]
    faces = [die.faces for die in question.dice]
    dice = []
    for place, die in enumerate(question.dice):
        if die.exactly is not None or die.rules.only is not None:
            dice.append(die)
            continue
        top = question.reading.highest_label(place, lows, faces, question.target)
        highest = die.rules.highest if "highest" in die.rules.given else max(top, die.rules.highest)
        dice.append(replace(die, rules=replace(die.rules, lowest=lows[place], highest=highest)))
    return replace(question.alone(tuple(dice)), stop=StopRule(question.stop.seconds, 1))


def _lowest_worth_trying(question: Numbering) -> int:
    """How far down the lowest label is tried: where results begin, or where labels of either sign meet all results."""
    least, greatest = question.target.least, question.target.greatest
    if isinstance(least, tuple):
        return int(min(min(result) for result in question.target.ways))
    if question.read == "product":
        return 0 if least >= 0 else -max(abs(least), abs(greatest))
    if question.read == "how-many":
        return int(dict(question.how)["at_least"]) - 1
    if question.read in ("difference", "signed-difference", "total-modulo"):
        return min(die.lowest_label for die in question.dice)
    span = greatest - least
    shared = (
        least // len(question.dice)
        if question.read in ("total", "total-of-highest", "total-of-lowest")
        else least
    )
    return int(min(shared, least) - (span if shared != least else 0))
