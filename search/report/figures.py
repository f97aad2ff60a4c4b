"""Figures of a design for documents and print: its strips, every outcome, its distribution, as SVG text."""

from __future__ import annotations

import io
from collections import Counter
from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from facewright.constraints.distribution import Distribution
from facewright.constraints.readings import READINGS, REROLL, How, Reading, reading_of
from facewright.search.report.bars import distribution_given, result_text

if TYPE_CHECKING:
    from matplotlib.axes import Axes

INK, SOFT, LINE, COLUMN, MISS = "#1c2430", "#575f6b", "#dcd8cd", "#5b98c6", "#f1ede3"
GRID = ("#f1ede3", "#93bcdc")
DICE = ("#006dad", "#b34a00", "#00594a", "#8a1c7c", "#3a2418", "#5f6b7a")
"""The colours of the dice, the same as on the page: told apart by colour-blind readers, dark enough for text."""

WIDTH = 7.0
"""Inches: a figure fits between the margins of an A4 page."""

CELLS_WIDE, CELLS_HIGH = 24, 24
"""Past these sizes a grid of outcomes has no room for its numbers and is left out."""

NUMBERED = 30
"""Up to so many results a column carries its ways as a number."""


def design_svg(
    dice: Sequence[Sequence[int]],
    target_ways: Mapping[Any, int] | Sequence[tuple[Any, int]] | None = None,
    read: str = "total",
    how: How = (),
) -> str:
    """Draws a design: each die as its labels along one number line, the outcomes of two dice, the distribution.

    Params:
        dice: the labels of each die.
        target_ways: the distribution wanted, as result → ways or as pairs; a line over each column shows it.
        read: the reading's name, a key of `constraints.readings.READINGS`.
        how: what the reading must be told.
    Returns: SVG text, the same for the same input; letters are outlines, so that no font is needed.
    Raises: ValueError without dice, for a die without labels, and for an unknown reading.

    Example:
        >>> design_svg([(1, 2, 2, 3), (1, 3)]).startswith("<?xml")
        True
    """
    if not dice or not all(dice):
        raise ValueError("dice: at least one die is needed, each with at least one label")
    if read not in READINGS:
        raise ValueError(f"read: found {read!r}; accepted: {', '.join(sorted(READINGS))}")
    import matplotlib as mpl
    from matplotlib.figure import Figure

    standing = [sorted(labels) for labels in dice]
    reading = reading_of(read, how)
    found = reading.distribution(standing)
    numbers = isinstance(found.least, int)
    target = None if target_ways is None else distribution_given(target_ways)
    grid = _fits(standing) and REROLL not in dict(how)
    heights = [0.16 + 0.1 * max(Counter(labels).values()) for labels in standing]
    heights = [min(1.1, max(0.42, height)) for height in heights]
    rows = [*heights, *([0.26 * (len(standing[0]) + 1)] if grid else []), *([1.9] if numbers else [])]
    # One salt and no date: the same design gives the same text.
    with mpl.rc_context({"svg.hashsalt": "facewright", "svg.fonttype": "path", "font.family": "DejaVu Sans"}):
        figure = Figure(figsize=(WIDTH, sum(rows) + 0.34 * len(rows)), layout="constrained")
        axes = figure.subplots(len(rows), 1, height_ratios=rows, squeeze=False)[:, 0]
        line = (min(x for labels in standing for x in labels), max(x for labels in standing for x in labels))
        for position, labels in enumerate(standing):
            _strip(axes[position], labels, position, line)
        if grid:
            _grid(axes[len(standing)], standing, reading, found)
        if numbers:
            _columns(axes[-1], found, target)
        out = io.StringIO()
        figure.savefig(out, format="svg", metadata={"Date": None, "Creator": None})
    return out.getvalue()


def _fits(dice: Sequence[Sequence[int]]) -> bool:
    return len(dice) == 2 and len(dice[0]) <= CELLS_HIGH and len(dice[1]) <= CELLS_WIDE


def _bare(axes: Axes) -> None:
    for side in ("left", "top", "right"):
        axes.spines[side].set_visible(False)
    axes.spines["bottom"].set_color(LINE)
    axes.tick_params(labelsize=7, colors=SOFT, length=2, pad=2)


def _strip(axes: Axes, labels: Sequence[int], position: int, line: tuple[int, int]) -> None:
    """One die: a block a face along the number line, repeats stacked."""
    from matplotlib.ticker import MaxNLocator

    counts = Counter(labels)
    tallest = max(counts.values())
    blocks = [(label, level) for label, faces in sorted(counts.items()) for level in range(faces)]
    axes.bar(
        [label for label, _ in blocks], 0.82, width=0.84, bottom=[level + 0.09 for _, level in blocks],
        color=DICE[position % len(DICE)], linewidth=0,
    )  # fmt: skip
    axes.set_xlim(line[0] - 0.6, line[1] + 0.6)
    axes.set_ylim(0, max(2, tallest))
    axes.set_yticks([])
    axes.xaxis.set_major_locator(MaxNLocator(nbins=16, integer=True, steps=[1, 2, 5, 10]))
    colour = DICE[position % len(DICE)]
    axes.set_title(f"Die {position + 1}, {len(labels)} faces", loc="left", fontsize=8, color=colour, pad=3)
    _bare(axes)


def _grid(axes: Axes, dice: Sequence[Sequence[int]], reading: Reading, found: Distribution) -> None:
    """Every outcome of two dice, shaded by how likely its result is, with the labels on the margins."""
    from matplotlib.colors import LinearSegmentedColormap

    down, across = dice
    results = [[reading.result((a, b)) for b in across] for a in down]
    shades = [[found.ways[result] for result in row] for row in results]
    colours = LinearSegmentedColormap.from_list("ways", GRID)
    axes.pcolormesh(
        range(len(across) + 1), range(len(down) + 1), shades, cmap=colours, vmin=1, vmax=max(2, *found.ways.values()),
        edgecolors="white", linewidth=1.5,
    )  # fmt: skip
    size = 7 if max(len(down), len(across)) <= 16 else 5
    for i, row in enumerate(results):
        for j, result in enumerate(row):
            axes.text(
                j + 0.5, i + 0.5, result_text(result), ha="center", va="center", fontsize=size, color=INK
            )
    axes.set_xticks([j + 0.5 for j in range(len(across))], [str(x) for x in across], color=DICE[1])
    axes.set_yticks([i + 0.5 for i in range(len(down))], [str(x) for x in down], color=DICE[0])
    axes.invert_yaxis()
    axes.xaxis.tick_top()
    axes.tick_params(length=0, labelsize=size, pad=1)
    for spine in axes.spines.values():
        spine.set_visible(False)


def _columns(axes: Axes, found: Distribution, target: Distribution | None) -> None:
    """The distribution as columns; the target, scaled to the same outcomes, as a line over each."""
    from matplotlib.ticker import MaxNLocator

    results = sorted(set(found.ways) | set(target.ways if target else ()))
    ways = [found.ways.get(result, 0) for result in results]
    lines = [Fraction(0)] * len(results)
    if target is not None:
        lines = [target.chance(result) * found.outcomes for result in results]
    missed = [target is not None and line != height for line, height in zip(lines, ways, strict=True)]
    bars = axes.bar(results, ways, width=0.84 if len(results) <= 120 else 1.0, color=COLUMN, linewidth=0)
    for bar, miss in zip(bars, missed, strict=True):
        if miss:
            bar.set(facecolor=MISS, edgecolor=COLUMN, hatch="////", linewidth=0.6)
    if target is not None:
        left, right = [x - 0.5 for x in results], [x + 0.5 for x in results]
        axes.hlines([float(line) for line in lines], left, right, colors=INK, linewidth=1.3)
    if len(results) <= NUMBERED:
        for result, height, line in zip(results, ways, lines, strict=True):
            axes.annotate(
                f"{height:,}", (result, float(max(Fraction(height), line))), xytext=(0, 3), ha="center", fontsize=6.5,
                textcoords="offset points", color=SOFT,
            )  # fmt: skip
        axes.set_yticks([])
        axes.set_xticks(results, [str(result) for result in results])
    else:
        axes.yaxis.set_major_locator(MaxNLocator(nbins=4, integer=True))
        axes.xaxis.set_major_locator(MaxNLocator(nbins=16, integer=True, steps=[1, 2, 5, 10]))
    axes.set_xlim(results[0] - 0.7, results[-1] + 0.7)
    axes.margins(y=0.12)
    words = f"Ways in {found.outcomes:,}"
    if target is not None:
        off = sum(missed)
        words += ", the target as a line over each column: "
        words += f"{off} of {len(results)} columns off, hatched" if off else "exact"
    axes.set_title(words, loc="left", fontsize=8, color=SOFT, pad=8)
    _bare(axes)
