"""Sentences that a designer would say aloud: the question, its conditions, the verdict."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence

from facewright.constraints.labels import Die, LabelRules
from facewright.constraints.question import Numbering

NUMBERS = [
    "no",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
]
SUPERSCRIPTS = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
TIMES = {1: "once", 2: "twice"}


def number(count: int) -> str:
    """A count in words up to twelve, in figures above.

    Example:
        >>> number(3), number(1538093)
        ('three', '1,538,093')
    """
    return NUMBERS[count] if 0 <= count < len(NUMBERS) else f"{count:,}"


def counted(count: int, noun: str) -> str:
    """A count with its noun: "one numbering", "ten numberings"."""
    return f"{number(count)} {noun}" + ("" if count == 1 else "s")


def capital(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]


def series(parts: Iterable[str], last: str = "and") -> str:
    """Parts joined as in a sentence: "a, b and c"."""
    words = list(parts)
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def article(noun: str) -> str:
    """The noun with "a" or "an"."""
    vowel = noun[:1].lower() in "aeiou" or re.match(r"(8|11|18|80)\D", noun) is not None
    return f"{'an' if vowel else 'a'} {noun}"


def plural(noun: str) -> str:
    """The plural of a solid's name: cubes, octahedra.

    Example:
        >>> plural("rhombic dodecahedron"), plural("coin")
        ('rhombic dodecahedra', 'coins')
    """
    return noun[:-2] + "a" if noun.endswith("hedron") else noun + "s"


def die_words(die: Die, times: int = 1) -> str:
    """Equal dice in words: their name if they have one, the solid, the face count where the solid does not say it."""
    solid = die.solid if times == 1 else plural(die.solid)
    if die.copies > 1:
        dice = "die" if times == 1 else "dice"
        words = f"{number(die.faces)}-label {dice} on {article(solid) if times == 1 else solid}"
    elif die.solid in ("coin", "cube"):
        words = solid
    else:
        words = f"{solid} ({die.faces} faces)"
    if die.name:
        words = f"{die.name} ({words})" if times == 1 else f"{number(times)} times {die.name} ({words})"
    else:
        words = article(words) if times == 1 else f"{number(times)} {words}"
    if die.exactly is not None:
        words += f" with {' '.join(map(str, die.exactly))}"
    return words


def dice_words(dice: Sequence[Die]) -> str:
    """A set of dice in words, equal ones counted together.

    Example:
        >>> cube = Die(6, "cube", 1, LabelRules(1, 11))
        >>> dice_words([cube, cube])
        'two cubes'
    """
    return series(die_words(die, times) for die, times in Counter(dice).items())


def target_words(question: Numbering) -> str:
    """What is wanted, in words."""
    if not question.like:
        return f"the chances of the {question.target.outcomes:,} ways in the brief"
    terms = [re.fullmatch(r"\s*(\d*)\s*d\s*(\d+)\s*", term) for term in question.like.split("+")]
    sizes: Counter[int] = Counter()
    for term in terms:
        if term is None:
            return f"the chances of {question.like}"
        sizes[int(term[2])] += int(term[1] or 1)
    if all(times == 1 for times in sizes.values()):
        return f"the totals of an ordinary {series(f'{size}-face' for size in sizes)} die"
    if len(sizes) == 1:
        [(size, times)] = sizes.items()
        return f"the totals of {number(times)} ordinary {size}-face dice"
    parts = (f"{number(times)} {size}-face" for size, times in sizes.items())
    return f"the totals of {series(parts)} ordinary dice"


def ask(question: Numbering) -> str:
    """The question as a sentence."""
    wanted = target_words(question)
    if question.choice or len(question.sets) != 1:
        return f"Which sets of dice ({question.choice}), and which labels on them, give {wanted}?"
    together = ", rolled together," if len(question.dice) > 1 else ""
    return f"Which labels on {dice_words(question.dice)}{together} give {wanted}?"


def rules_words(rules: LabelRules) -> str:
    """Label rules in words: "whole numbers from 1 up", "no label more than twice on a die", …."""
    if rules.only is not None:
        words = "only the labels " + series((str(x) for x in rules.allowed()), "or")
    elif "highest" in rules.given:
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


def conditions(question: Numbering) -> str:
    """The conditions of a verdict, to stand before it: "With whole numbers from 1 up on a cube"."""
    free = {die.rules: None for dice in question.sets for die in dice if die.exactly is None}
    kinds = {rules_words(rules) for rules in free}
    words = (
        kinds.pop() if len(kinds) == 1 else "labels within the rules of each die" if kinds else "these labels"
    )
    if len(question.sets) == 1 and not question.choice:
        return f"With {words} on {dice_words(question.dice)}"
    return f"With {words} on fair solids with so many faces"


def completed(question: Numbering, count: int, listed: int) -> str:
    """The verdict where every design is known: how many, under which conditions there are no others."""
    some = capital(counted(count, "numbering"))
    does = "does" if count == 1 else "do"
    shown = (
        ""
        if listed == count
        else f"; {listed:,} of them are listed"
        if listed
        else ", counted but not listed"
    )
    others = "is no other" if count == 1 else "are no others"
    return f"{some} {does} it{shown}. {conditions(question)} there {others}."


def stopped(count: int, reason: str) -> str:
    """The verdict where a limit came first."""
    if not count:
        return f"No numbering was found before the search ended early ({reason}); there may be some."
    some = capital(counted(count, "numbering"))
    return f"{some} found before the search ended early ({reason}); there may be more."
