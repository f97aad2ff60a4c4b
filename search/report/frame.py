"""The frame of the pages on solids: head, question, verdict, cautions, provenance."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from facewright.search.report.contents import CAUTIONS, headline
from facewright.search.report.shell import VERDICTS, day, policy, styles, template
from facewright.search.report.view import view_assets


def write_page(page: Callable[..., str], answer: Any, ranked: Sequence[Any], folder: Path) -> Path:
    """Writes report.html, the page of an answer that a run folder holds; raises RunError where it cannot be written.

    Params:
        page: takes the answer, its ranked designs, and by name `run`, `written` and `provenance`.
    """
    from facewright.search.folders import REPORT, write_text
    from facewright.search.runs import provenance_of

    about = provenance_of(folder)
    path = folder / REPORT
    named = {
        "run": folder.resolve().name,
        "written": about.get("ended", "")[:10],
        "provenance": about["made_with"],
    }
    write_text(path, page(answer, ranked, **named))
    return path


def framed(
    name: str,
    answer: Any,
    *,
    sheets: tuple[str, ...],
    view: bool,
    run: str,
    written: str,
    provenance: dict[str, Any] | None,
    ask: str,
    evidence: str,
    together: str = "",
    own_scripts: tuple[str, ...] = (),
    **found: Any,
) -> str:
    """A page that stands in the frame.

    Params:
        name: its template, which extends frame.html.
        sheets: its styles, in order.
        view: whether it holds solids to turn.
        own_scripts: further scripts, as `shell.scripts` gives them.
        ask: the question in a sentence; together: what goes with it.
        evidence: the quiet line below the verdict.
        found: what the template itself needs.
    """
    from markupsafe import Markup

    sentence, reason = headline(answer.reason)
    view_css, view_scripts = view_assets() if view else ("", ())
    run_scripts = (*view_scripts, *own_scripts)
    made = {**(provenance or {}), "seed": answer.seed, "seconds": round(answer.seconds, 3)}
    return template(name).render(
        policy=policy(run_scripts),
        css=Markup(styles(sheets) + view_css),
        scripts=[Markup(script) for script in run_scripts],
        run=run,
        written=day(written),
        title=answer.question.title,
        ask=ask,
        note=answer.question.note,
        together=together,
        verdict=answer.verdict,
        verdict_word=VERDICTS[answer.verdict],
        sentence=sentence,
        reason=reason,
        evidence=evidence,
        proof=answer.proof,
        proof_title="How far the proof got" if answer.verdict == "partial" else "How this was proved",
        cautions=CAUTIONS,
        provenance=[(key.replace("_", " "), value) for key, value in made.items()],
        **found,
    )
