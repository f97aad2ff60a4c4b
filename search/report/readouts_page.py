"""The report of a question of readouts: one page without scripts, a function of the stored answer alone."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from html import escape
from pathlib import Path
from typing import Any

from facewright.constraints.readouts import Readouts
from facewright.constraints.readouts_design import ReadoutsDesign
from facewright.search.readouts_answer import FoundMarks, ReadoutsAnswer
from facewright.search.readouts_export import evidence, particulars
from facewright.search.report.contents import CAUTIONS, headline
from facewright.search.report.readouts_text import by_label

SHOWN = 20
"""How many designs are shown in full."""

STYLE = """
:root{--paper:#faf7f0;--ink:#26231d;--quiet:#6f685b;--line:#ddd5c5;--heat:46,96,140}
@media(prefers-color-scheme:dark){:root{--paper:#1c1b18;--ink:#ece7da;--quiet:#a49c8c;--line:#3b372f;--heat:110,168,214}}
body{margin:0 auto;max-width:52rem;padding:2rem 1.2rem;background:var(--paper);color:var(--ink);
font:1.05rem/1.55 Georgia,"Times New Roman",serif}
h1{font-size:1.1rem;font-weight:normal;color:var(--quiet)}h2{font-size:1.25rem;margin:2.2rem 0 .6rem}
.verdict{font-size:1.5rem;line-height:1.35;margin:.4rem 0}.quiet,figcaption,footer{color:var(--quiet);font-size:.9rem}
table{border-collapse:collapse;font:.88rem/1.4 system-ui,sans-serif;font-variant-numeric:tabular-nums;margin:.6rem 0}
th,td{padding:.28rem .6rem;border-bottom:1px solid var(--line);text-align:left;vertical-align:top}
td.n,th.n{text-align:right}.wide{overflow-x:auto}
.heat td{border:1px solid var(--line);text-align:center;min-width:2.6rem}
.heat td small{display:block;color:var(--quiet)}
figure{margin:1rem 1.6rem 1rem 0;display:inline-block;vertical-align:top}
code{font:.85em ui-monospace,monospace}details{margin:1.4rem 0}summary{cursor:pointer}
.solid{background:#fff;border-radius:.4rem;display:inline-block;padding:.6rem;float:right;margin:0 0 1rem 1.4rem}
.solid svg{width:8rem;height:8rem;display:block}section,details{overflow:auto}
@media print{body{max-width:none;padding:0}details{display:none}}
"""


def write_readouts_report(answer: ReadoutsAnswer, ranked: Sequence[FoundMarks], folder: Path) -> Path:
    """Writes report.html; raises RunError where it cannot be written."""
    from facewright.search.folders import REPORT, write_text

    path = folder / REPORT
    write_text(path, readouts_page(answer, ranked))
    return path


def readouts_page(answer: ReadoutsAnswer, ranked: Sequence[FoundMarks]) -> str:
    """The whole page."""
    question = answer.question
    sentence, rest = headline(answer.reason)
    backed = evidence(answer)
    proved = "proved" if backed["proved"] else "not proved"
    parts = [
        "<!doctype html>",
        '<html lang="en"><head><meta charset="utf-8">',
        '<meta name="viewport" content="width=device-width,initial-scale=1">',
        f"<title>{escape(question.title)}</title><style>{STYLE}</style></head><body><main>",
        f"<h1>{escape(question.title)}</h1>",
        f'<p class="verdict">{escape(sentence)}</p>',
        f"<p>{escape(rest)}</p>" if rest else "",
        f'<p class="quiet">{proved}; {backed["recounted"]} recounted from the geometry of the solid, '
        f"in {backed['seconds']:.2f} s.</p>",
        f"<p>{escape(question.note)}</p>" if question.note else "",
    ]
    if len(question.solids) > 1:
        parts.append(_solids(answer))
    parts += [_design(question, one.design, first=place == 0) for place, one in enumerate(ranked[:SHOWN])]
    if len(ranked) > SHOWN:
        parts.append(f'<p class="quiet">{len(ranked) - SHOWN} more designs are in the run.</p>')
    parts.append(_proof(answer))
    cautions = "".join(f"<p>{escape(one)}</p>" for one in CAUTIONS)
    parts.append(f"</main><footer>{cautions}</footer></body></html>\n")
    return "\n".join(part for part in parts if part)


def _solids(answer: ReadoutsAnswer) -> str:
    rows = []
    for row in answer.table():
        measured = row["largest_pair"] if answer.question.measure == "pairs" else row["dependence"]
        proved = "proved" if row["proved"] else f"not proved; at least {row['bound']}"
        cells = [
            f"<td>{escape(row['solid'])}</td>",
            f'<td class="n">{row["rests"]}</td>',
            f"<td>{measured if measured is not None else 'no such marks'}</td>",
            f"<td>{proved}</td>",
            f'<td class="n">{row["marks"] if row["marks"] is not None else "–"}</td>',
            f'<td class="n">{row["cuts"] if row["cuts"] is not None else "–"}</td>',
        ]
        rows.append(f"<tr>{''.join(cells)}</tr>")
    head = (
        "<tr><th>solid</th><th class=n>rests</th><th>least dependence</th><th></th><th class=n>marks to read</th>"
        "<th class=n>copies to cut</th></tr>"
    )
    return (
        f'<h2>Which solid?</h2><div class="wide"><table>{head}{"".join(rows)}</table></div>'
        '<p class="quiet">A mark at a corner where d faces meet is cut d times, on an edge twice.</p>'
    )


def _design(question: Readouts, design: ReadoutsDesign, first: bool) -> str:
    """One design; all but the first are a click away."""
    rows = []
    for readout, (name, pairs) in zip(question.readouts, design.sites, strict=True):
        for label, sites in by_label(pairs, readout.labels):
            rows.append(
                f"<tr><td>{escape(name)}</td><td>{escape(str(label))}</td><td>{escape(' '.join(sites))}</td></tr>"
            )
    about = particulars(question, design)
    worst = about["largest_deviation"]
    told = f"<p>Largest deviation: {escape(worst['words'])}.</p>" if worst else ""
    pairs_ = "".join(_heat(pair) for pair in about["pair_tables"])
    heading = f"On the {escape(design.solid)} <code>{design.id[:8]}</code>"
    start = f"<section><h2>{heading}</h2>" if first else f"<details><summary>{heading}</summary>"
    return (
        f'{start}<div class="solid">{_drawn(design.solid)}</div>'
        f"<p>{design.marks} marks to read, {design.cuts} copies to cut. Dependence of all together: "
        f"{design.dependence}.</p>{told}"
        '<div class="wide"><table><tr><th>readout</th><th>label</th><th>sites (f face, v corner, e edge)</th></tr>'
        f"{''.join(rows)}</table></div>{pairs_}{'</section>' if first else '</details>'}"
    )


def _drawn(name: str) -> str:
    """The solid as SVG within HTML, where no namespace is stated."""
    from facewright.constraints.solids import solid
    from facewright.search.report.figures_solids import solid_svg

    return re.sub(r' xmlns="[^"]*"', "", solid_svg(solid(name)))


def _heat(pair: dict[str, Any]) -> str:
    """A joint table: each cell its exact chance, darker where it is greater."""
    one, other = pair["readouts"]
    most = max(count for row in pair["counts"] for count in row)
    head = "".join(f"<th>{escape(str(label))}</th>" for label in pair["columns"])
    body = []
    for label, row in zip(pair["rows"], pair["counts"], strict=True):
        cells = "".join(
            f'<td style="background:rgba(var(--heat),{0.55 * count / most:.2f})">{Fraction(count, pair["rests"])}'
            f"<small>{count}</small></td>"
            for count in row
        )
        body.append(f"<tr><th>{escape(str(label))}</th>{cells}</tr>")
    exact = pair["distance"] == "0"
    said = (
        "independent"
        if exact
        else f"distance {pair['distance']}, mutual information {pair['bits']:.4f} bits (rounded)"
    )
    return (
        f'<figure><table class="heat"><tr><th>{escape(one)} ↓ {escape(other)} →</th>{head}</tr>{"".join(body)}</table>'
        f"<figcaption>chance, and rests of {pair['rests']}; {said}</figcaption></figure>"
    )


def _proof(answer: ReadoutsAnswer) -> str:
    lines = "".join(f"<li>{escape(line)}</li>" for line in answer.proof)
    return f"<details><summary>How this was proved</summary><ul>{lines}</ul></details>" if lines else ""
