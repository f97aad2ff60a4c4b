"""Flaws in fixed directions: guards in a linear form, for engines that try very many layouts.

Along one direction a flaw moves the chance of each face by one number. A layout's shift along it is half the sum,
over the results, of the absolute values of sums of these numbers; the greatest over many directions is nearly the
worst of all (`flaws.shift`), and never above it. In whole numbers the same goes into a model for a solver.
"""

from __future__ import annotations

import numpy as np
from facewright.constraints.flaws import Vectors, moved
from facewright.constraints.layout import Draw
from facewright.constraints.solids.solid import Solid
from numpy.typing import NDArray

MANY = 256
"""How many directions: no line is farther than about 7° from one of them, so that little of a shift is missed."""


def half_sphere(many: int = MANY) -> Vectors:
    """Unit vectors spread over half the sphere, shape (many, 3): even heights, each turned by the golden angle."""
    steps = np.arange(many)
    height, turn = (steps + 0.5) / many, steps * np.pi * (3 - 5**0.5)
    across = np.sqrt(1 - height**2)
    return np.stack([across * np.cos(turn), across * np.sin(turn), height], axis=1)


def probes(goal: str, solid: Solid, draw: Draw | None, many: int = MANY) -> Vectors:
    """How a flaw of unit size moves the chance of what stands on each face, direction by direction.

    Params:
        goal: one of `guards.GUARDS`.
        draw: the direction of the mould, for long-along-draw.
        many: how many directions; long-along-draw has one.
    Returns: shape (labelled faces, directions).
    Raises: UsageError as `flaws.moved`.
    """
    rows = moved(goal, solid, draw)
    if rows.shape[1] == 1:
        return rows
    directions = half_sphere(many)
    if goal == "out-of-round":
        x, y, z = directions.T
        mixed = 2**0.5 * np.stack([y * z, x * z, x * y])
        directions = np.concatenate([np.stack([x, y, z]) ** 2, mixed]).T
    found: Vectors = rows @ directions.T
    return found


def in_whole_numbers(probed: Vectors, unit: float) -> NDArray[np.int64]:
    """Probes as whole numbers of `unit`, each rounded to the nearest: off by half a unit at most.

    Half the sum over N faces is then off by at most N/4 units, whatever the layout.
    """
    return np.rint(probed / unit).astype(np.int64)
