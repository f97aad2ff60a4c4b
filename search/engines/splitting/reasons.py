"""Why there is no design, in a designer's words, and how an answer was proved, in a mathematician's."""

from __future__ import annotations

from facewright.constraints.grammar import capital, counted, number, series
from facewright.constraints.question import Numbering
from facewright.search.answer import Cause
from facewright.search.engines.splitting.divisors import fitting
from facewright.search.engines.splitting.loosen import (
    RULES,
    can_be_lowered,
    fair_lowest,
    loosened,
    lowered,
    lowest_worth_trying,
)
from facewright.search.engines.splitting.polynomials import Factor, Factored, polynomial_text
from facewright.search.engines.splitting.problem import Obstacle, Problem, problem_of
from facewright.search.engines.splitting.split import Split
from facewright.search.progress import Progress, silent
from facewright.search.stop import Stop
from facewright.search.words import SUPERSCRIPTS, dice_words, rules_words

CAUSES: dict[str, Cause] = {"division": "division", "fixed": "factor", "lowest": "clash"}
"""What each kind of obstacle is."""


def why_none(
    question: Numbering, found: Obstacle | Split, stop: Stop, report: Progress = silent
) -> tuple[str, Cause]:
    """One or two sentences, and what rules every design out: the obstacle, a factor that fits nowhere, rules that bite.

    Raises:
        Stopped: `stop` asked for it.
    """
    if isinstance(found, Obstacle) and found.kind != "lowest":
        return found.words, CAUSES[found.kind]
    free = loosened(question, (), fair_lowest(question))
    problem = problem_of(free, stop)
    if isinstance(problem, Obstacle):
        return problem.words, CAUSES[problem.kind]
    report("looking for the reason", 0, None)
    split = Split.of(free, problem, stop, report)
    some = split.count_up_to_shift(stop)
    if not some:
        return _nothing_fits(question, problem), "factor"
    return _rules_bite(question, some, stop, report), "clash"


def _nothing_fits(question: Numbering, problem: Problem) -> str:
    whole, faces = problem.whole, [die.faces for die in question.dice if die.exactly is None]
    start = f"No labels on {dice_words(question.dice)} can do it, whatever they are."
    stuck = _stuck_factor(whole, faces)
    if stuck is not None:
        return (
            f"{start} The target's pattern has a part that cannot be split any further and that only a die with "
            f"{stuck.at_one:,} faces, or a multiple of it, could carry."
        )
    if not can_deal(whole, question):
        return (
            f"{start} The target's pattern falls into parts that each take up a fixed share of a face count, and these "
            "shares cannot be dealt out so that every die comes out with its own number of faces."
        )
    return (
        f"{start} The target's pattern falls into {counted(sum(whole.powers), 'part')}; every way to deal them out was "
        f"tried ({whole.deals():,} for one die), and each would put some label on fewer than no faces."
    )


def _stuck_factor(whole: Factored, faces: list[int]) -> Factor | None:
    return next((f for f in whole.factors if all(n % f.at_one for n in faces)), None)


def can_deal(whole: Factored, question: Numbering) -> bool:
    """Whether the constrained factors and the content can be dealt so that every die has its face count."""
    top = whole.powers[: whole.constrained]
    reached = {(0,) * whole.constrained}
    for die in question.dice:
        if die.exactly is None:
            steps = list(fitting(whole, [die.faces]))
            sums = {tuple(map(sum, zip(before, step, strict=True))) for before in reached for step in steps}
            reached = {total for total in sums if all(t <= most for t, most in zip(total, top, strict=True))}
    return top in reached


def _rules_bite(question: Numbering, some: int, stop: Stop, report: Progress) -> str:
    lowest = fair_lowest(question)
    given = {part for die in question.dice for part in die.rules.given}
    stages = [part for part in RULES if part == "lowest" or part in given]
    kept: list[str] = []
    left, steps = some, []
    for part in stages:
        kept.append(part)
        now = _count(loosened(question, kept, lowest), stop, report)
        if now < left or not now:
            steps.append((part, left, now))
        left = now
        if not now:
            break
    if left:
        # rules that nobody stated, the defaults, rule the last one out
        return "No numbering keeps all label rules at once."
    exist = "numbering exists" if some == 1 else "numberings exist"
    start = (
        f"No numbering keeps the label rules. {capital(number(some))} {exist} for {dice_words(question.dice)} when "
        "labels may be any whole numbers"
    )
    bites = [_bite(question, part, before, now, before == some) for part, before, now in steps]
    text = f"{start}, but {series(bites)}."
    if steps[-1][0] == "lowest":
        text += _lower(question, stop, report)
    return text


def _bite(question: Numbering, part: str, before: int, now: int, first: bool) -> str:
    rules = {die.rules for die in question.dice if die.exactly is None}
    one = next(iter(rules)) if len(rules) == 1 else None
    names = {
        "lowest": f"labels of at least {one.lowest} rule" if one else "the lowest labels allowed rule",
        "highest": f"your highest label of {one.highest} rules" if one else "your highest labels rule",
        "only": f"your rule of {rules_words(one)} rules" if one else "your lists of labels allowed rule",
        "avoid": f"your bar on {series((str(x) for x in one.avoid), 'or')} rules"
        if one
        else "your barred labels rule",
        "repeats": f"{_repeats(one.repeats)} rules" if one else "your limits on equal labels rule",
    }
    if now:
        return f"{names[part]} out {number(before - now)} of them"
    if before == 1:
        return f"{names[part]} it out" if first else f"{names[part]} out the last"
    every = "both" if before == 2 else f"all {number(before)}"
    return f"{names[part]} out {every if first else f'the last {number(before)}'}"


def _repeats(limit: int | None) -> str:
    if limit == 1:
        return "your rule that no label stands twice on a die"
    return f"your limit of {number(limit or 0)} equal labels"


def _lower(question: Numbering, stop: Stop, report: Progress) -> str:
    """The highest lowest label that admits designs; the lower it is the more it admits, so it is found by halving."""
    free = [die for die in question.dice if can_be_lowered(die)]
    if not free or not _can_reach(question):
        return ""
    works, fails = lowest_worth_trying(question), max(die.rules.lowest for die in free)
    count = _count(lowered(question, works), stop, report) if works < fails else 0
    if not count:
        return ""
    while fails - works > 1:
        middle = (works + fails) // 2
        some = _count(lowered(question, middle), stop, report)
        if some:
            works, count = middle, some
        else:
            fails = middle
    exist = "one exists" if count == 1 else f"{number(count)} exist"
    return f" With lowest = {works}, {exist}, shifts between the dice not counted apart."


def _can_reach(question: Numbering) -> bool:
    """Whether the highest labels stated, if all dice have one, add up to the greatest total."""
    tops = [die.exactly[-1] if die.exactly else die.rules.highest for die in question.dice]
    bounded = all(
        die.exactly or "highest" in die.rules.given or die.rules.only is not None for die in question.dice
    )
    return not bounded or sum(tops) >= question.target.greatest


def _count(question: Numbering, stop: Stop, report: Progress) -> int:
    problem = problem_of(question, stop)
    if isinstance(problem, Obstacle):
        return 0
    return Split.of(question, problem, stop, report).count_up_to_shift(stop)


def how_proved(problem: Problem, split: Split) -> tuple[str, ...]:
    """The steps of the proof, a sentence or a formula a line."""
    steps = _steps(problem, split)
    stuck = _stuck_factor(problem.whole, [die.faces for die in split.question.dice if die.exactly is None])
    if stuck is not None:
        return (
            *steps[:2],
            f"The factor {polynomial_text(stuck.poly)} has the value {stuck.at_one} at 1, which divides no face count.",
        )
    return steps


def _steps(problem: Problem, split: Split) -> tuple[str, ...]:
    whole = problem.whole
    parts = [
        f"({polynomial_text(f.poly)}){str(f.power).translate(SUPERSCRIPTS) if f.power > 1 else ''}"
        for f in whole.factors
    ]
    content = f"{whole.content} · " if whole.content > 1 else ""
    dice = split.question.dice
    free = [die.faces for die in dice if die.exactly is None]
    sizes = series((str(n) for n in sorted(set(free))), "or")
    aside = ", and the dice that are fixed" if len(free) < len(dice) else ""
    lines = [
        "A die is the polynomial of its labels, the sum of x^label. The product over the dice must be "
        f"(n₁…nₖ / M) · T, where T is the target's polynomial with M outcomes; leave a power of x{aside} aside.",
        f"It factors over the integers, in one way only, as {content}{' · '.join(parts) or '1'}.",
        f"So each die is a part of the content times some of these factors: {whole.deals():,} choices, of which "
        f"{len(split.divisors):,} have no negative coefficient and a value at 1 that fits {sizes} faces.",
    ]
    if len(free) > 1:
        lines.append(
            "All ways to combine these choices to the whole product were gone through or counted exactly."
        )
    return tuple(lines)
