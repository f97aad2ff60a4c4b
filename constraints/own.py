"""Labels typed on a command line, for dice that a person already has."""

from __future__ import annotations

import re

from facewright.constraints.texts import TextError, quoted

MOST_LABELS = 1000
"""How many labels one die may have."""
LABEL_BOUND = 1_000_000
"""How large, apart from its sign, a label may be."""

FORM = 'whole numbers with spaces or commas between, such as "1 2 2 3 3 4", or a range such as "1..6"'

_LABEL = re.compile(r"[+-]?[0-9]+")
_RANGE = re.compile(r"([+-]?[0-9]+)\.\.([+-]?[0-9]+)")
_DASHED = re.compile(r"([+-]?[0-9]+)[-–—]([+-]?[0-9]+)")


def parse_labels(text: str) -> tuple[int, ...]:
    """The labels of one die, sorted, from a text such as "1 2 2 3 3 4", "-1, 0, 1" or "1..6".

    Raises TextError (a ValueError), which says what was found and what would be accepted.

    Example:
        >>> parse_labels("1..3, 3, -1")
        (-1, 1, 2, 3, 3)
    """
    labels: list[int] = []
    for word in re.sub(r"\s*\.\.\s*", "..", text.replace("−", "-")).replace(",", " ").split():
        labels.extend(_labels(word))
        if len(labels) > MOST_LABELS:
            raise TextError(f"more than {MOST_LABELS:,} labels", f"up to {MOST_LABELS:,} labels a die")
    if not labels:
        raise TextError("no label", FORM)
    if len(labels) == 1:
        raise TextError(
            f"one label, {labels[0]}", "at least two labels a die, all in one pair of quotation marks"
        )
    return tuple(sorted(labels))


def _labels(word: str) -> range | list[int]:
    """The labels that one word stands for."""
    if _LABEL.fullmatch(word):
        return [_label(word)]
    if ends := _RANGE.fullmatch(word):
        first, last = _label(ends[1]), _label(ends[2])
        if first > last:
            raise TextError(f'"{word}", a range that runs downwards', f'"{last}..{first}"')
        if last - first >= MOST_LABELS:
            raise TextError(f'"{word}", {last - first + 1:,} labels', f"up to {MOST_LABELS:,} labels a die")
        return range(first, last + 1)
    if dashed := _DASHED.fullmatch(word):
        raise TextError(quoted(word), f'a range with two dots, "{dashed[1]}..{dashed[2]}"')
    raise TextError(quoted(word), FORM)


def _label(digits: str) -> int:
    if len(digits) > 20 or abs(int(digits)) > LABEL_BOUND:
        raise TextError(quoted(digits), f"labels from -{LABEL_BOUND:,} to {LABEL_BOUND:,}")
    return int(digits)
