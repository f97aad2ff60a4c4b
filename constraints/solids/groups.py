"""Finite point groups as arrays of orthogonal matrices: the polyhedral ones, and the dihedral ones of any order.

Notation is Schoenflies's. The cyclic groups are left out: one orbit under them bounds no solid, or gives one that a
dihedral group gives too. Source: the classification of finite point groups, a classical result (from memory).
"""

from __future__ import annotations

import itertools
import math
import re
from functools import lru_cache

import numpy as np
from facewright.constraints.solids.expressions import PHI
from facewright.constraints.solids.tolerance import SAME
from numpy.typing import NDArray

Matrices = NDArray[np.float64]
"""Shape (order, 3, 3)."""

POLYHEDRAL = {"T": 12, "Td": 24, "Th": 24, "O": 24, "Oh": 48, "I": 60, "Ih": 120}
"""The groups of the tetrahedron, cube and icosahedron, with and without reflections, and their orders."""

_DIHEDRAL = re.compile(r"D([1-9][0-9]{0,3})([hd]?)")


@lru_cache(maxsize=256)
def point_group(name: str) -> Matrices:
    """The elements of a group, the identity first.

    The polyhedral groups have their twofold axes (T) or fourfold axes (O) along the coordinates, the icosahedral ones a
    fivefold axis along (0, 1, φ). The dihedral ones turn about z; Dn and Dnh have a twofold axis along x, Dnh and Dnd
    a mirror that holds x and z.

    Params:
        name: T, Td, Th, O, Oh, I, Ih, or D with a number from 2 up, alone or followed by h or d.
    Returns: the matrices, shape (order, 3, 3), not to be written to.
    Raises: ValueError for other names.

    Example:
        >>> len(point_group("Oh")), len(point_group("D5d"))
        (48, 20)
    """
    if name in POLYHEDRAL:
        matrices = _polyhedral(name)
    elif (dihedral := _DIHEDRAL.fullmatch(name)) and int(dihedral[1]) >= 2:
        matrices = _dihedral(int(dihedral[1]), dihedral[2])
    else:
        raise ValueError(f"group: found {name!r}; accepted: {', '.join(POLYHEDRAL)}, or such as D5, D5h, D5d")
    matrices.setflags(write=False)
    return matrices


def _dihedral(n: int, kind: str) -> Matrices:
    if kind == "d":
        second, third = np.diag([1.0, -1.0, 1.0]), _turn(math.pi / n) @ np.diag([1.0, 1.0, -1.0])
    else:
        second, third = np.diag([1.0, -1.0, -1.0]), np.diag([1.0, 1.0, -1.0])
    turns = np.stack([_turn(2 * math.pi * step / n) for step in range(n)])
    matrices = np.concatenate([turns, turns @ second])
    return np.concatenate([matrices, matrices @ third]) if kind else matrices


def _turn(angle: float) -> NDArray[np.float64]:
    """The rotation about z."""
    cos, sin = math.cos(angle), math.sin(angle)
    return np.array([[cos, -sin, 0.0], [sin, cos, 0.0], [0.0, 0.0, 1.0]])


def _polyhedral(name: str) -> Matrices:
    signed = []
    for order in itertools.permutations(range(3)):
        for signs in itertools.product((1.0, -1.0), repeat=3):
            matrix = np.zeros((3, 3))
            matrix[range(3), order] = signs
            even = order in ((0, 1, 2), (1, 2, 0), (2, 0, 1))
            signed.append((even, math.prod(signs) > 0, matrix))
    keep = {
        "T": [m for even, plus, m in signed if even and plus],
        "Th": [m for even, _, m in signed if even],
        "Td": [m for _, plus, m in signed if plus],
        "O": [m for even, plus, m in signed if even == plus],
        "Oh": [m for _, _, m in signed],
    }
    if name in keep:
        return np.stack(keep[name])
    # I: a fifth of a turn about (0, 1, φ), five cosets of T
    axis = np.array([0.0, 1.0, PHI]) / math.hypot(1, PHI)
    cross = np.cross(np.eye(3), -axis)
    fifth = np.eye(3) + math.sin(math.tau / 5) * cross + (1 - math.cos(math.tau / 5)) * cross @ cross
    powers = np.stack([np.linalg.matrix_power(fifth, step) for step in range(5)])
    rotations = (powers[:, None] @ np.stack(keep["T"])[None]).reshape(60, 3, 3)
    return rotations if name == "I" else np.concatenate([rotations, -rotations])


def schoenflies(matrices: Matrices) -> str:
    """The name of a point group from its elements, up to its position in space.

    Params:
        matrices: all elements, shape (order, 3, 3).
    Returns: a name that `point_group` knows. Groups without two axes (cyclic ones) give "C" and are no isohedron's.

    Example:
        >>> schoenflies(point_group("D5d")), schoenflies(point_group("Th"))
        ('D5d', 'Th')
    """
    proper = np.linalg.det(matrices) > 0
    traces = np.trace(matrices, axis1=1, axis2=2)
    rotations = int(proper.sum())
    turns = proper & (traces < 3 - SAME)
    finest = max((round(math.tau / math.acos(max(-1.0, (t - 1) / 2))) for t in traces[turns]), default=1)
    improper = len(matrices) > rotations
    inverted = bool(np.any(np.abs(traces + 3) < SAME))
    for letter, order, axis in (("I", 60, 5), ("O", 24, 4), ("T", 12, 3)):
        if (rotations, finest) == (order, axis):
            if not improper:
                return letter
            return letter + ("h" if inverted or letter != "T" else "d")
    n = rotations // 2
    if rotations % 2 or n < 2 or finest != max(n, 2):
        return "C"
    if not improper:
        return f"D{n}"
    # the mirror square to the main axis, times the half turn about it, is the inversion: only even n has that turn
    return f"D{n}h" if inverted == (n % 2 == 0) else f"D{n}d"
