"""A design and the set of dice that it is for."""

from __future__ import annotations

from typing import NamedTuple

from facewright.constraints.design import NumberingDesign


class Placed(NamedTuple):
    """A design of a set of dice: the position of the set, and the design."""

    set: int
    design: NumberingDesign
