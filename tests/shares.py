"""The share of all directions that each face takes up, by a formula that the program does not use."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

CENTRE = np.zeros(3)


def shares(
    vertices: NDArray[np.float64], faces: Sequence[Sequence[int]], eye: NDArray[np.float64] = CENTRE
) -> NDArray[np.float64]:
    """The shares seen from `eye`: the solid angles over 4π of the triangles that a face falls into, added.

    Source: A. van Oosterom and J. Strackee, "The solid angle of a plane triangle", IEEE Transactions on Biomedical
    Engineering 30 (1983) 125–126, equation 8 (from memory).
    """
    found = []
    for face in faces:
        a, *rest = vertices[list(face)] - eye
        angle = 0.0
        for b, c in pairwise(rest):
            x, y, z = (float(np.linalg.norm(v)) for v in (a, b, c))
            below = x * y * z + (a @ b) * z + (a @ c) * y + (b @ c) * x
            angle += 2 * math.atan2(float(np.linalg.det(np.stack([a, b, c]))), float(below))
        found.append(angle / (4 * math.pi))
    return np.array(found)
