"""The report as one page of HTML: a function of a run's summary and its ranked designs alone."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from facewright.search.report.laid_out import SHEETS
from facewright.search.report.page_data import pack
from facewright.search.report.shell import VERDICTS, day, policy, script_json, scripts, styles, template
from facewright.search.report.view import VIEW_LIBRARIES, VIEW_SCRIPTS

STYLES = ("page.css", "table.css", "card.css", "contest.css", "view.css", "print.css")
SCRIPTS = (
    "dom.js", "data.js", "strip.js", "filters.js", "table.js", "distribution.js", "grid.js", "factors.js",
    "contest.js", "card.js", "main.js",
)  # fmt: skip
LIBRARIES = ("d3", "tabulator")
ABSENT: dict[str, Any] = {
    "run": "", "note": "", "ask": "", "reason": "", "proof": [], "evidence": {}, "target": None, "cautions": [],
}  # fmt: skip
SET_VERDICTS = {"complete": "Complete", "none": "None", "best": "Best", "partial": "Stopped early"}


def page(summary: dict[str, Any], designs: list[dict[str, Any]], laid: Sequence[dict[str, Any]] = ()) -> str:
    """Writes a run's report as one self-contained page.

    Params:
        summary: what the run found, as docs/reference/report.md lists it.
        designs: the designs, best first.
        laid: the dice of the best design laid out, as `facewright.search.report.laid_out.shown` gives them.
    Returns: the whole text of an HTML file that opens without a network; the same text for the same input.

    Example:
        >>> summary = {"title": "Tides", "run": "tides", "verdict": "none", "sentence": "No set does it.", "sets": []}
        >>> "No set does it." in page(summary, [])
        True
    """
    from markupsafe import Markup

    packed = pack(summary, designs)
    run, css = _scripts("view" in packed), styles(STYLES + (SHEETS if laid else ()))
    # Every text of this template is escaped unless it is Markup; these three are our own or escaped on the spot.
    return template("page.html").render(
        summary={**ABSENT, **summary},
        designs=bool(designs),
        laid=laid,
        policy=policy(run),
        css=Markup(css),
        scripts=[Markup(script) for script in run],
        data=Markup(script_json(packed)),
        written=day(summary.get("written")),
        verdict_word=VERDICTS[summary["verdict"]],
        evidence=evidence_line(summary),
        proof_title="How this was proved"
        if summary.get("evidence", {}).get("proved")
        else "How far the proof got",
        target_count=_target_words(summary),
        several=len(summary["sets"]) + len(summary.get("dropped") or ()) > 1,
        sets=[_set_row(place, one) for place, one in enumerate(summary["sets"])],
        dropped=[{**one, "faces": _plus(one["faces"])} for one in summary.get("dropped") or ()],
        list_title=_list_title(summary, len(designs)),
        provenance=[(name.replace("_", " "), value) for name, value in summary.get("provenance", {}).items()],
    )


def _scripts(solids: bool) -> tuple[str, ...]:
    """The page's scripts; those that draw solids only where it has one."""
    if not solids:
        return scripts(LIBRARIES, SCRIPTS)
    own = (SCRIPTS[0], *VIEW_SCRIPTS, "card-solids.js", *SCRIPTS[1:])
    return scripts((*LIBRARIES, *VIEW_LIBRARIES), own)


def evidence_line(summary: dict[str, Any]) -> str:
    """The one quiet line that says what backs the verdict."""
    evidence = summary.get("evidence", {})
    sentences = ["Proved" if evidence.get("proved") else "Not proved"] if "proved" in evidence else []
    recounted = evidence.get("recounted")
    if recounted:
        outcomes = {one.get("outcomes") for one in summary["sets"]}
        over = f" over its {outcomes.pop():,} outcomes" if len(outcomes) == 1 and None not in outcomes else ""
        sentences.append(
            f"the one design recounted{over}"
            if recounted == 1
            else f"each of the {recounted:,} recounted{over}"
        )
    up_to_shift, count = summary.get("count_up_to_shift"), summary.get("count")
    if up_to_shift is not None and up_to_shift != count:
        sentences.append(f"{up_to_shift:,} if designs that only move numbers from die to die count once")
    if evidence.get("bound") is not None:
        sentences.append(f"bound reached: {evidence['bound']}")
    if evidence.get("seconds") is not None:
        sentences.append(f"{evidence['seconds']:.3g}\u00a0s")
    line = "; ".join(sentences)
    return f"{line[:1].upper()}{line[1:]}." if line else ""


def _set_row(place: int, one: dict[str, Any]) -> dict[str, Any]:
    at_least = "≥ " if one.get("verdict") == "partial" else ""
    count = one.get("count")
    return {
        "place": place,
        "faces": _plus([die["faces"] for die in one["dice"]]),
        "solids": ", ".join(die["solid"] for die in one["dice"]),
        "count": count,
        "count_words": "–" if count is None else f"{at_least}{count:,}",
        "verdict": SET_VERDICTS.get(one.get("verdict", ""), ""),
        # what a complete set has to say is its count
        "reason": None if one.get("verdict") == "complete" and count else one.get("reason"),
    }


def _plus(faces: Sequence[int]) -> str:
    return " + ".join(map(str, faces))


def _target_words(summary: dict[str, Any]) -> str:
    target = summary.get("target")
    if not target:
        return ""
    results = len(target["ways"])
    alike = "1 result" if results == 1 else f"{results:,} results"
    return f"{alike} from {target['outcomes']:,} equally likely outcomes"


def _list_title(summary: dict[str, Any], listed: int) -> str:
    count = summary.get("count") or listed
    if listed == 1 and count == 1:
        return "The design"
    if listed >= count:
        return f"The {listed:,} designs, best first"
    return f"The best {listed:,} of {count:,} designs"
