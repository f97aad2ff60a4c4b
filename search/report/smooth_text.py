"""A smooth body for a terminal: the verdict, and what the body comes to."""

from __future__ import annotations

from collections.abc import Sequence

from facewright.constraints.smooth import Smooth
from facewright.constraints.smooth_design import SmoothDesign, decimal
from facewright.search.laying import LaidOut
from facewright.search.report.layouts_text import named_lines
from facewright.search.report.smooth_words import cautions, compared, laid_lines, lines
from facewright.search.report.terminal import NARROWEST, clean, sentence, wrapped
from facewright.search.smooth_answer import FoundBody, SmoothAnswer
from facewright.search.statement import evidence


def summary(answer: SmoothAnswer, ranked: Sequence[FoundBody], width: int) -> str:
    """The verdict and the body."""
    width = max(width, NARROWEST)
    backed = evidence(answer)
    said = ["proved" if backed["proved"] else "not proved", f"engine: {backed['engine']}"]
    if backed["bound"] is not None:
        said.append(f"no body exceeds {backed['bound']}")
    said += [f"{backed['recounted']:,} recounted", f"{backed['seconds']:.3g} s"]
    parts = [
        clean(answer.question.title),
        "\n".join([*wrapped(answer.reason, width), *wrapped(sentence(said), width)]),
    ]
    parts += [details(answer.question, one.design, width, answer.layouts) for one in ranked]
    return "\n\n".join(parts)


def details(question: Smooth, design: SmoothDesign, width: int, laid: Sequence[LaidOut] = ()) -> str:
    """A body in full: what it comes to, what it compares with, its coefficients."""
    width = max(width, NARROWEST)
    beside = ", ".join(f"{name} {value:.3f}" for name, value in compared(design))
    told = [
        *lines(question, design),
        *laid_lines(question, design, laid),
        ("rise to leave", f"over the height at rest: {beside}"),
        ("coefficients", " ".join(map(decimal, design.coefficients))),
    ]
    body = "\n".join([f"{design.id}  {design.symmetry}, degree {design.degree}", *named_lines(told, width)])
    return "\n\n".join([body, *("\n".join(wrapped(one, width)) for one in cautions(question))])
