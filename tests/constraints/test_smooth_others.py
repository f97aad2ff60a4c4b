"""Symmetries of smooth bodies that are not offered: how far their tips could reach, over the whole sphere."""

from __future__ import annotations

from itertools import permutations, product
from math import asin, degrees, sin, sqrt

import numpy as np
import pytest
from scipy.spatial.transform import Rotation


def cube_turns() -> np.ndarray:
    """The 24 turns of a cube, shape (24, 3, 3)."""
    found = [
        np.eye(3)[list(order)] * np.array(signs)[:, None]
        for order in permutations(range(3))
        for signs in product((1, -1), repeat=3)
    ]
    return np.array([one for one in found if np.linalg.det(one) > 0])


def icosahedron_turns() -> np.ndarray:
    """The 60 turns of an icosahedron, shape (60, 3, 3)."""
    return np.array(Rotation.create_group("I").as_matrix())


def antiprism_moves() -> np.ndarray:
    """The 16 moves of a square antiprism, shape (16, 3, 3): of a turn by 45° with a reflection, and of a mirror."""
    eighth = Rotation.from_euler("z", 45, degrees=True).as_matrix() @ np.diag([1.0, 1, -1])
    powers = [np.linalg.matrix_power(eighth, k) for k in range(8)]
    return np.array([one @ mirror for one in powers for mirror in (np.eye(3), np.diag([1.0, -1, 1]))])


def least_spread(moves: np.ndarray, within: float) -> tuple[float, float]:
    """The least, over all directions v, of the greatest distance between v and an image: two bounds, so far apart.

    A patch of the sphere is a square on a face of a cube. A direction changes by no more than half the square's
    diagonal within it, and the distance by twice that. Patches that may go lower are parted into four.
    """
    # a move and its inverse make one distance; so do a direction and its opposite
    halved = [
        one for at, one in enumerate(moves) if not any(np.allclose(one.T, other) for other in moves[:at])
    ]
    best = 2.0
    for turn in range(3):
        middle, along, across = np.roll(np.eye(3), turn, axis=0)
        at, half = np.zeros((1, 2)), 1.0
        while len(at):
            v = middle + at[:, :1] * along + at[:, 1:] * across
            v /= np.linalg.norm(v, axis=1)[:, None]
            spread = np.max([np.linalg.norm(v @ one.T - v, axis=1) for one in halved], axis=0)
            best = min(best, float(spread.min()))
            at = at[spread - 2 * sqrt(2) * half < best - within]
            half /= 2
            steps = half * np.array([[i, j] for i in (-1, 1) for j in (-1, 1)])
            at = (at[:, None] + steps).reshape(-1, 2)
    return best - within, best


@pytest.mark.parametrize(
    ("moves", "many", "angle", "bound"),
    [
        (cube_turns(), 24, 155.1, 0.0121),
        (icosahedron_turns(), 60, 164.9, 0.0044),
        (antiprism_moves(), 16, 138.1, 0.0354),
    ],
    ids=["cube", "icosahedron", "antiprism"],
)
def test_no_tip_reaches_far(moves: np.ndarray, many: int, angle: float, bound: float) -> None:
    assert len(np.unique(moves.round(9), axis=0)) == many
    low, high = least_spread(moves, 5e-5)
    assert 2 * degrees(asin(high / 2)) == pytest.approx(angle, abs=0.06)
    # two tips no farther apart than the width: (1/2 + settling)·spread <= 1
    assert 0 < 1 / high - 0.5 <= 1 / low - 0.5 <= bound
    assert 1 / high - 0.5 > bound - 1e-4


@pytest.mark.parametrize(
    ("moves", "least"), [(cube_turns(), 9), (icosahedron_turns(), 15)], ids=["cube", "icosahedron"]
)
def test_from_which_degree_there_are_odd_harmonics(moves: np.ndarray, least: int) -> None:
    """The mean of the characters of degree n, sin((2n + 1)·t/2)/sin(t/2) for a turn by t (any text on groups)."""
    turns = np.arccos(np.clip((np.trace(moves, axis1=1, axis2=2) - 1) / 2, -1, 1))

    def kept(degree: int) -> int:
        shares = [
            2 * degree + 1 if turn < 1e-6 else sin((2 * degree + 1) * turn / 2) / sin(turn / 2)
            for turn in turns
        ]
        return round(sum(shares) / len(turns))

    assert [degree for degree in range(1, least + 1, 2) if kept(degree)] == [least]


@pytest.mark.parametrize("moves", [cube_turns(), icosahedron_turns()], ids=["cube", "icosahedron"])
def test_every_axis_is_turned_round(moves: np.ndarray) -> None:
    for turn in moves:
        if np.allclose(turn, np.eye(3)):
            continue
        values, vectors = np.linalg.eig(turn)
        axis = np.real(vectors[:, int(np.argmin(np.abs(values - 1)))])
        assert np.isclose(moves @ axis, -axis, atol=1e-9).all(axis=1).any()
