"""How a set of dice is read, in three drawn steps: roll, look, tell the result."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from facewright.constraints.contest import BEATS, Contest
from facewright.constraints.grammar import capital, series
from facewright.constraints.layout import Layout
from facewright.constraints.readouts import Readouts
from facewright.search.artwork.badges import badge_of
from facewright.search.words import read_as

if TYPE_CHECKING:
    from collections.abc import Sequence

    from facewright.search.artwork.marks import Artwork
    from facewright.search.make.sizing import Sized

WHERE = {
    "face above": "the number on top",
    "vertex above": "the number at the corner on top",
    "edge above": "the number on the edge on top",
    "face below": "the number on the face below: lift the die to see it",
}
"""Where a solid is read, for a player."""

SIGNS = {"total": " + ", "product": " × ", "signed-difference": " − "}
"""What stands between the labels in the example of a reading."""

MOST_DRAWN = 4
"""So many dice at most are drawn in one step."""


@dataclass(frozen=True, eq=False)
class Shown:
    """A die as a step shows it: lying on a rest, which reads the labels at some sites."""

    artwork: Artwork
    rest: int
    read: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class Step:
    """One step: dice, or a line in large letters, and a sentence. `lit`: the labels that are read are underlaid."""

    words: str
    dice: tuple[Shown, ...] = ()
    line: str = ""
    lit: bool = False


def steps_of(dice: Sequence[Sized], answer: Any, one: Any) -> tuple[Step, ...]:
    """The three steps of a ranked design whose dice have been laid out."""
    question = answer.question
    if isinstance(question, Readouts):
        return _several(one.design, dice[0].die.artwork)
    rolled = [die.die.artwork for die in dice for _ in die.die.positions]
    shown = [_lying(artwork, 3 * place + 1) for place, artwork in enumerate(rolled)]
    labels = [_read(die) for die in shown]
    drawn = tuple(shown[:MOST_DRAWN])
    first = Step(_roll(question, len(rolled)), drawn)
    where = {WHERE[artwork.solid.read] for artwork in rolled}
    each = "" if len(rolled) == 1 else " of each die"
    look = where.pop() if len(where) == 1 else "the label that each die shows; the notes say where"
    second = Step(f"Read {look}{each}." if ":" not in look else f"Read {look}.", drawn, lit=True)
    return first, second, _told(question, labels)


def _roll(question: Any, many: int) -> str:
    if isinstance(question, Contest):
        if question.read == BEATS:
            return "One player picks a die, then the other picks one of the rest; both roll."
        return "Each player takes a die; all roll."
    return "Roll the die." if many == 1 else f"Roll {'both' if many == 2 else f'all {many}'} dice."


def _told(question: Any, labels: list[str]) -> Step:
    """The last step: what becomes of the labels, with an example."""
    single = len(labels) == 1 and not isinstance(question, Contest)
    if isinstance(question, Layout) or (single and not read_as(question.read, question.how)):
        return Step("That is the result.", line=labels[0])
    if isinstance(question, Contest):
        if question.read == BEATS:
            return Step("The higher number wins.", line=" > ".join(sorted(labels[:2], key=int, reverse=True)))
        order = sorted(labels, key=int, reverse=True)
        return Step("The highest number comes first, and so on down.", line=" > ".join(order[:MOST_DRAWN]))
    numbers = [int(label) for label in labels]
    result = question.reading.result(numbers)
    what = read_as(question.read, question.how) or "their total"
    if question.read in SIGNS:
        line = f"{SIGNS[question.read].join(map(_signed, numbers))} = {result}"
    else:
        line = f"{', '.join(labels)}: {' '.join(map(str, result)) if isinstance(result, tuple) else result}"
    return Step(f"{capital(what)} is the result.", line=line)


def _signed(number: int) -> str:
    return str(number) if number >= 0 else f"(−{-number})"


def _lying(artwork: Artwork, rest: int) -> Shown:
    """A die on some rest whose label can be read."""
    from facewright.search.artwork.laid import sites_read
    from facewright.search.artwork.placing import read_at

    solid = artwork.solid
    tops = sites_read(solid)
    standing = read_at(solid)
    marked = {mark.site for mark in artwork.marks}
    many = len(solid.rests)
    for step in range(many):
        at = (rest + step) % many
        below = solid.rests[at].below
        site = tops[at] if solid.read != "face below" else standing[f"f{below + 1}"]
        if site in marked:
            return Shown(artwork, at, (site,))
    return Shown(artwork, rest % many)


def _read(die: Shown) -> str:
    return next((mark.text for mark in die.artwork.marks if mark.site in die.read), "0")


def _several(design: Any, artwork: Artwork) -> tuple[Step, ...]:
    """The steps of a solid that answers several questions at once."""
    rest = artwork.solid.rests[1 % len(artwork.solid.rests)]
    seen = {f"{kind[0]}{number + 1}" for kind, numbers in rest.shows.items() for number in numbers}
    read = [(name, site, label) for name, held in design.sites for site, label in held if site in seen]
    die = Shown(artwork, artwork.solid.rests.index(rest), tuple(site for _, site, _ in read))
    badges = series(f"{name}: {badge_of(place).words}" for place, (name, _) in enumerate(design.sites))
    where = {
        "face below": "Lift it and look at the face below, its corners and its edges",
        "face above": "Look at the face on top, its corners and its edges",
    }.get(artwork.solid.read, "Look at the top and at what meets there")
    told = [f"{name} {label}" for name, _, label in read]
    return (
        Step("Roll the die.", (die,)),
        Step(f"{where}.", (die,), lit=True),
        Step(f"Each answer has its own mark: {badges}.", line=" · ".join(told)),
    )
