"""The view to turn, as a part that any page of a report can hold: its styles, its scripts, one block a solid."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from facewright.search.report.shell import inline_svg, script_json, scripts, text

if TYPE_CHECKING:
    from facewright.search.artwork.marks import Artwork
    from facewright.search.report.figures_marked import Side

VIEW_STYLES = ("view.css",)
VIEW_LIBRARIES = ("three",)
VIEW_SCRIPTS = ("view-solid.js", "view-still.js", "view-scene.js", "view.js")


def view_assets() -> tuple[str, tuple[str, ...]]:
    """The styles and the scripts that a page with `view_block`s needs once, after its own styles and its blocks.

    The scripts are texts as `shell.scripts` gives them: the page's policy must allow them.
    """
    css = "\n".join(text(f"template/{name}") for name in VIEW_STYLES)
    return css, scripts(VIEW_LIBRARIES, ("dom.js", *VIEW_SCRIPTS, "view-start.js"))


def view_block(
    artwork: Artwork,
    readouts: Sequence[str] = (),
    *,
    name: str = "",
    note: str = "",
    still: str | None = None,
    side: Side | None = None,
) -> Any:
    """A marked solid in a page: its still, and the view to turn once the reader asks for it.

    Params:
        artwork: the solid with everything that stands on it.
        readouts: the names of its readouts, in the order of the marks' `readout`; none for a plain numbering.
        name: how the solid is called; without it by its own name.
        note: a line below the view, such as where the labels come from.
        still: the SVG text of the still, our own; empty for none; without it `marked_svg` from `side`.
    Returns: Markup. The page must hold `view_assets` once. Without scripts the still stays, and no button is shown.
    """
    from facewright.search.report.figures_marked import marked_svg
    from facewright.search.report.view_data import artwork_data
    from markupsafe import Markup

    return Markup(
        '<figure class="view-figure" data-view="{name}" data-note="{note}"><div class="view-still">{still}</div>'
        '<button type="button" class="view-open" hidden>Turn the solid</button><div class="view-holder"></div>'
        '<script type="application/json">{data}</script></figure>'
    ).format(
        name=name or artwork.solid.name,
        note=note,
        still=inline_svg(marked_svg(artwork, side) if still is None else still),
        data=Markup(script_json(artwork_data(artwork, readouts))),
    )
