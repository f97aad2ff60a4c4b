"""Writes the table and the pictures of `docs/reference/solids.md`: `python -m facewright.search.report.solids_page`."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

PAGE = Path("docs/reference/solids.md")
PICTURES = Path("docs/reference/solids")
FROM, TO = "<!-- made by `make solids`: from here -->", "<!-- to here -->"
"""What stands between these two lines is made, the rest of the page is written by hand."""

DRAWN = {
    "bipyramid": (3, 4, 5, 6, 8),
    "trapezohedron": (3, 4, 5, 6, 7),
    "scalenohedron": (4, 6),
    "log": (3, 4, 5, 7),
}
"""Which members of families have a picture; every solid of its own has one."""


def drawn() -> list[str]:
    """The names of the solids with a picture, by their number of rests."""
    from facewright.constraints.solids.catalogue import listed
    from facewright.constraints.solids.names import family_member

    members = {name: family_member(name) for name in listed()}
    return [name for name, member in members.items() if not member or member[1] in DRAWN[member[0]]]


def slug(name: str) -> str:
    """The name of a picture's file, without its ending."""
    return name.replace(" ", "-")


def made() -> str:
    """The part of the page that is made: the table, then the pictures."""
    from facewright.constraints.solids import solid
    from facewright.constraints.solids.catalogue import listed
    from facewright.constraints.solids.geometry import about
    from facewright.search.report.solids_text import HEADS, cells

    lines = ["", "| " + " | ".join(HEADS[:-1]) + " |", "|---|" + "---|" * (len(HEADS) - 2)]
    lines += ["| " + " | ".join(cells(about(solid(name)))[:-1]) + " |" for name in listed()]
    lines += [
        "",
        "## Pictures",
        "",
        "Each lies on one of its rests, seen from a little above, all as large as the frame.",
        "",
    ]
    names = drawn()
    for start in range(0, len(names), 4):
        row = names[start : start + 4]
        lines.append("| " + " | ".join(f"![{name}](solids/{slug(name)}.svg)" for name in row) + " |")
        if start == 0:
            lines.append("|" + "---|" * len(row))
        lines.append("| " + " | ".join(row) + " |")
    return "\n".join([*lines, ""])


def pictures() -> Iterator[tuple[str, str]]:
    """The name of each picture's file and its SVG text."""
    from facewright.constraints.solids import solid
    from facewright.search.report.figures_solids import solid_svg

    for name in drawn():
        yield f"{slug(name)}.svg", solid_svg(solid(name))


def written(page: str) -> str:
    """The page with its made part anew.

    Raises: ValueError where the two lines that bound that part are missing.
    """
    before, found, rest = page.partition(FROM)
    _, ended, after = rest.partition(TO)
    if not found or not ended:
        raise ValueError(f"{PAGE}: the lines {FROM!r} and {TO!r} are needed")
    return f"{before}{FROM}\n{made()}\n{TO}{after}"


def main(root: Path) -> None:
    """Writes the page and its pictures under the checkout's folder."""
    page = root / PAGE
    page.write_text(written(page.read_text(encoding="utf-8")), encoding="utf-8")
    (root / PICTURES).mkdir(exist_ok=True)
    for name, svg in pictures():
        (root / PICTURES / name).write_text(svg, encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else Path())
