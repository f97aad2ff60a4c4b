"""Dice drawn in characters: labels along one number line, a label on more faces standing higher."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

BLOCKS = "▁▂▃▄▅▆▇█"
"""Eight heights of one cell."""

LEAST_FULL = 4
"""A full cell stands for at least so many faces: so one face and two are told apart."""


def step_of(lowest: int, highest: int, cells: int) -> int:
    """How many numbers share a cell, so that a number line from `lowest` to `highest` fits into `cells`."""
    return -(-(highest - lowest + 1) // cells)


def strip(
    labels: Sequence[int],
    lowest: int,
    highest: int,
    cells: int = 40,
    *,
    most: int = LEAST_FULL,
    plain: bool = False,
) -> str:
    """One die in one line: a cell a number, higher for a label on more faces, a dot for a number left out.

    The line runs from `lowest` to `highest`, the same for all dice drawn together; where it is longer than
    `cells`, several numbers share one. A full cell stands for `most` faces. `plain` writes the number of
    faces in ASCII instead, `+` from ten up.

    Example:
        >>> strip([1, 2, 2, 4], 1, 5), strip([1, 2, 2, 4], 1, 5, plain=True)
        ('▂▄·▂ ', '12.1 ')
    """
    step = step_of(lowest, highest, cells)
    counts = Counter((label - lowest) // step for label in labels)
    first, last = min(counts), max(counts)
    full = max(most, LEAST_FULL)
    drawn = []
    for cell in range((highest - lowest) // step + 1):
        faces = counts[cell]
        if not faces:
            drawn.append((" ", ".·"[not plain])[first < cell < last])
        elif plain:
            drawn.append(str(faces) if faces < 10 else "+")
        else:
            drawn.append(BLOCKS[min(8, -(-8 * faces // full)) - 1])
    return "".join(drawn)


def number_line(lowest: int, highest: int, cells: int = 40) -> str:
    """Numbers below or above a strip, each beginning at its cell: the least, then the round ones that fit.

    Example:
        >>> number_line(1, 16)
        '1   5    10   15'
    """
    step = step_of(lowest, highest, cells)
    length = (highest - lowest) // step + 1
    widest = max(len(str(lowest)), len(str(highest)))
    every = next(tick for tick in _ticks() if tick >= (widest + 1) * step)
    line = str(lowest)
    for number in range(lowest + every - lowest % every, highest + 1, every):
        at = (number - lowest) // step
        if len(line) < at and at + len(str(number)) <= length:
            line = line.ljust(at) + str(number)
    return line


def _ticks() -> Sequence[int]:
    return [5] + [base * 10**power for power in range(1, 20) for base in (1, 2, 5)]


def stacked(labels: Sequence[int], lowest: int, highest: int, width: int, plain: bool = False) -> list[str]:
    """One die in several lines: a block a face, the faces of one label above each other, numbers below.

    Where a column a number does not fit into `width`, the blocks are one character wide; where that does not
    fit either, several numbers share a column.

    Example:
        >>> stacked([1, 2, 2, 4], 1, 4, 40, plain=True)
        ['   #', ' # #   #', ' 1 2 3 4']
    """
    column = max(len(str(lowest)), len(str(highest))) + 1
    roomy = (highest - lowest + 1) * column <= width
    step = 1 if roomy else step_of(lowest, highest, width)
    counts = Counter((label - lowest) // step for label in labels)
    block = "#" if plain else "▄"
    cell = " " + block * (column - 1) if roomy else block
    rows = []
    for height in range(max(counts.values()), 0, -1):
        cells = [
            cell if counts[at] >= height else " " * len(cell) for at in range((highest - lowest) // step + 1)
        ]
        rows.append("".join(cells).rstrip())
    if roomy:
        rows.append("".join(str(number).rjust(column) for number in range(lowest, highest + 1)))
    else:
        rows.append(number_line(lowest, highest, width))
    return rows


def label_text(labels: Sequence[int], room: int, plain: bool = False) -> str:
    """The labels of one die in the fullest of three ways that fits into `room`: all, with repeats, with runs.

    Example:
        >>> [label_text([1, 2, 3, 4, 4, 5], room) for room in (20, 11, 5)]
        ['1 2 3 4 4 5', '1 2 3 4 4 5', '1..3 4×2 5']
    """
    times = "x" if plain else "×"
    counts = sorted(Counter(labels).items())
    fullest = " ".join(map(str, sorted(labels)))
    repeated = " ".join(_item(str(label), count, times) for label, count in counts)
    for text in (fullest, repeated):
        if len(text) <= room:
            return text
    return _with_runs(counts, times)


def _with_runs(counts: Sequence[tuple[int, int]], times: str) -> str:
    runs: list[list[int]] = []
    for label, count in counts:
        if runs and runs[-1][1] == label - 1 and runs[-1][2] == count:
            runs[-1][1] = label
        else:
            runs.append([label, label, count])
    items = []
    for first, last, count in runs:
        if last - first >= 2:
            items.append(_item(f"{first}..{last}", count, times))
        else:
            items += [_item(str(label), count, times) for label in range(first, last + 1)]
    return " ".join(items)


def _item(label: str, count: int, times: str) -> str:
    return label if count == 1 else f"{label}{times}{count}"
