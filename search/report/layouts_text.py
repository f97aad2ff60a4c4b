"""Layouts for a terminal: the verdict, a table of the layouts, one with every face."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from facewright.constraints.layout import Layout
from facewright.constraints.layout_design import LayoutDesign
from facewright.search.layouts_answer import FoundLayout, LayoutAnswer
from facewright.search.report.layouts_words import balance_lines, roll_words, told
from facewright.search.report.terminal import NARROWEST, clean, sentence, wrapped
from facewright.search.statement import evidence


def summary(answer: LayoutAnswer, ranked: Sequence[FoundLayout], width: int, rows: int | None) -> str:
    """The verdict; of several layouts a table; the first one with its faces."""
    width = max(width, NARROWEST)
    parts = [clean(answer.question.title), *_paragraphs(answer, width)]
    if len(ranked) > 1:
        parts.append("\n".join(table(ranked[:rows])))
        if rows is not None and len(ranked) > rows:
            parts.append(
                f"{len(ranked) - rows} more in the run; `facewright show RUN --all` prints them all."
            )
    if ranked:
        parts.append(details(answer.question, ranked[0].design, width))
    return "\n\n".join(parts)


def _paragraphs(answer: LayoutAnswer, width: int) -> list[str]:
    backed = evidence(answer)
    said = ["proved" if backed["proved"] else "not proved", f"engine: {backed['engine']}"]
    if backed["bound"] is not None:
        said.append(f"bound reached: {backed['bound']}")
    said += [f"{backed['recounted']:,} recounted", f"{backed['seconds']:.3g} s"]
    return ["\n".join([*wrapped(answer.reason, width), *wrapped(sentence(said), width)])]


def table(ranked: Sequence[FoundLayout]) -> list[str]:
    """One line a layout: the beginning of its id and its labels in the order of the faces."""
    return [f"{one.id[:8]}  {' '.join(told(label) for label in one.design.labels)}" for one in ranked]


def details(question: Layout, design: LayoutDesign, width: int) -> str:
    """A layout in full: every face with its label, and what it comes to."""
    width = max(width, NARROWEST)
    lines = [f"{design.id}  on the {design.solid}", *faces_lines(design, width), ""]
    lines += named_lines(balance_lines(design), width)
    if together := roll_words(question):
        lines += ["", *wrapped(together, width)]
    return "\n".join(lines)


def faces_lines(design: LayoutDesign, width: int) -> list[str]:
    """Every face with its label, in columns."""
    cells = [f"{site}: {told(label)}" for site, label in design.faces]
    wide = max(len(cell) for cell in cells) + 2
    across = max(1, (width - 2) // wide)
    rows = [cells[start : start + across] for start in range(0, len(cells), across)]
    return ["  " + "".join(cell.ljust(wide) for cell in row).rstrip() for row in rows]


def named_lines(named: Iterable[tuple[str, str]], width: int) -> list[str]:
    """Pairs of a short name and words, the words aligned."""
    pairs = [*named]
    name_wide = max(len(name) for name, _ in pairs)
    lines = []
    for name, words in pairs:
        first, *more = (line.replace("\u00a0", " ") for line in wrapped(words, width - name_wide - 4))
        lines.append(f"  {name.ljust(name_wide)}  {first}")
        lines += [" " * (name_wide + 4) + line for line in more]
    return lines
