"""Several boxes on one face, none over another: the smallest as large as can be, then the next, each in its own room.

Two boxes lie apart if and only if a line along a side of one of them parts them (separating axes). With such a line
chosen for each pair, places and sizes are a linear programme; after each solution every pair may choose the line that
now parts it most clearly, which never makes the least box smaller. So the result is a partition of the face into
convex rooms, found from the places that the boxes would like: fair, though it need not be the best of all partitions.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from facewright.constraints.solids.boxes import Floats, sides_of
from facewright.constraints.solids.programme import minimum

ROUNDS = 12
"""How often the parting lines may be chosen anew; three or four are usual."""

GAIN = 1e-7
"""A solution counts as larger only by more than this share."""

CLEARLY = 1.02
"""Another start counts only where it leads to a least size larger by this: the first one looks best."""

SAFE = 1 - 1e-6
"""Sizes are taken so much smaller than the solver's, so that its rounding lets no two boxes touch."""


@dataclass(frozen=True)
class Wish:
    """A box that asks for room on a face; lengths in inradii, in the frame of the face.

    `wide` and `high` are its width and height at size 1. `angle` turns it counter-clockwise from the frame's `across`,
    in radians. `near` is where its middle would like to be. All boxes of one `group` get one size. `held` keeps its
    middle within half-planes: (x, y, limit) stands for x·cx + y·cy ≤ limit.
    """

    wide: float
    high: float
    angle: float
    near: tuple[float, float]
    group: int = 0
    held: tuple[tuple[float, float, float], ...] = ()

    def reach(self, direction: Floats) -> float:
        """How far the box of size 1 reaches from its middle in a direction (a unit vector, shape (2,))."""
        cos, sin = math.cos(self.angle), math.sin(self.angle)
        along, up = direction[0] * cos + direction[1] * sin, direction[1] * cos - direction[0] * sin
        return float(self.wide * abs(along) + self.high * abs(up)) / 2

    @property
    def axes(self) -> tuple[Floats, Floats]:
        """The two directions of its sides."""
        cos, sin = math.cos(self.angle), math.sin(self.angle)
        return np.array([cos, sin]), np.array([-sin, cos])


@dataclass(frozen=True)
class Room:
    """What a wish got: where the middle of its box stands, and the size of the box."""

    centre: tuple[float, float]
    size: float


Start = Sequence[tuple[float, float]]
"""A point a box, in order, from which the first parting lines are chosen."""


def share(polygon: Floats, wishes: Sequence[Wish], starts: Sequence[Start] = ()) -> tuple[Room, ...]:
    """Shares a face among boxes.

    Params:
        polygon: the face, convex, counter-clockwise, shape (n, 2).
        wishes: the boxes.
        starts: places of the boxes to start from, each tried, the first preferred; without any, where they would
            like to be.
    Returns: a room for each, in order. The least size of a group is as large as the parting lines allow, then the
        next least, and so on; with these sizes the middles lie as near as they can to where they would like to be.
        Sizes of 0 where the wishes contradict each other.
    """
    task = _Task(polygon, wishes)
    best, least = None, 0.0
    for start in starts or [[wish.near for wish in wishes]]:
        lines, reached = task.improved([np.array(point) for point in start])
        if reached > least * (CLEARLY if least else 1):
            best, least = lines, reached
    if best is None:
        return tuple(Room(wish.near, 0.0) for wish in wishes)
    sizes = task.fair(best) * SAFE
    centres = task.settle(best, sizes)
    return tuple(
        Room((float(centre[0]), float(centre[1])), float(sizes[wish.group]))
        for wish, centre in zip(wishes, centres, strict=True)
    )


class _Task:
    """The linear programmes of one face: the middles of the boxes, then the sizes of their groups, as variables."""

    def __init__(self, polygon: Floats, wishes: Sequence[Wish]) -> None:
        self.wishes = wishes
        self.groups = 1 + max(wish.group for wish in wishes)
        self.pairs = list(itertools.combinations(range(len(wishes)), 2))
        self.many = 2 * len(wishes) + self.groups
        normals, rooms = sides_of(polygon)
        self.rows: list[Floats] = []
        self.limits: list[float] = []
        for place, wish in enumerate(wishes):
            for normal, room in zip(normals, rooms, strict=True):
                self._within(place, normal, wish.reach(normal), float(room))
            for x, y, limit in wish.held:
                self._within(place, np.array([x, y]), 0.0, limit)

    def _within(self, place: int, normal: Floats, reach: float, limit: float) -> None:
        row = np.zeros(self.many)
        row[2 * place : 2 * place + 2] = normal
        row[2 * len(self.wishes) + self.wishes[place].group] = reach
        self.rows.append(row)
        self.limits.append(limit)

    def improved(self, centres: Sequence[Floats]) -> tuple[list[Floats] | None, float]:
        """The parting lines to which a start leads, and the least size that they allow; None and 0 where it fails."""
        best, least = None, 0.0
        lines = self.lines(centres)
        for _ in range(ROUNDS):
            solved = self.solve(lines)
            if solved is None or solved[1] <= least * (1 + GAIN):
                break
            best, least = lines, solved[1]
            lines = self.lines(list(solved[0]), least)
        return best, least

    def lines(self, centres: Sequence[Floats], size: float | None = None) -> list[Floats]:
        """For each pair the direction from the one to the other across the line that parts them most clearly."""
        chosen = []
        for a, b in self.pairs:
            away = centres[b] - centres[a]
            far = float(np.linalg.norm(away))
            straight = away / far if far else np.array([1.0, 0.0])
            if size is None:
                chosen.append(straight)
                continue
            one, other = self.wishes[a], self.wishes[b]
            tried = [sign * axis for axis in (*one.axes, *other.axes) for sign in (1, -1)]
            gaps = [float(n @ away) - size * (one.reach(n) + other.reach(n)) for n in tried]
            chosen.append(tried[int(np.argmax(gaps))])
        return chosen

    def solve(self, lines: Sequence[Floats]) -> tuple[Floats, float] | None:
        """The middles, shape (boxes, 2), where the least size is largest, and that size; None where there is none."""
        # one size for all: the least, since every other may be as small
        rows, limits = self._programme(lines)
        one = np.concatenate(
            [rows[:, : -self.groups], rows[:, -self.groups :].sum(axis=1, keepdims=True)], axis=1
        )
        goal = np.zeros(one.shape[1])
        goal[-1] = -1
        found = _floored(goal, one, limits, [(one.shape[1] - 1, 0.0)])
        if found is None or found[-1] <= 0:
            return None
        return found[:-1].reshape(-1, 2), float(found[-1])

    def fair(self, lines: Sequence[Floats]) -> Floats:
        """The sizes of the groups: the least as large as can be, then the next, and so on."""
        rows, limits = self._programme(lines)
        start = 2 * len(self.wishes)
        floors = np.zeros(self.groups)
        open_groups = set(range(self.groups))
        while open_groups:
            # the size that all open groups can have, as one more variable
            wider = np.concatenate([rows, np.zeros((len(rows), 1))], axis=1)
            above = np.zeros((len(open_groups), self.many + 1))
            for row, group in zip(above, sorted(open_groups), strict=True):
                row[start + group], row[-1] = -1, 1
            held = [*((start + group, float(floor)) for group, floor in enumerate(floors)), (self.many, 0.0)]
            goal = np.zeros(self.many + 1)
            goal[-1] = -1
            found = _floored(goal, np.concatenate([wider, above]), [*limits, *[0.0] * len(above)], held)
            if found is None:
                break
            level = float(found[-1]) * SAFE
            for group in open_groups:
                floors[group] = max(floors[group], level)
            stuck = {
                group for group in open_groups if self._most(rows, limits, floors, group) <= level * 1.0001
            }
            open_groups -= stuck or open_groups
        return floors

    def _most(self, rows: Floats, limits: Sequence[float], floors: Floats, group: int) -> float:
        """The largest size that a group can have while no group falls below its floor."""
        start = 2 * len(self.wishes)
        goal = np.zeros(self.many)
        goal[start + group] = -1
        found = _floored(goal, rows, limits, [(start + at, float(floor)) for at, floor in enumerate(floors)])
        return float(floors[group]) if found is None else float(found[start + group])

    def settle(self, lines: Sequence[Floats], sizes: Floats) -> Floats:
        """The middles as near as they can be to where they would like to be (the sum of their coordinates' offsets)."""
        rows, limits = self._programme(lines)
        start = 2 * len(self.wishes)
        left = np.array(limits) - rows[:, start:] @ sizes
        wanted = np.array([wish.near for wish in self.wishes]).ravel()
        turn = np.zeros((start, start))
        for place, wish in enumerate(self.wishes):
            turn[2 * place : 2 * place + 2, 2 * place : 2 * place + 2] = np.stack(wish.axes)
        # offsets along and across each box, each at least its own size: |turn · (centre − wanted)| ≤ offset
        eye = np.eye(start)
        block = np.block(
            [[rows[:, :start], np.zeros((len(rows), start))], [turn, -eye], [-turn, -eye]],
        )
        goal = np.concatenate([np.zeros(start), np.ones(start)])
        asked = [*left, *(turn @ wanted), *(-turn @ wanted)]
        found = minimum(goal, block, np.array(asked))
        assert found is not None, "sizes of a solution have middles"
        return found[:start].reshape(-1, 2)

    def _programme(self, lines: Sequence[Floats]) -> tuple[Floats, list[float]]:
        """All rows and their limits, with the lines that part the pairs."""
        rows = list(self.rows)
        for (a, b), normal in zip(self.pairs, lines, strict=True):
            row = np.zeros(self.many)
            row[2 * a : 2 * a + 2], row[2 * b : 2 * b + 2] = normal, -normal
            for place in (a, b):
                group = self.wishes[place].group
                row[2 * len(self.wishes) + group] += self.wishes[place].reach(normal)
            rows.append(row)
        return np.array(rows), [*self.limits, *[0.0] * len(self.pairs)]


def _floored(
    goal: Floats, rows: Floats, limits: Sequence[float], floors: Sequence[tuple[int, float]]
) -> Floats | None:
    """The point at which a goal is least, with some of its coordinates at least so large; None where there is none."""
    extra = np.zeros((len(floors), len(goal)))
    extra[np.arange(len(floors)), [place for place, _ in floors]] = -1
    return minimum(goal, np.concatenate([rows, extra]), np.array([*limits, *(-floor for _, floor in floors)]))
