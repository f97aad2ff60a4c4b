"""All that a product sheet and a player's card say of a design."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from facewright.constraints.contest import BEATS, Contest
from facewright.constraints.grammar import article, capital, counted, number, plural, series
from facewright.constraints.layout import Layout
from facewright.constraints.readouts import Readouts
from facewright.search.make.dice import dice_of
from facewright.search.make.sizing import Wishes, sized
from facewright.search.progress import Progress, silent
from facewright.search.sheets.chances import Chances, chances_of, percent, the
from facewright.search.sheets.steps import Step, steps_of
from facewright.search.stop import Stop, never

if TYPE_CHECKING:
    from collections.abc import Sequence

    from facewright.search.make.sizing import Sized

SMALL_PART = "Not for children under three: small parts."
LARGE = "Too large for the cylinder for small parts; a test house decides on ages."
GRADED = "An age beyond that is for a test house to name."
CAUTIONS = (
    "Small dice can be swallowed: keep them from small children. Local rules on toys and small parts come first.",
    "The chances are those of ideal bodies. Real dice are as good as they are made, and nothing is promised of them.",
    "Not for licensed gaming. Where dice decide over money, local rules on gambling apply.",
)


@dataclass(frozen=True, eq=False)
class Sheet:
    """What a sheet says.

    `title` names the product, `why` says in one sentence why one would want it, `steps` how it is read, `chances` what
    to expect. `dice` are the dice in their sizes, `contents` and `sizes` what is in the box, `age` what is said of
    ages, `proof` what backs the chances.
    """

    title: str
    design: str
    why: str
    note: str
    steps: tuple[Step, ...]
    chances: tuple[Chances, ...]
    dice: tuple[Sized, ...]
    contents: str
    sizes: tuple[str, ...]
    age: str
    proof: str
    cautions: tuple[str, ...] = CAUTIONS


def sheet_of(
    answer: Any,
    one: Any,
    wishes: Wishes,
    *,
    title: str = "",
    seed: int = 0,
    stop: Stop = never,
    report: Progress = silent,
) -> Sheet:
    """The sheet of a ranked design.

    Params:
        answer: an answer of any kind that has dice.
        one: a ranked design of it.
        wishes: the size and the route.
        title: what the product is called; without it as its brief.
    Raises: UsageError where a die cannot be laid out, or not in that size.
    """
    dice = tuple(sized(die, wishes) for die in dice_of(answer, one, seed=seed, stop=stop, report=report))
    return Sheet(
        title or answer.question.title,
        one.id,
        why(answer, one),
        answer.question.note,
        steps_of(dice, answer, one),
        chances_of(answer, one),
        dice,
        contents(dice),
        tuple(dict.fromkeys(f"{capital(die.die.artwork.solid.name)}: {die.across}" for die in dice)),
        age(dice),
        proof(answer),
    )


def why(answer: Any, one: Any) -> str:
    """One sentence for a buyer."""
    question = answer.question
    if isinstance(question, Readouts):
        names = series(readout.name for readout in question.readouts)
        gap = one.design.dependence
        apart = (
            "and none of the answers tells anything of the others"
            if not gap
            else f"nearly independent of one another: {percent(gap)} of rolls fall otherwise than separate dice would"
        )
        return f"One roll answers {names} at once, {apart}."
    if isinstance(question, Layout):
        faces = capital(counted(len(question.labels), "face"))
        return f"{faces}, numbered so that small flaws of a real die favour no result."
    dice = one.scores.design.dice
    if isinstance(question, Contest):
        return _contest(question, one, len(dice))
    kinds = [article(die.solid) for die in dice]
    together = kinds[0] if len(kinds) == 1 else _counted([die.solid for die in dice])
    wanted = the(question.like) if question.like else "what was wished for"
    [found] = chances_of(answer, one) or [None]
    if found is None or not found.gap:
        unusual = "" if one.scores.design.ordinary else ", with unusual numbers"
        return f"{capital(together)} with exactly the chances of {wanted}{unusual}."
    near = "comes" if len(dice) == 1 else "come"
    return f"{capital(together)} that {near} so close to {wanted} that {percent(found.gap)} of rolls fall otherwise."


def _contest(question: Contest, one: Any, many: int) -> str:
    if question.read == BEATS:
        from facewright.constraints.duels import least_chance

        dice = [die.labels for die in one.scores.design.dice]
        least = least_chance(dice, question.arcs(many))
        round_about = (
            "each beats the next, round and round" if not question.beats else "each is beaten by another"
        )
        return f"{capital(number(many))} dice of which {round_about}, in at least {percent(least)} of rolls."
    senses = {"every-order": "in every order", "places": "at every place", "first": "first"}
    return f"{capital(number(many))} dice that come in {senses[question.fair]} equally often."


def contents(dice: Sequence[Sized]) -> str:
    """What is in the box."""
    names = [die.die.artwork.solid.name for die in dice for _ in die.die.positions]
    return (
        f"{capital(_counted(names))}, and a card that says how to read {'it' if len(names) == 1 else 'them'}."
    )


def _counted(names: Sequence[str]) -> str:
    often = {name: list(names).count(name) for name in dict.fromkeys(names)}
    return series(
        article(name) if many == 1 else f"{number(many)} {plural(name)}" for name, many in often.items()
    )


def age(dice: Sequence[Sized]) -> str:
    """What is said of ages: by the cylinder for small parts, the smallest of all dice counting."""
    return f"{SMALL_PART} {GRADED}" if any(_small(die) for die in dice) else LARGE


def _small(one: Sized) -> bool:
    from facewright.search.make.body import most_radius, rounded, usual_radius_mm
    from facewright.search.make.notes import fits_cylinder

    solid = one.die.artwork.solid
    radius = min(usual_radius_mm(solid, one.inradius_mm), most_radius(solid) * one.inradius_mm)
    return fits_cylinder(rounded(solid, one.inradius_mm, radius), one.size_mm("tip-to-tip")) != "does not fit"


def proof(answer: Any) -> str:
    """What backs the chances, in a sentence."""
    proved = {
        "complete": "All ways of numbering these dice were found, and proved to be all.",
        "best": "It was proved that nothing better exists.",
        "none": "",
        "partial": "The search was cut short; each design found was recounted.",
    }[answer.verdict]
    return f"{proved} Every outcome was recounted by a program of its own."
