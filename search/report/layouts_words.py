"""Layouts in words: the question, and what a layout comes to, goal by goal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from facewright.constraints.grammar import counted, number, series
from facewright.constraints.guards import Shift
from facewright.constraints.layout import Layout
from facewright.constraints.layout_design import ITSELF, LayoutDesign
from facewright.constraints.readouts import Label
from facewright.search.words import read_as

GOAL_WORDS = {
    "opposite-sums": "opposite faces with one sum",
    "even-vertices": "even sums around the corners",
    "apart": "equal labels apart",
    "no-neighbours": "no consecutive numbers side by side",
    "off-centre": "little harm from a centre of mass off its place",
    "out-of-round": "little harm from a body out of round",
    "long-along-draw": "little harm from a batch long along the draw",
}
"""What each goal wants."""

FLAW_WORDS = {
    "off-centre": "off-centre",
    "out-of-round": "out of round",
    "long-along-draw": "long along the draw",
}
BLANK = "blank"
"""How a label without characters is called."""

RANGE = 4
"""So many labels are told one by one; more that follow one another as a range."""


def told(label: Label) -> str:
    """A label for a reader."""
    return str(label) or BLANK


def ask(question: Layout) -> str:
    """The question as a sentence."""
    goals = series(GOAL_WORDS[goal] for goal in question.goals)
    first = ", in this order" if len(question.goals) > 1 else ""
    wanted = f" Wanted{first}: {goals}." if goals else ""
    return f"Which face of the {question.solid} carries which of {labels_words(question.labels)}?{wanted}"


def labels_words(labels: tuple[Label, ...]) -> str:
    """The labels of a die, each once with how often it stands: "1 to 20", "1, 2 and 3, each twice"."""
    often = Counter(labels)
    distinct = list(often)
    times = set(often.values())
    whole = [one for one in distinct if isinstance(one, int)]
    run = len(whole) == len(distinct) > RANGE and sorted(whole) == list(range(min(whole), max(whole) + 1))
    if len(times) == 1:
        [many] = times
        names = f"{min(whole)} to {max(whole)}" if run else series(told(one) for one in distinct)
        return names if many == 1 else f"{names}, each {'twice' if many == 2 else f'{number(many)} times'}"
    return " ".join(told(one) for one in labels)


def roll_words(question: Layout) -> str:
    """The dice rolled together with this one; nothing where it is rolled alone."""
    if not question.roll.others:
        return ""
    dice = series(" ".join(map(str, one)) for one in question.roll.others)
    return f"Rolled together with {dice}, read as {read_as(question.roll.read, question.roll.how) or 'their total'}."


def balance_lines(design: LayoutDesign) -> Iterator[tuple[str, str]]:
    """What a layout comes to: pairs of a short name and words."""
    balance = design.balance
    if balance.opposite:
        yield "opposite faces", opposite_words(balance.opposite)
    if balance.deviation is not None:
        yield "corners", corners_words(design)
    if len(set(design.labels)) < len(design.labels):
        edge, corner = balance.touching
        words = "nowhere side by side, and none meet at a corner"
        if edge or corner:
            meet = number(corner) if corner else "none"
            words = f"{counted(edge, 'pair')} side by side, {meet} that touch at a corner only"
        yield "equal labels", words
    if balance.deviation is not None:
        many = balance.consecutive
        yield "consecutive numbers", counted(many, "pair") + " side by side" if many else "none side by side"
    for goal, shift in balance.shifts:
        yield FLAW_WORDS[goal], shift_words(shift)
    yield "mirror image", mirror_words(design)


def opposite_words(sums: tuple[int, ...]) -> str:
    """The sums of opposite faces in a few words."""
    least, most = min(sums), max(sums)
    return f"all add up to {least}" if least == most else f"add up to {least} at least, {most} at most"


def corners_words(design: LayoutDesign) -> str:
    """The sums around the corners in a few words."""
    balance = design.balance
    numbers = [label for label in design.labels if isinstance(label, int)]
    mean = Fraction(sum(numbers), len(numbers))
    parts = []
    for degree, least, most in balance.by_degree:
        sums = f"all {least}" if least == most else f"{least} to {most}"
        ideal = (
            f"ideal {_plain(degree * mean)}"
            if least != most or least != degree * mean
            else "as even as can be"
        )
        parts.append(f"of {number(degree)} faces {sums} ({ideal})")
    return f"{'; '.join(parts)}; at most {_plain(balance.deviation or Fraction(0))} off"


def shift_words(shift: Shift) -> str:
    """What a flaw of a stated size does to the roll."""
    words = f"{percent(shift.worst)} of rolls move at worst"
    single, twice = shift.parts.get("single"), shift.parts.get("highest_of_two")
    more = []
    if single is not None:
        more.append(f"one result by {percent(single)} at most")
    if twice is not None:
        more.append(f"the higher of two such rolls by {percent(twice)}")
    unit = shift.parts.get("unit")
    return "; ".join([words, *more]) + (f" ({unit})".replace(" %", "\u00a0%") if unit else "")


def percent(share: float) -> str:
    """A small share, as a reader compares it."""
    return f"{100 * share:.3g}\u00a0%"


def mirror_words(design: LayoutDesign) -> str:
    """Whether the mirror image is another layout."""
    if design.mirror is None:
        return "on the other form of the solid, which is left-handed or right-handed itself"
    return "this layout itself, turned" if design.mirror == ITSELF else f"another layout, {design.mirror[:8]}"


def _plain(value: Fraction) -> str:
    """A fraction as a decimal where that is exact and short, else as it is."""
    if value.denominator == 1:
        return str(value.numerator)
    for digits in (1, 2):
        if (value * 10**digits).denominator == 1:
            return f"{float(value):.{digits}f}"
    return f"{value.numerator}/{value.denominator}"
