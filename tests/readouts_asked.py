"""Questions of readouts in short, and their answers, for several test modules."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from facewright.constraints.readouts import Readout, Readouts
from facewright.constraints.readouts_design import ReadoutsDesign
from facewright.search.answer import Closing
from facewright.search.engines.readouts import Marking
from facewright.search.progress import silent
from facewright.search.stop import Stop, never

NAMES = ("wind", "rain", "harvest", "tide", "catch", "guests")


def asked(solid: str, *sizes: int | Sequence[int], on: Sequence[str | None] = (), **rules: Any) -> Readouts:
    """A question: a size stands for so many equally likely labels, a list for weights."""
    places = [*on, *[None] * len(sizes)]
    weights = [(1,) * one if isinstance(one, int) else tuple(one) for one in sizes]
    readouts = tuple(
        Readout.of(name, tuple(range(1, len(one) + 1)), one, place)
        for name, one, place in zip(NAMES, weights, places, strict=False)
    )
    return Readouts(readouts, (solid,), title="asked", **rules)


def answered(
    question: Readouts, limit: int = 1, *, stop: Stop = never, alone: bool = False
) -> tuple[list[ReadoutsDesign], Closing]:
    """The designs and the closing of the engine; `alone` also names solids that would be exact."""
    answering = Marking().answer(question, limit, stop, 0, silent, alone=alone)
    return list(answering), answering.closing
