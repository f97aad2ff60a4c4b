"""The sweep: labels decided one after the other from the least up; of all that may still come only the needs are kept.

At a label the faces that each die has used so far decide what any choice wins: die i gains, for each face that it
gives the label, as many outcomes as die j has smaller labels. So the future knows the past by the faces used and the
wins so far alone. `Needs` works backwards: for each label and each way of faces used, the least wins that still let
every duel be won often enough. Vectors that ask more than another are dropped (Pareto), which loses nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any

from facewright.search.engines.duels.frame import Frame, Used
from facewright.search.engines.duels.problem import Labels
from facewright.search.progress import Progress, silent
from facewright.search.stop import Stop, Stopped, never

if TYPE_CHECKING:
    import numpy as np

    Vectors = np.ndarray[Any, np.dtype[np.int64]]

MOST_PACKED = 2**62
"""Vectors of wins are packed into one 64-bit number each, so that equal ones can be found by sorting."""


class Needs:
    """For each label and faces used: the least wins so far with which every duel can still be won often enough.

    Args:
        frame: what the rules allow.
        wanted: the outcomes to be won in each duel.
        stop: asked whether to stop early; then Stopped is raised.
        report: told of the progress.
    """

    def __init__(
        self, frame: Frame, wanted: Sequence[int], stop: Stop = never, report: Progress = silent
    ) -> None:
        import numpy as np

        self.frame = frame
        self.wanted = tuple(wanted)
        last: dict[Used, Vectors] = {frame.faces: np.array([self.wanted], dtype=np.int64)}
        self.layers: list[dict[Used, Vectors]] = [last]
        for at in reversed(range(len(frame.labels))):
            report("labels swept", len(frame.labels) - at, len(frame.labels))
            self.layers.append(self._layer(at, self.layers[-1], stop))
        self.layers.reverse()

    @cached_property
    def possible(self) -> bool:
        """Whether there is any design."""
        return self.met(0, tuple(0 for _ in self.frame.faces), tuple(0 for _ in self.wanted))

    def met(self, at: int, used: Used, won: Sequence[int]) -> bool:
        """Whether a design can begin so."""
        needs = self.layers[at].get(used)
        return needs is not None and bool((needs <= won).all(axis=1).any())

    def designs(self) -> Iterator[Labels]:
        """Every design, those with many small labels first; no dead end is entered."""
        frame = self.frame
        dice = range(len(frame.faces))

        def follow(at: int, used: Used, won: tuple[int, ...], labels: Labels) -> Iterator[Labels]:
            if at == len(frame.labels):
                yield labels
                return
            for choice in frame.choices(at, used):
                then = tuple(used[die] + choice[die] for die in dice)
                more = tuple(had + gain for had, gain in zip(won, frame.gains(used, choice), strict=True))
                if self.met(at + 1, then, more):
                    grown = tuple(labels[die] + (frame.labels[at],) * choice[die] for die in dice)
                    yield from follow(at + 1, then, more, grown)

        if self.possible:
            none = tuple(0 for _ in dice)
            yield from follow(0, none, tuple(0 for _ in self.wanted), tuple(() for _ in dice))

    def _lost(self, used: Used, most: Sequence[int]) -> bool:
        """Whether some duel cannot be won any more: a face used wins against smaller labels alone."""
        faces = self.frame.faces
        arcs = self.frame.problem.arcs
        return any(
            won + (faces[one] - used[one]) * faces[other] < wanted
            for won, (one, other), wanted in zip(most, arcs, self.wanted, strict=True)
        )

    def _layer(self, at: int, after: dict[Used, Vectors], stop: Stop) -> dict[Used, Vectors]:
        import numpy as np

        layer: dict[Used, Vectors] = {}
        for used in self.frame.all_used(at):
            if (asked := stop()) is not None:
                raise Stopped(asked)
            most = self.frame.gains(used, used)
            if self._lost(used, most):
                continue
            parts = []
            for choice in self.frame.choices(at, used):
                then = tuple(map(sum, zip(used, choice, strict=True)))
                needs = after.get(then)
                if needs is None:
                    continue
                less: Vectors = np.maximum(
                    needs - np.array(self.frame.gains(used, choice), dtype=np.int64), 0
                )
                parts.append(less[(less <= most).all(axis=1)])
            # arrays of no rows are kept out
            if any(map(len, parts)):
                layer[used] = least(np.concatenate(parts), self.wanted)
        return layer


def least(vectors: Vectors, bounds: Sequence[int]) -> Vectors:
    """The vectors than which no other is less or equal everywhere, each once; entries lie between 0 and `bounds`."""
    import numpy as np

    if len(vectors) < 2:
        return vectors
    weights = [1]
    for bound in bounds[:-1]:
        weights.append(weights[-1] * (bound + 1))
    if weights[-1] * (bounds[-1] + 1) < MOST_PACKED:
        _, first = np.unique(vectors @ np.array(weights, dtype=np.int64), return_index=True)
        left = vectors[first]
    else:
        left = np.unique(vectors, axis=0)
    left = left[np.argsort(left.sum(axis=1), kind="stable")]
    kept = []
    while len(left):
        kept.append(left[:1])
        left = left[~(left >= left[0]).all(axis=1)]
    return np.concatenate(kept)
