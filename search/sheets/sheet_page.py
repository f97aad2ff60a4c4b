"""The product sheet as one page of HTML, with the player's card below."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from facewright.search.report.shell import inline_svg, policy, styles, template
from facewright.search.sheets.canvas import Drawing
from facewright.search.sheets.chances import rows
from facewright.search.sheets.figures import draw_chances, draw_scale, draw_step, scale_for, scale_words
from facewright.search.sheets.pictures import together

if TYPE_CHECKING:
    from facewright.search.sheets.chances import Chances
    from facewright.search.sheets.facts import Sheet

SHEETS = ("page.css", "print.css", "sheet.css")
HERO_MM, STEP_MM, CHART_MM = (180.0, 60.0), (52.0, 30.0), (170.0, 52.0)


def sheet_page(sheet: Sheet, proof: str = "") -> str:
    """The page.

    Params:
        sheet: what it says.
        proof: a link to the report of the run; without it none is shown.
    """
    from markupsafe import Markup

    return template("sheet.html").render(
        policy=policy(()),
        css=Markup(styles(SHEETS)),
        sheet=sheet,
        hero=inline_svg(_hero(sheet)),
        scale=f"Beside a coin, on paper {scale_words(scale_for(sheet.dice, *HERO_MM))}",
        steps=[
            {"words": step.words, "svg": inline_svg(_step(step, place))}
            for place, step in enumerate(sheet.steps, 1)
        ],
        chart=inline_svg(_chart(sheet)) if sheet.chances else "",
        least=min(540, 30 * sum(len(one.labels) for one in sheet.chances) + 120),
        compared=[one.words for one in sheet.chances if one.words and not one.name],
        tables=[_table(one) for one in sheet.chances],
        proof=proof,
    )


def _hero(sheet: Sheet) -> str:
    wide, high = together(sheet.dice)
    scale = scale_for(sheet.dice, *HERO_MM)
    drawing = Drawing(scale * wide + 2, scale * high + 2, f"{sheet.contents} Beside them a coin for scale.")
    draw_scale(drawing, sheet.dice, (1, 1, scale * wide, scale * high))
    return drawing.svg()


def _step(step: Any, place: int) -> str:
    drawing = Drawing(*STEP_MM, f"Step {place}: {step.words}")
    draw_step(drawing, step, (1, 1, STEP_MM[0] - 2, STEP_MM[1] - 2))
    return drawing.svg()


def _chart(sheet: Sheet) -> str:
    drawing = Drawing(*CHART_MM, "The chances as columns; a line over each shows those of the familiar dice")
    draw_chances(drawing, sheet.chances, (1, 1, CHART_MM[0] - 2, CHART_MM[1] - 2))
    return drawing.svg()


def _table(one: Chances) -> dict[str, Any]:
    return {"name": one.name, "beside": one.beside if one.name else "", "rows": list(rows(one))}
