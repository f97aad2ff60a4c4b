"""The report of a question of a smooth body: one page, a function of the stored answer alone."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from facewright.constraints.grammar import capital
from facewright.constraints.smooth import Smooth
from facewright.constraints.smooth_design import SmoothDesign, decimal
from facewright.search.laying import LaidOut
from facewright.search.report.frame import framed
from facewright.search.report.shell import inline_svg, scripts
from facewright.search.report.smooth_pictures import lying_svg
from facewright.search.report.smooth_view import smooth_view
from facewright.search.report.smooth_words import ask, cautions, compared, laid_lines, lines
from facewright.search.smooth_answer import FoundBody, SmoothAnswer
from facewright.search.statement import evidence

STYLES = ("page.css", "print.css", "readouts.css", "layouts.css", "view.css", "smooth.css")


def smooth_page(
    answer: SmoothAnswer,
    ranked: Sequence[FoundBody],
    *,
    run: str = "",
    written: str = "",
    provenance: dict[str, Any] | None = None,
) -> str:
    """The whole page: its name and date from the run, all else from the answer."""
    return framed(
        "smooth.html",
        answer,
        sheets=STYLES,
        view=False,
        own_scripts=scripts((), ("dom.js", "smooth-view.js")) if ranked else (),
        run=run,
        written=written,
        provenance=provenance,
        ask=ask(answer.question),
        evidence=_evidence(answer),
        designs=[drawn(answer.question, one.design, answer.layouts) for one in ranked],
    )


def drawn(question: Smooth, design: SmoothDesign, laid: Sequence[LaidOut] = ()) -> dict[str, Any]:
    """One body as the template shows it, with what stands at its rests."""
    from facewright.search.make.smooth_numerals import carried_by, names_of

    carried, names = carried_by(laid, design.id), names_of(question)
    beside = compared(design)
    most = max(value for _, value in beside)
    coefficients = zip((harmonic for harmonic, _ in design.body.parts), design.coefficients, strict=False)
    sides = (
        (
            False,
            "Lying at rest, from the side. A tip is on top, one width above the table, as every top always is.",
        ),
        (True, "The same, from above."),
    )
    return {
        "short": design.id[:8],
        "pictures": [
            {"svg": inline_svg(lying_svg(design.body, from_above=above, title=words)), "words": words}
            for above, words in sides
        ],
        "view": smooth_view(design.body, f"the body {design.id[:8]}", carried, names),
        "laid": [(capital(name), words) for name, words in laid_lines(question, design, laid)],
        "lines": [(capital(name), words) for name, words in lines(question, design)],
        "compared": [(name, f"{value:.3f}", round(100 * value / most, 1)) for name, value in beside],
        "coefficients": [(one.degree, one.number, decimal(c)) for one, c in coefficients],
        "cautions": cautions(question),
    }


def _evidence(answer: SmoothAnswer) -> str:
    backed = evidence(answer)
    parts = ["Proved over the whole sphere and from above" if backed["proved"] else "Not proved"]
    if backed["bound"] is not None:
        parts.append(f"no body exceeds {backed['bound']}")
    if backed["recounted"]:
        parts.append("the body recounted from its support function")
    parts.append(f"{backed['seconds']:.3g}\u00a0s")
    return "; ".join(parts) + "."
