"""The report page's data, packed: labels as counts along the line, words that repeat written once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Any

SCORE_ORDER = ("legible", "familiar", "readability", "cost", "overall")
"""Scores that every report knows, in the order of its columns; others follow by name."""

SUMMARY_KEYS = (
    "title",
    "run",
    "kind",
    "read",
    "modulo",
    "keep",
    "at_least",
    "reroll",
    "verdict",
    "count",
    "listed",
    "target",
    "contest",
    "weights",
)
DIGITS = "0123456789abcdefghijklmnopqrstuvwxyz"
SPAN_A_FACE = 4
"""Up to so many numbers of the line a face, a die is shorter as one digit a number than as a gap a face."""

Packed = dict[str, Any]


def pack(summary: Packed, designs: Sequence[Packed]) -> Packed:
    """What the page's scripts need of a run, small enough for ten thousand designs.

    Params: the summary and the ranked designs that `page` takes.
    Returns: a value for JSON. `dice` holds each different die once, as its labels and the exponents of its factors
    (None without a split); `words` each different text once; a design is a list in the order of `fields`; `view` what
    the solids need to be drawn (as `numbering_data`), where there is one; `laid` the id of a design → each of
    its dice as it is laid out (as `laid_data`), where it is.
    """
    from facewright.search.report.view_data import numbering_data

    words, dice = Pool(), Pool()
    scores = score_names(designs)
    groups = _group_names(designs)
    rows = [_row(design, scores, groups, words, dice) for design in designs]
    carried = _carried(summary, designs)
    solids = numbering_data((*die, labels) for die, labels in carried.items())
    view = {"view": solids} if any(solids["solids"]) else {}
    laid = {one["id"]: _laid(summary, one) for one in designs if one.get("laid")}
    return {
        "schema": 1,
        **{key: summary[key] for key in SUMMARY_KEYS if key in summary},
        "sets": [
            {"dice": [_drawn(die, carried) for die in one["dice"]], "factors": one.get("factors") or []}
            for one in summary["sets"]
        ],
        "scores": scores,
        "groups": groups,
        "words": words.values,
        "dice": [[labels, None if split is None else list(split)] for labels, split in dice.values],
        "fields": ["id", "set", "rank", "tied", "ordinary", "distance", "chance", "dice", "scores", "parts"],
        "designs": rows,
        **view,
        **({"laid": laid} if laid else {}),
    }


def score_names(designs: Iterable[Packed]) -> list[str]:
    """The scores that at least one design has, the known ones first."""
    found = {
        name for design in designs for name, value in design.get("scores", {}).items() if value is not None
    }
    return [name for name in SCORE_ORDER if name in found] + sorted(found - set(SCORE_ORDER))


def pack_labels(labels: Sequence[int]) -> str:
    """One die as text: `least:digits`, a digit of base 36 a number on the line, or `least,gap,gap,…` a face.

    Example:
        >>> pack_labels([1, 2, 2, 5]), pack_labels([1, 900])
        ('1:12001', '1,899')
    """
    standing = sorted(labels)
    counts = Counter(standing)
    span = standing[-1] - standing[0] + 1
    if span <= SPAN_A_FACE * len(standing) and max(counts.values()) < len(DIGITS):
        return f"{standing[0]}:" + "".join(DIGITS[counts[standing[0] + step]] for step in range(span))
    gaps = (after - before for before, after in pairwise(standing))
    return ",".join(map(str, (standing[0], *gaps)))


class Pool:
    """Values that are written once and named by their position."""

    def __init__(self) -> None:
        self.values: list[Any] = []
        self._places: dict[Any, int] = {}

    def place(self, value: Any) -> int:
        """The position of a value, which joins the pool if it is new."""
        place = self._places.setdefault(value, len(self.values))
        if place == len(self.values):
            self.values.append(value)
        return place


def _group_names(designs: Iterable[Packed]) -> list[str]:
    names = {name for design in designs for name in design.get("parts", {})}
    return [name for name in SCORE_ORDER if name in names] + sorted(names - set(SCORE_ORDER))


def _carried(summary: Packed, designs: Iterable[Packed]) -> dict[tuple[str, Any], set[int]]:
    """Each solid of the designs, by name and shape, with all labels that stand on it."""
    carried: dict[tuple[str, Any], set[int]] = {}
    for design in designs:
        for die, labels in zip(summary["sets"][design.get("set", 0)]["dice"], design["dice"], strict=True):
            carried.setdefault(_solid(die), set()).update(labels)
    return carried


def _laid(summary: Packed, design: Packed) -> list[Packed | None]:
    """The dice of a design that is laid out, each with its marks in place; None for one that is not."""
    from facewright.search.report.view_data import laid_data

    dice = summary["sets"][design.get("set", 0)]["dice"]
    return [
        None if labels is None else laid_data(*_solid(die), labels)
        for die, labels in zip(dice, design["laid"], strict=False)
    ]


def _solid(die: Packed) -> tuple[str, Any]:
    shape = die.get("shape", "largest-numeral")
    return die["solid"], tuple(shape) if isinstance(shape, list) else shape


def _drawn(die: Packed, carried: Iterable[tuple[str, Any]]) -> Packed:
    """A die with the position of its solid among those that are drawn, where it is one of them."""
    places = list(carried)
    return {**die, "drawn": places.index(_solid(die))} if _solid(die) in places else die


def _row(design: Packed, scores: list[str], groups: list[str], words: Pool, dice: Pool) -> list[Any]:
    splits = design.get("split") or [None] * len(design["dice"])
    parts = design.get("parts", {})
    return [
        design["id"],
        design.get("set", 0),
        design["rank"],
        int(design.get("tied", False)),
        int(design.get("ordinary", False)),
        design.get("distance"),
        design.get("chance"),
        [
            dice.place((pack_labels(labels), None if split is None else tuple(split)))
            for labels, split in zip(design["dice"], splits, strict=True)
        ],
        [design.get("scores", {}).get(name) for name in scores],
        [
            [
                value
                for part in parts.get(group, ())
                for value in (
                    words.place(part["name"]),
                    part.get("share"),
                    words.place(part.get("words", "")),
                )
            ]
            for group in groups
        ],
    ]
