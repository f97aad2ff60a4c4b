"""Where the linear programme looks: a grid of directions, the curvature of every harmonic there, and cutting planes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import ceil, cos, pi, sin, sqrt
from typing import NamedTuple

import numpy as np
from facewright.constraints.solids.smooth.harmonics import Harmonic, basis
from facewright.constraints.solids.smooth.legendre import normalised
from facewright.constraints.solids.smooth.symmetries import SYMMETRIES

FINE = 5e-4
"""By how much a body can be more curved between the points of the grid than on them, as a share."""
APART = 0.3
"""Radians over the degree: cutting planes of one round stand that far apart at least."""
FIRST = 0.5
"""Radians over the degree: how far apart the first cutting planes stand."""
WAY = 4
"""So many points for each degree stand on the meridian from tip to pole."""
FALL = 16
NEAR = 1e-6
"""How near to 1 the cosine of their colatitude comes."""
EDGE = 1e-9
"""Radians by which a point at the edge of the domain is kept off it."""


class Cut(NamedTuple):
    """Half-spaces of coefficients: sign·q(direction, tangent) ≤ ½. Each array has shape (cuts,), angles in radians.

    `turn` is the angle of the tangent from south to east.
    """

    colatitude: np.ndarray
    longitude: np.ndarray
    turn: np.ndarray
    sign: np.ndarray

    def joined(self, other: Cut) -> Cut:
        """These and then those."""
        return Cut(*(np.concatenate(pair) for pair in zip(self, other, strict=True)))

    def picked(self, which: np.ndarray) -> Cut:
        """Some of them."""
        return Cut(*(one[which] for one in self))


class Bent(NamedTuple):
    """The curvature of a body on the grid, each of shape (rows, columns); see `Field`."""

    ss: np.ndarray
    ee: np.ndarray
    se: np.ndarray
    most: np.ndarray


@dataclass(frozen=True)
class Grid:
    """The grid for bodies of a symmetry up to a degree.

    A coefficient is counted in units in which (n − 1)(n + 2) of a harmonic of degree n is 1, since that is how much
    it bends; `steps` has these numbers.
    """

    symmetry: str
    degree: int

    @cached_property
    def harmonics(self) -> tuple[Harmonic, ...]:
        """The harmonics, in the order of their coefficients."""
        return basis(self.symmetry, self.degree)

    @cached_property
    def steps(self) -> np.ndarray:
        """What each coefficient is divided by, shape (harmonics,)."""
        return np.array([(one.degree - 1) * (one.degree + 2) for one in self.harmonics], dtype=float)

    @cached_property
    def orders(self) -> tuple[int, ...]:
        """The orders m that occur."""
        return tuple(sorted({order for one in self.harmonics for order, _ in one.terms}))

    @cached_property
    def angles(self) -> tuple[np.ndarray, np.ndarray]:
        """The colatitudes of the rows and the longitudes of the columns, edges of the domain included."""
        group = SYMMETRIES[self.symmetry]
        tops, rights = group.corner
        theta, phi = _middles(tops, self.side), _middles(rights, self.side)
        theta = np.append(theta, tops - EDGE)
        phi = np.concatenate([[0.0], phi, [rights]])
        if group.cubic:
            theta = theta[np.sin(theta) * sin(rights) >= np.cos(theta) - self.side]
        return theta, phi

    @cached_property
    def side(self) -> float:
        """How far apart rows and columns stand, in radians."""
        return 2 * sqrt(FINE) / self.degree

    @cached_property
    def inside(self) -> np.ndarray:
        """Which points count, shape (rows, columns): those of the domain, and a little beyond."""
        theta, phi = self.angles
        if not SYMMETRIES[self.symmetry].cubic:
            return np.ones((len(theta), len(phi)), dtype=bool)
        found: np.ndarray = np.outer(np.sin(theta), np.sin(phi)) >= np.cos(theta)[:, None] - self.side
        return found

    @cached_property
    def _pairs(self) -> tuple[tuple[int, int], ...]:
        """Every order with every degree that goes with it."""
        return tuple((m, n) for m in self.orders for n in range(m | 1, self.degree + 1, 2))

    @cached_property
    def _mixing(self) -> np.ndarray:
        """The share of each harmonic of mean square 1 in each element of the basis, shape (harmonics, pairs)."""
        place = {pair: at for at, pair in enumerate(self._pairs)}
        found = np.zeros((len(self.harmonics), len(self._pairs)))
        for row, one in enumerate(self.harmonics):
            for order, factor in one.normalised:
                found[row, place[order, one.degree]] = factor / self.steps[row]
        return found

    def _tables(self, theta: np.ndarray) -> np.ndarray:
        """What ss, ee and se of each pair owe to the colatitude, shape (3, pairs, n)."""
        z, s = np.cos(theta), np.sin(theta)
        parts: list[list[np.ndarray]] = [[], [], []]
        for m in self.orders:
            _, value, slope, bend = normalised(theta, self.degree, m)
            parts[0].append(bend + value)
            parts[1].append(z / s * slope + (1 - (m / s) ** 2) * value)
            parts[2].append(m / s * (slope - z / s * value))
        return np.array([np.concatenate(part) for part in parts])

    def _waves(self, phi: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """What a value and what its slope eastwards owe to the longitude, each of shape (orders, n)."""
        angle = np.outer(self.orders, phi)
        return (
            (np.sin(angle), np.cos(angle))
            if SYMMETRIES[self.symmetry].sine
            else (np.cos(angle), -np.sin(angle))
        )

    @cached_property
    def _kept(self) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
        theta, phi = self.angles
        place = np.array([self.orders.index(m) for m, _ in self._pairs])
        return self._tables(theta), *self._waves(phi), place

    def bent(self, x: np.ndarray) -> Bent:
        """The curvature of the body with these coefficients, shape (harmonics,), on the whole grid."""
        tables, along, across, place = self._kept
        shares = x @ self._mixing
        rows = np.zeros((3, len(self.orders), tables.shape[2]))
        for at in range(len(self.orders)):
            mine = place == at
            rows[:, at] = np.einsum("p,kpn->kn", shares[mine], tables[:, mine])
        ss, ee, se = rows[0].T @ along, rows[1].T @ along, rows[2].T @ across
        most = np.abs(ss + ee) / 2 + np.hypot((ss - ee) / 2, se)
        return Bent(ss, ee, se, np.where(self.inside, most, 0.0))

    def rows(self, cut: Cut) -> np.ndarray:
        """The left sides of half-spaces as rows of a linear programme, shape (cuts, harmonics)."""
        place = self._kept[3]
        along, across = (wave[place] for wave in self._waves(cut.longitude))
        ss, ee, se = self._tables(np.clip(cut.colatitude, EDGE, pi - EDGE))
        c, s = np.cos(cut.turn), np.sin(cut.turn)
        q = c * c * ss * along + s * s * ee * along + 2 * s * c * se * across
        found: np.ndarray = (self._mixing @ q).T * cut.sign[:, None]
        return found

    def first_cuts(self) -> Cut:
        """Half-spaces on a coarse grid, in four tangents, from both sides: they bound every coefficient."""
        theta, phi = self.angles
        step = max(1, int(FIRST / self.degree / self.side))
        i, j = np.nonzero(self.inside[::step, ::step])
        turns = np.repeat(np.arange(4) * pi / 4, len(i))
        one = Cut(np.tile(theta[i * step], 4), np.tile(phi[j * step], 4), turns, np.ones(len(turns)))
        return one.joined(one._replace(sign=-one.sign))

    def cuts_at(self, bent: Bent, above: float) -> Cut:
        """Half-spaces that a body breaks: the worst point of each small square, where it exceeds a value."""
        theta, phi = self.angles
        size = max(1, int(APART / self.degree / self.side))
        rows, columns = bent.most.shape
        high, wide = ceil(rows / size), ceil(columns / size)
        padded = np.zeros((high * size, wide * size))
        padded[:rows, :columns] = bent.most
        squares = (
            padded.reshape(high, size, wide, size).transpose(0, 2, 1, 3).reshape(high, wide, size * size)
        )
        worst = squares.argmax(axis=2)
        at, to = np.nonzero(squares.max(axis=2) > above)
        i, j = at * size + worst[at, to] // size, to * size + worst[at, to] % size
        ss, ee, se = bent.ss[i, j], bent.ee[i, j], bent.se[i, j]
        sign = np.where(ss + ee < 0, -1.0, 1.0)
        turn = np.arctan2(2 * se, ss - ee) / 2 + np.where(sign < 0, pi / 2, 0.0)
        return Cut(theta[i], phi[j], turn, sign)

    def tip_values(self) -> np.ndarray:
        """The value of each harmonic at the tip, shape (harmonics,)."""
        found: np.ndarray = self._on_meridian(np.array([SYMMETRIES[self.symmetry].tip[0]]))[0]
        return found

    def way_rows(self) -> np.ndarray:
        """Values of the harmonics on the meridian from the tip to the pole, over sinᵐθ, shape (points, harmonics).

        Where f is above 0 on it, the lowest way between rests is known; see `way_is_half`.
        """
        group = SYMMETRIES[self.symmetry]
        z = np.linspace(cos(group.tip[0]), 1 - NEAR, WAY * self.degree)
        theta = np.arccos(z)
        found: np.ndarray = self._on_meridian(theta) / np.sin(theta)[:, None] ** group.order
        return found

    def fall_rows(self) -> np.ndarray:
        """What is above 0 all over the domain where a body with its rests around has no others; see `rests_alone`.

        Shape (points, harmonics): how f falls in longitude, and how it rises to the tip on its meridian, each over what
        is 0 at the edges. None for tetrahedral bodies, whose best ones rest nowhere else anyway.
        """
        group = SYMMETRIES[self.symmetry]
        n = group.order
        if group.cubic:
            return np.empty((0, len(self.harmonics)))
        theta = np.arccos(np.linspace(NEAR, 1 - NEAR, WAY * self.degree))
        tables = [normalised(theta, self.degree, m) for m in self.orders]
        across = WAY * self.degree // n
        rows = []
        for phi in (np.arange(across) + 0.5) * group.corner[1] / across:
            waves = [m * sin(m * phi) / sin(n * phi) for m in self.orders]
            values = [table[1] * wave for table, wave in zip(tables, waves, strict=True)]
            rows.append((self._mixing @ np.concatenate(values)).T / np.sin(theta)[:, None] ** n)
        theta = np.arccos(np.linspace(NEAR, 1 - NEAR, FALL * self.degree))
        slopes = np.concatenate([normalised(theta, self.degree, m)[2] for m in self.orders])
        rows.append((self._mixing @ slopes).T / (np.sin(theta) ** (n - 1) * np.cos(theta))[:, None])
        return np.concatenate(rows)

    def _on_meridian(self, theta: np.ndarray) -> np.ndarray:
        longitude = SYMMETRIES[self.symmetry].tip[1]
        parts = []
        for m in self.orders:
            wave = sin(m * longitude) if SYMMETRIES[self.symmetry].sine else cos(m * longitude)
            parts.append(normalised(theta, self.degree, m)[1] * wave)
        found: np.ndarray = (self._mixing @ np.concatenate(parts)).T
        return found


def _middles(length: float, side: float) -> np.ndarray:
    many = ceil(length / side)
    found: np.ndarray = (np.arange(many) + 0.5) * (length / many)
    return found
