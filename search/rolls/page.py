"""The page of tested rolls: verdict, pictures, the table of tests, what was not tested or read, cautions."""

from __future__ import annotations

from typing import Any

from facewright.search.report.shell import policy, styles, template
from facewright.search.rolls.judging import Judged, Test
from facewright.search.rolls.pictures import MOST_BARS, bars, e_path, usual_words
from facewright.search.rolls.tally import Tally
from facewright.search.rolls.views import Subject
from facewright.search.rolls.words import (
    CAUTIONS,
    looked_sentence,
    number,
    p_source,
    p_words,
    seen_sentence,
    sentence,
    stands_out,
    together_sentence,
)

SHOWN_ROWS = 200
"""Unread rows on the page; all are in the JSON."""


def rolls_page(
    title: str, design: str, run: str, log: str, judged: Judged, tally: Tally, subject: Subject
) -> str:
    """The whole page as HTML.

    Params:
        title, design, run: of the design that was rolled.
        log: the name of the table.
        judged, tally, subject: what was rolled and what it comes to.
    """
    from markupsafe import Markup

    unread = len(tally.unread) + tally.uncounted
    return template("rolls.html").render(
        policy=policy(()),
        css=Markup(styles(("page.css", "print.css", "rolls.css"))),
        title=title,
        short=design[:8],
        run=run,
        log=log,
        of=subject.words,
        word="Unusual" if judged.unusual else "Nothing unusual" if judged.whole else "Nothing tested",
        verdict="partial" if judged.unusual or not judged.whole else "complete",
        sentence=sentence(judged, tally, subject),
        seen=seen_sentence(judged),
        looked=looked_sentence(judged),
        errors=together_sentence(judged),
        usual=usual_words(judged.level),
        views=[_view(one, judged) for one in judged.whole if not one.same_as],
        tests=[_row(one, judged) for one in (*judged.whole, *judged.parts)],
        untested=judged.untested,
        unread=[(one.line, one.text, one.reason) for one in tally.unread[:SHOWN_ROWS]],
        unread_many=f"{unread:,} {'row' if unread == 1 else 'rows'} not read, and not counted"
        if unread
        else "",
        unread_more=max(0, unread - SHOWN_ROWS),
        passed_over=", ".join(tally.header.passed_over),
        cautions=[one.replace("`", "") for one in CAUTIONS],
    )


def _view(test: Test, judged: Judged) -> dict[str, Any]:
    from markupsafe import Markup

    rows = bars(test, judged.level)
    for row in rows:
        row["svg"] = Markup(row["svg"])
    cells = len(test.view.cells)
    return {
        "of": test.of[0].upper() + test.of[1:],
        "word": test.view.cell_word,
        "rows": rows,
        "shown": f"The {MOST_BARS} farthest off, of {cells:,}." if cells > MOST_BARS else "",
        "path": Markup(e_path(test, judged.limit)) if test.path else "",
        "highest": _highest(test),
    }


def _highest(test: Test) -> str:
    if not test.path:
        return f"The order of the rolls is not in the table; e-value at the end: {number(test.log_e)}."
    highest, end = number(test.log_highest), number(test.log_e)
    return (
        f"The e-value roll by roll. Highest {highest}, after {test.highest_at or 0:,} rolls; at the end {end}. It may "
        "be looked at after every roll."
    )


def _row(test: Test, judged: Judged) -> dict[str, Any]:
    return {
        "of": test.of,
        "rolls": f"{test.rolls:,}",
        "chi": f"{test.chi.statistic:.2f}",
        "degrees": test.chi.degrees,
        "p": p_words(test.chi.p),
        "source": p_source(test).strip() or "distribution",
        "adjusted": f"as {test.same_as}" if test.same_as else p_words(test.p_adjusted),
        "e": number(test.log_e),
        "out": stands_out(test),
        "unusual": test in judged.unusual,
    }
