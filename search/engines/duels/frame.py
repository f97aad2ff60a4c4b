"""What label rules allow, label by label from the least up: the frame of a sweep."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from math import comb, prod

from facewright.search.engines.duels.problem import Problem

Used = tuple[int, ...]
"""How many faces of each die carry a label already."""


class Frame:
    """The labels that may stand on some die, rising, and for each how often it may stand on each die."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.faces = tuple(die.faces for die in problem.dice)
        allowed = [set(die.exactly or die.rules.allowed()) for die in problem.dice]
        self.labels = sorted(set.union(*allowed))
        self.range: list[list[tuple[int, int]]] = []
        for label in self.labels:
            here = []
            for die, may in zip(problem.dice, allowed, strict=True):
                if die.exactly is not None:
                    often = die.exactly.count(label)
                    here.append((often, often))
                else:
                    most = min(die.rules.repeats or die.faces, die.faces)
                    here.append((0, most if label in may else 0))
            self.range.append(here)
        # how many faces the labels from each one on can still fill
        self.room = [tuple(0 for _ in self.faces)]
        for here in reversed(self.range):
            self.room.append(tuple(left + most for left, (_, most) in zip(self.room[-1], here, strict=True)))
        self.room.reverse()

    def steps(self) -> int:
        """About how many choices a sweep looks at."""
        if self.problem.once:
            return len(self.faces) * prod(faces + 1 for faces in self.faces)
        if self.problem.owned:
            ways = prod(faces + 1 for faces in self.faces) * (1 + sum(self.faces) // 2)
        else:
            ways = prod(comb(faces + 2, 2) for faces in self.faces)
        return ways * len(self.labels)

    def usable(self, at: int, used: Used) -> bool:
        """Whether the labels from `at` on can fill what is left."""
        if self.problem.once and sum(used) != at:
            return False
        return all(
            done <= faces <= done + room
            for done, faces, room in zip(used, self.faces, self.room[at], strict=True)
        )

    def choices(self, at: int, used: Used) -> Iterator[Used]:
        """How many faces of each die may take a label, many first."""
        spans = [
            range(min(high, faces - done), low - 1, -1)
            for (low, high), done, faces in zip(self.range[at], used, self.faces, strict=True)
        ]
        if not all(spans):
            return
        if not self.problem.owned:
            yield from product(*spans)
            return
        dice = range(len(spans))
        for die, span in enumerate(spans):
            if all(other[-1] == 0 for place, other in enumerate(spans) if place != die):
                for often in span:
                    if often and (often == 1 or not self.problem.once):
                        yield tuple(often if other == die else 0 for other in dice)
        if not self.problem.once and all(span[-1] == 0 for span in spans):
            yield tuple(0 for _ in dice)

    def all_used(self, at: int) -> Iterator[Used]:
        """Every way in which faces may be used before a label."""
        for used in product(*(range(faces + 1) for faces in self.faces)):
            if self.usable(at, used):
                yield used

    def gains(self, used: Used, choice: Used) -> list[int]:
        """What a choice wins in each duel."""
        return [choice[one] * used[other] for one, other in self.problem.arcs]
