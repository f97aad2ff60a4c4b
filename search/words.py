"""Sentences that a designer would say aloud: the question, its conditions, the verdict."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from facewright.constraints.contest import BEATS, ORDERS, Contest, DiceQuestion
from facewright.constraints.further import AlsoRead, Distinct, EqualLabels, Further, SameMean, Symmetric
from facewright.constraints.grammar import article, capital, counted, number, plural, series
from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.orders import EVERY, FIRST, PLACES
from facewright.constraints.question import Numbering
from facewright.constraints.readings import REROLL, How

SUPERSCRIPTS = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
TIMES = {1: "once", 2: "twice"}
READ_AS = {
    "highest": "the highest of them",
    "lowest": "the lowest of them",
    "difference": "their difference",
    "signed-difference": "the first less the second",
    "product": "their product",
    "side-by-side": "the labels side by side",
    "total-modulo": "their total modulo {modulo}",
    "middle": "the middle one of them",
    "total-of-highest": "the total of the {keep} highest",
    "total-of-lowest": "the total of the {keep} lowest",
    "how-many": "how many show {at_least} or more",
}
"""What becomes of the labels that come up, for every reading but the total."""
CAPPED = ("lowest", "middle", "total-of-lowest", "total-modulo", "how-many", BEATS)
"""Readings under which labels above the usual highest are never read, or stand for others: they would make further
designs, so that a verdict names the highest."""
RULES_TOLD = 3
"""So many different label rules are told die by die."""


def die_words(die: Die, times: int = 1) -> str:
    """Equal dice in words: their name if they have one, the solid, the face count where the solid does not say it."""
    solid = die.solid if times == 1 else plural(die.solid)
    faces = "" if die.solid in ("coin", "cube") or die.solid[0].isdigit() else f"{die.faces} faces"
    if die.copies > 1:
        dice = "die" if times == 1 else "dice"
        words, faces = f"{number(die.faces)}-label {dice} on {article(solid) if times == 1 else solid}", ""
    else:
        words = solid
    if die.name:
        words = f"{die.name} ({', '.join(filter(None, (words, faces)))})"
        words = words if times == 1 else f"{number(times)} times {words}"
    else:
        words = article(words) if times == 1 else f"{number(times)} {words}"
        words += f" ({faces})" if faces else ""
    if die.exactly is not None:
        words += f" with {' '.join(map(str, die.exactly))}"
    return words


def dice_words(dice: Sequence[Die]) -> str:
    """A set of dice in words, like bodies counted together whatever their label rules.

    Example:
        >>> low, high = Die(6, "cube", 1, LabelRules(1, 6)), Die(6, "cube", 1, LabelRules(3, 9))
        >>> dice_words([low, high])
        'two cubes'
    """
    bodies = Counter(replace(die, rules=LabelRules(0, 0), place=None) for die in dice)
    return series(die_words(die, times) for die, times in bodies.items())


def target_words(question: Numbering) -> str:
    """What is wanted, in words."""
    if not question.like:
        return f"the chances of the {question.target.outcomes:,} ways in the brief"
    if question.read != "total":
        return f"the chances of {_with_article(question.like)}"
    terms = [re.fullmatch(r"\s*(\d*)\s*d\s*(\d+)\s*", term) for term in question.like.split("+")]
    sizes: Counter[int] = Counter()
    for term in terms:
        if term is None:
            return f"the chances of {_with_article(question.like)}"
        sizes[int(term[2])] += int(term[1] or 1)
    if all(times == 1 for times in sizes.values()):
        return f"the totals of an ordinary {series(f'{size}-face' for size in sizes)} die"
    if len(sizes) == 1:
        [(size, times)] = sizes.items()
        return f"the totals of {number(times)} ordinary {size}-face dice"
    parts = (f"{number(times)} {size}-face" for size, times in sizes.items())
    return f"the totals of {series(parts)} ordinary dice"


def _with_article(like: str) -> str:
    return f"the {like}" if like.lstrip().startswith(("highest", "lowest", "difference")) else like


def read_as(read: str, how: How) -> str:
    """What becomes of the labels that come up; nothing for a plain total.

    Example:
        >>> read_as("highest", (("reroll", (1, 2)),))
        'the highest of them, 1 and 2 rolled again once'
    """
    told = dict(how)
    again = told.pop(REROLL, ())
    words = READ_AS[read].format(**told) if read in READ_AS else "their total" if again else ""
    return words + (f", {series(map(str, again))} rolled again once" if again else "")


def reading_words(question: Numbering, before: str = "") -> str:
    """How the dice are read, unless that is their total: ", read as the highest of them"."""
    told = read_as(question.read, question.how)
    return f"{before} read as {told}" if told else ""


def ask(question: DiceQuestion) -> str:
    """The question as a sentence."""
    if isinstance(question, Contest):
        return _ask_contest(question)
    wanted = target_words(question)
    also = further_words(question).rstrip(",")
    if question.choice or len(question.sets) != 1:
        read = reading_words(question, ",")
        return f"Which sets of dice ({question.choice}), and which labels on them{read}, give {wanted}{also}?"
    together = reading_words(question, ",") or (", rolled together" if len(question.dice) > 1 else "")
    together = f"{together}," if together else ""
    if all(die.exactly is not None for die in question.dice):
        return f"Do {dice_words(question.dice)}{together} give {wanted}{also}?"
    return f"Which labels on {dice_words(question.dice)}{together} give {wanted}{also}?"


def _ask_contest(question: Contest) -> str:
    """The question of a contest as a sentence."""
    on = (
        f"labels on {dice_words(question.sets[0])}" if len(question.sets) == 1 and not question.choice else ""
    )
    on = on or f"sets of dice ({question.choice}), and which labels on them,"
    if question.read == ORDERS:
        ends = {
            EVERY: "let them come in in every order equally often",
            PLACES: "give each die each place equally often",
            FIRST: "let each die come in first equally often",
        }
        return f"Which {on} {ends[question.fair]}?"
    does = "beat those that it is to beat" if question.beats else "beat the next, and the last the first"
    return f"Which {on} make each die {does}, {contest_chance(question)}?"


def contest_chance(question: Contest) -> str:
    """The chance that duels are to be won with, in words."""
    if question.chance_at_least is None:
        return "as often as can be"
    return f"with a chance of {'more than' if question.strictly else 'at least'} {question.chance_at_least}"


def rules_words(rules: LabelRules, capped: bool = False) -> str:
    """Label rules in words: "whole numbers from 1 up", "no label more than twice on a die", ….

    `capped` says that labels above the highest would make further designs although nobody stated it.
    """
    if rules.only is not None:
        words = "only the labels " + series((str(x) for x in rules.allowed()), "or")
    elif "highest" in rules.given or capped:
        words = f"whole numbers from {rules.lowest} to {rules.highest}"
    else:
        words = f"whole numbers from {rules.lowest} up"
    parts = [words]
    if rules.avoid and rules.only is None:
        parts.append("without " + series((str(x) for x in rules.avoid), "or"))
    if rules.repeats is not None:
        times = TIMES.get(rules.repeats, f"{number(rules.repeats)} times")
        parts.append(f"no label more than {times} on a die")
    return series(parts, "and")


def conditions(question: DiceQuestion) -> str:
    """The conditions of a verdict, to stand before it: "With whole numbers from 1 up on a cube"."""
    groups: dict[str, list[Die]] = {}
    low = any(die.lowest_label < 1 for dice in question.sets for die in dice)
    capped = question.read in CAPPED or (question.read == "product" and low)
    for dice in question.sets:
        for die in dice:
            if die.exactly is None:
                groups.setdefault(rules_words(die.rules, capped), []).append(die)
    one_set = len(question.sets) == 1 and not question.choice
    if one_set and 1 < len(groups) <= RULES_TOLD:
        fixed = [die for die in question.dice if die.exactly is not None]
        told = [f"{words} on {dice_words(dice)}" for words, dice in groups.items()]
        return (
            f"With {', and '.join([*told, *([dice_words(fixed)] if fixed else [])])}{further_words(question)}"
        )
    words = (
        next(iter(groups))
        if len(groups) == 1
        else "labels within the rules of each die"
        if groups
        else "the labels"
    )
    where = dice_words(question.dice) if one_set else "fair solids with so many faces"
    return f"With {words} on {where}{further_words(question)}"


def further_words(question: DiceQuestion) -> str:
    """The further rules, to follow the labels and the dice: ", and with symmetric labels on each die,"."""
    if isinstance(question, Contest) or not question.also:
        return ""
    return f", and with {series(further_rule_words(rule) for rule in question.also)},"


def further_rule_words(rule: Further) -> str:
    """A further rule in words that follow "with".

    Example:
        >>> further_rule_words(Distinct(3))
        'at most three different labels on a die'
    """
    match rule:
        case EqualLabels():
            return f"a chance of {rule.chance} of equal labels"
        case SameMean():
            return "the same mean on every die"
        case Symmetric():
            return "symmetric labels on each die"
        case Distinct():
            return f"at most {number(rule.at_most)} different labels on a die"
        case AlsoRead():
            wanted = (
                _with_article(rule.like) if rule.like else f"the {rule.target.outcomes:,} ways in the brief"
            )
            return f"the chances of {wanted} for {read_as(rule.read, rule.how) or 'their total'}"


def completed(question: DiceQuestion, count: int, listed: int, selected: str = "") -> str:
    """The verdict where every design is known: how many, under which conditions there are no others.

    `selected` says which are listed, where they are not the first found.
    """
    some = capital(counted(count, "numbering"))
    does = "does" if count == 1 else "do"
    shown = (
        ""
        if listed == count
        else f"; {selected or first_found(listed)}"
        if listed
        else ", counted but not listed"
    )
    others = "is no other" if count == 1 else "are no others"
    advice = "" if selected else best_wanted(question, count, listed)
    return f"{some} {does} it{shown}. {conditions(question)} there {others}.{advice}"


MOST_SCORED = 2_000_000
"""Up to so many designs of any question are scored one by one, some 40 microseconds each, to find the best of them."""


def best_wanted(question: DiceQuestion, count: int, listed: int) -> str:
    """How to get the best, where more designs exist than are listed and the brief says nothing of how many."""
    told = 0 < listed < count <= MOST_SCORED and not question.stop.designs
    return " With `stop.designs` in the brief the best are listed." if told else ""


def first_found(listed: int) -> str:
    """What is said where more designs exist than are listed: those listed are no selection."""
    return "the first one found is listed" if listed == 1 else f"the first {listed:,} found are listed"


def among_best(here: int, listed: int) -> str:
    """What is said of a set of dice so many of whose designs are among the best of several sets."""
    are = "is" if here == 1 else "are"
    return f"{here:,} of them {are} among the {listed:,} listed, the best of all sets of dice"


def best_listed(question: DiceQuestion, listed: int, overall: int, cut: str | None = None) -> str:
    """What is said where the best of more designs are listed, and what is proved of the others.

    None of the others scores more than `overall`. Where the search was `cut` short, they are the best that it found.
    """
    found = "" if cut is None else " found"
    best = f"the best one{found} is listed" if listed == 1 else f"the best {listed:,}{found} are listed"
    ended = ", and" if cut is None else f"; the search for better ones ended early ({cut}), and"
    return (
        f"{best} (weights: {_weights(question)}){ended} none of the others scores more than {overall} overall"
    )


def _weights(question: DiceQuestion) -> str:
    return series(f"{name} {weight}" for name, weight in question.rank if weight)


def stopped(count: int, reason: str) -> str:
    """The verdict where a limit came first."""
    if not count:
        return f"No numbering was found before the search ended early ({reason}); there may be some."
    some = capital(counted(count, "numbering"))
    return f"{some} found before the search ended early ({reason}); there may be more."
