"""FROZEN: a plain linear programme for the best smooth body, the yardstick of the benchmarks; it stays as it is.

Powers of xyz and x⁴+y⁴+z⁴ as unknowns; a dense grid of directions over a domain, 24 tangents each, both sides, all at
once. The solution is then rescaled to keep its radii on a finer grid. Nothing is proved, neither between the points nor
from above. It uses nothing of the program.
"""

from __future__ import annotations

import sys
import time

import numpy as np
from scipy.optimize import linprog

DIRECTIONS, CHECKED, TANGENTS = 48, 400, 24
"""Steps along a side of the domain in the programme (1,225 points) and in the check (80,601), tangents a point."""


def domain(steps: int) -> np.ndarray:
    """Directions over x ≥ y ≥ z ≥ 0, shape (n, 3)."""
    corners = np.array([[1, 0, 0], [1, 1, 0] / np.sqrt(2), [1, 1, 1] / np.sqrt(3)])
    shares = [(i, j, steps - i - j) for i in range(steps + 1) for j in range(steps + 1 - i)]
    points = np.array(shares) @ corners
    return points / np.linalg.norm(points, axis=1)[:, None]


def bent(u: np.ndarray, a: int, b: int) -> tuple[np.ndarray, np.ndarray]:
    """The matrix ∇²f + (1 − n)f of the power f = (xyz)ᵃ(x⁴+y⁴+z⁴)ᵇ, shape (n, 3, 3), and f."""
    x, y, z = u.T
    p, q = x * y * z, (u**4).sum(axis=1)
    dp, dq = np.stack([y * z, x * z, x * y], axis=1), 4 * u**3
    hp, hq = np.zeros((len(u), 3, 3)), np.zeros((len(u), 3, 3))
    for i, j, other in ((0, 1, z), (0, 2, y), (1, 2, x)):
        hp[:, i, j] = hp[:, j, i] = other
    for i in range(3):
        hq[:, i, i] = 12 * u[:, i] ** 2

    def power(base: np.ndarray, exponent: int) -> np.ndarray:
        return base**exponent if exponent >= 0 else np.zeros_like(base)

    def outer(one: np.ndarray, two: np.ndarray) -> np.ndarray:
        return one[:, :, None] * two[:, None, :]

    f = power(p, a) * power(q, b)
    whole = (a * (a - 1) * power(p, a - 2) * power(q, b))[:, None, None] * outer(dp, dp)
    whole += (a * power(p, a - 1) * power(q, b))[:, None, None] * hp
    whole += (a * b * power(p, a - 1) * power(q, b - 1))[:, None, None] * (outer(dp, dq) + outer(dq, dp))
    whole += (b * (b - 1) * power(p, a) * power(q, b - 2))[:, None, None] * outer(dq, dq)
    whole += (b * power(p, a) * power(q, b - 1))[:, None, None] * hq
    whole += ((1 - 3 * a - 4 * b) * f)[:, None, None] * np.eye(3)
    return whole, f


def frames(u: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Two unit tangents square to each other at each direction."""
    one = np.cross(u, [0.3, -0.5, 0.8])
    one /= np.linalg.norm(one, axis=1)[:, None]
    return one, np.cross(u, one)


def run(degree: int) -> tuple[float, float]:
    """The settling of the rescaled body of width 1 and least radius 0, or nan; and the seconds that took."""
    started = time.perf_counter()
    powers = [(a, b) for a in range(1, degree, 2) for b in range(degree) if 3 * a + 4 * b <= degree]
    u = domain(DIRECTIONS)
    one, two = frames(u)
    angles = np.pi * np.arange(TANGENTS) / TANGENTS
    columns = []
    for a, b in powers:
        whole, _ = bent(u, a, b)
        rows = []
        for angle in angles:
            t = np.cos(angle) * one + np.sin(angle) * two
            rows.append(np.einsum("ni,nij,nj->n", t, whole, t))
        columns.append(np.concatenate(rows))
    left = np.stack(columns, axis=1)
    tip = np.ones((1, 3)) / np.sqrt(3)
    goal = np.array([bent(tip, a, b)[1][0] for a, b in powers])
    scale = np.abs(left).max(axis=0)
    left, goal = left / scale, goal / scale
    done = linprog(
        -goal, A_ub=np.concatenate([left, -left]), b_ub=np.full(2 * len(left), 0.5), bounds=(None, None)
    )
    if done.x is None:
        return float("nan"), time.perf_counter() - started
    u = domain(CHECKED)
    one, two = frames(u)
    total = np.zeros((len(u), 3, 3))
    for factor, (a, b) in zip(done.x / scale, powers, strict=True):
        total += factor * bent(u, a, b)[0]
    ss, ee, se = (np.einsum("ni,nij,nj->n", s, total, t) for s, t in ((one, one), (two, two), (one, two)))
    most = (np.abs(ss + ee) / 2 + np.hypot((ss - ee) / 2, se)).max()
    return float(goal @ done.x) * 0.5 / most, time.perf_counter() - started


if __name__ == "__main__":
    print(*run(int(sys.argv[1])))
