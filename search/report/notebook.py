"""An answer in a notebook: a pandas table, and a view in HTML."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING, Any

from facewright.search.answer import Answer
from facewright.search.report.contents import headline, ranked_designs
from facewright.search.report.scores import load_scores
from facewright.search.report.strips import strip

if TYPE_CHECKING:
    import pandas as pd

SHOWN = 50
"""Designs shown in a notebook's view; the table holds them all."""


def table(answer: Answer) -> pd.DataFrame:
    """One row a design, best first: rank, id, each die's faces, solid and labels (a tuple), distance and scores.

    Columns: rank, tied, id, die_1_faces, die_1_solid, die_1, die_2_faces, …, ordinary, distance or least chance
    (Fractions), legible, familiar, readability, cost, overall. Dice that a smaller set lacks are missing values.
    """
    from fractions import Fraction

    import pandas as pd
    from facewright.search.export import columns, rows

    listed = rows(answer, ranked_designs(answer, load_scores(None)))
    most = max(
        (len(one.design.dice) for one in answer.found), default=len(next(iter(answer.question.sets), ()))
    )
    frame = pd.DataFrame(listed, columns=columns(most, answer.question.read))
    for place in range(1, most + 1):
        frame[f"die_{place}"] = frame[f"die_{place}"].map(_labels)
        # whole numbers even where some are missing
        frame[f"die_{place}_faces"] = frame[f"die_{place}_faces"].astype("Int64")
    for name in ("distance", "chance"):
        if name in frame:
            frame[name] = frame[name].map(Fraction)
    return frame


def _labels(text: Any) -> tuple[int, ...] | None:
    return tuple(map(int, text.split())) if isinstance(text, str) else None


def view(answer: Answer) -> str:
    """The verdict and the best designs as HTML, without scripts or styles of its own beyond a few attributes."""
    first, rest = headline(answer.reason)
    body = []
    for one in ranked_designs(answer, load_scores(None))[:SHOWN]:
        dice = [die.labels for die in one.scores.design.dice]
        bounds = min(map(min, dice)), max(map(max, dice))
        drawn = "<br>".join(
            f"<code>{escape(strip(labels, *bounds))}</code> {escape(' '.join(map(str, labels)))}"
            for labels in dice
        )
        scores = "".join(
            f"<td>{one.scores.scores[name]}</td>" for name in ("legible", "familiar", "readability", "cost")
        )
        place = f"{one.position}{'=' if one.tied else ''}"
        body.append(
            f"<tr><td>{place}</td><td>{one.id[:6]}</td><td style='text-align:left'>{drawn}</td>{scores}</tr>"
        )
    heads = "".join(
        f"<th>{name}</th>"
        for name in ("rank", "design", "labels", "legible", "familiar", "readability", "cost")
    )
    more = f"<p>{len(answer.found) - SHOWN:,} more in .table()</p>" if len(answer.found) > SHOWN else ""
    listed = f"<table><thead><tr>{heads}</tr></thead><tbody>{''.join(body)}</tbody></table>" if body else ""
    return f"<p><b>{escape(first)}</b></p><p>{escape(rest)}</p>{listed}{more}"
