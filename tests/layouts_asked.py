"""Questions of layouts in short, and their answers, for several test modules."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from facewright.constraints.layout import Layout
from facewright.constraints.layout_design import LayoutDesign
from facewright.constraints.readouts import Label
from facewright.search.answer import Closing
from facewright.search.engines.layout import Laying
from facewright.search.progress import silent
from facewright.search.stop import Stop, never


def asked(name: str, labels: Iterable[Label], *goals: str, **rules: Any) -> Layout:
    """A question about the labels of a solid."""
    return Layout(name, tuple(labels), goals, title="asked", **rules)


def answered(
    question: Layout, limit: int = 1, *, stop: Stop = never, seed: int = 0
) -> tuple[list[LayoutDesign], Closing]:
    """The designs and the closing of the engine."""
    answering = Laying().answer(question, limit, stop, seed, silent)
    return list(answering), answering.closing
