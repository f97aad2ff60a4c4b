"""Listing the ways to reach the top of a lattice with dice of several kinds, each way once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from facewright.search.engines.splitting.lattice import Bag, Lattice, Multisets
from facewright.search.stop import Stop

ASK_EVERY = 4_096
"""Steps between two questions whether to stop."""


class Listing:
    """Walks through all ways; `stopped` holds the reason where it ended early."""

    def __init__(
        self, lattice: Lattice, bags: Sequence[Bag], sizes: Sequence[int], known: Multisets, stop: Stop
    ) -> None:
        self.lattice = lattice
        self.stopped: str | None = None
        self._stop = stop
        self._known = known
        self._steps = 0
        self._keys = [sorted(bag) for bag in bags]
        self._places = [{key: place for place, key in enumerate(keys)} for keys in self._keys]
        self._slots = [kind for kind, size in enumerate(sizes) for _ in range(size)]

    def __iter__(self) -> Iterator[tuple[int, ...]]:
        """Each way as one packed choice a die, in the order of the kinds; within a kind ascending."""
        if self._slots:
            yield from self._from(0, self.lattice.top, 0, ())
        elif self.lattice.top == 0:
            yield ()

    def _from(self, slot: int, left: int, first: int, chosen: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
        kind = self._slots[slot]
        keys = self._keys[kind]
        if slot == len(self._slots) - 1:
            place = self._places[kind].get(left)
            if place is not None and place >= first:
                # a way can cost its taker far more than a step costs here: asked for each
                self.stopped = self.stopped or self._stop()
                if not self.stopped:
                    yield (*chosen, left)
            return
        goal = self._goal(slot + 1)
        for place in range(first, len(keys)):
            self._steps += 1
            if self._steps % ASK_EVERY == 0:
                self.stopped = self.stopped or self._stop()
            if self.stopped:
                return
            rest = left - keys[place]
            if rest < 0:
                return
            if (goal is not None and rest not in goal) or not self.lattice.adds(keys[place], rest):
                continue
            following = place if self._slots[slot + 1] == kind else 0
            yield from self._from(slot + 1, rest, following, (*chosen, keys[place]))

    def _goal(self, slot: int) -> dict[int, int] | None:
        """What must be left for the dice from this slot on, where that is known."""
        kind = self._slots[slot]
        dice = len(self._slots) - slot
        if self._slots[-1] != kind:
            return None
        return self._places[kind] if dice == 1 else self._known.known_sums(kind, dice)
