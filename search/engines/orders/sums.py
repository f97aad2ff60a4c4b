"""Paths through a layered graph whose weights add up to a wanted vector: found from both ends, joined in the middle."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Protocol

from facewright.search.progress import Progress, silent
from facewright.search.stop import Stop, Stopped, never

if TYPE_CHECKING:
    import numpy as np

    Table = np.ndarray[Any, np.dtype[Any]]
    States = dict[Any, tuple[Table, Table]]

MOST_STATES = 2_000_000
"""How many states (node, sum so far) one layer may have."""

MOST_SAMPLED = 250_000_000
"""How many numbers the states of all layers of a sample may hold: 2 GB."""


class TooMany(Exception):
    """A search that would take more memory than is given to it."""


@dataclass(frozen=True)
class Edge:
    """A step to a node of the next layer: what is chosen, and what it adds; no entry is negative."""

    to: Hashable
    choice: int
    weight: tuple[int, ...]


class Layer(Protocol):
    """One layer of steps."""

    def leaving(self, node: Any) -> Sequence[Edge]:
        """The edges from a node."""

    def before(self, nodes: Iterable[Any]) -> Iterable[Any]:
        """The nodes with an edge to one of these, in a fixed order, and perhaps others."""


@dataclass(frozen=True)
class Drawn:
    """A layer given by the edges of each of its nodes."""

    edges: Mapping[Any, Sequence[Edge]]

    def leaving(self, node: Any) -> Sequence[Edge]:
        """The edges from a node."""
        return self.edges.get(node, ())

    def before(self, nodes: Iterable[Any]) -> Iterable[Any]:
        """All nodes of the layer."""
        return self.edges


class Sums:
    """All paths from `first` to `last` whose weights add up to `wanted`.

    A layer's states are its nodes with the sums that can be reached there, each once, with the number of ways to reach
    it; sums that pass what is wanted are dropped. The first half of the layers is worked out from the start, the other
    from the end, and the halves fit where their sums add up.

    Args:
        layers: the steps.
        first, last: the node before the first and after the last layer.
        wanted: the sum.
        stop: asked whether to stop early; then Stopped is raised.
        report: told of the progress.
        seed: of the sample that is followed where a layer has more than `MOST_STATES` states; without a seed TooMany is
            raised instead.

    `whole` says whether every state was followed; if not, there may be other paths.
    """

    def __init__(
        self,
        layers: Sequence[Layer],
        first: Hashable,
        last: Hashable,
        wanted: Sequence[int],
        stop: Stop = never,
        report: Progress = silent,
        seed: int | None = None,
    ) -> None:
        import numpy as np

        self.layers = layers
        self.whole = True
        self._random = None if seed is None else np.random.default_rng(seed)
        self._wanted = np.array(wanted, dtype=np.int64)
        self._middle = len(layers) // 2
        start = np.zeros((1, len(wanted)), dtype=np.int64), np.ones(1, dtype=np.int64)
        self._ahead: list[States] = [{first: start}]
        for at in range(self._middle):
            report("steps", at, len(layers))
            states, layer = self._ahead[-1], layers[at]
            steps = ((node, edge.to, edge.weight) for node in sorted(states) for edge in layer.leaving(node))
            self._ahead.append(self._sampled(_grown(states, steps, self._wanted, stop)))
        self._back: list[States] = [{last: start}]
        for at in reversed(range(self._middle, len(layers))):
            report("steps", self._middle + len(layers) - at, len(layers))
            states, layer = self._back[-1], layers[at]
            sources = layer.before(states)
            steps = ((edge.to, node, edge.weight) for node in sources for edge in layer.leaving(node))
            self._back.append(self._sampled(_grown(states, steps, self._wanted, stop)))
        self._back.reverse()
        self._joints = list(self._joined())

    def count(self) -> int:
        """The number of paths."""
        return sum(there * back for _, _, there, back in self._joints)

    def paths(self) -> Iterator[tuple[int, ...]]:
        """The choices of every path."""
        for node, there, _, _ in self._joints:
            ends = list(self._forwards(self._middle, node, self._wanted - there))
            for start in self._backwards(self._middle, node, there):
                for end in ends:
                    yield start + end

    def _sampled(self, states: States) -> States:
        """The states, or so many of them taken at random as a layer may have."""
        size = sum(len(ways) for _, ways in states.values())
        most = MOST_STATES
        if self._random is not None:
            most = min(most, max(1, MOST_SAMPLED // (len(self.layers) * (len(self._wanted) + 1))))
        if size <= most:
            return states
        if self._random is None:
            raise TooMany
        self.whole = False
        sample = {}
        for node, (sums, ways) in states.items():
            kept = self._random.random(len(ways)) * size < most
            sample[node] = (sums[kept], ways[kept])
        return sample

    def _joined(self) -> Iterator[tuple[Hashable, Table, int, int]]:
        """Each node of the middle with a sum that both halves complete, and in how many ways each does."""
        import numpy as np

        for node, (sums, ways) in self._ahead[-1].items():
            if node not in self._back[0]:
                continue
            ends, more = self._back[0][node]
            keys, others = _keys(np.concatenate([sums, self._wanted - ends])), len(sums)
            _, mine, theirs = np.intersect1d(keys[:others], keys[others:], return_indices=True)
            for one, other in zip(mine, theirs, strict=True):
                yield node, sums[one], int(ways[one]), int(more[other])

    def _backwards(self, at: int, node: Hashable, so_far: Table) -> Iterator[tuple[int, ...]]:
        if at == 0:
            yield ()
            return
        for before, (sums, _) in self._ahead[at - 1].items():
            for edge in self.layers[at - 1].leaving(before):
                if edge.to == node and _holds(sums, so_far - edge.weight):
                    for start in self._backwards(at - 1, before, so_far - edge.weight):
                        yield (*start, edge.choice)

    def _forwards(self, at: int, node: Hashable, left: Table) -> Iterator[tuple[int, ...]]:
        if at == len(self.layers):
            yield ()
            return
        for edge in self.layers[at].leaving(node):
            then = self._back[at + 1 - self._middle].get(edge.to)
            if then is not None and _holds(then[0], left - edge.weight):
                for end in self._forwards(at + 1, edge.to, left - edge.weight):
                    yield (edge.choice, *end)


def _grown(
    states: States,
    steps: Iterable[tuple[Any, Any, tuple[int, ...]]],
    wanted: Table,
    stop: Stop,
) -> States:
    """The states of the next layer."""
    import numpy as np

    parts: dict[Hashable, list[tuple[Table, Table]]] = {}
    for node, to, weight in steps:
        if (asked := stop()) is not None:
            raise Stopped(asked)
        if node in states:
            sums, ways = states[node]
            more = sums + np.array(weight, dtype=np.int64)
            fit = (more <= wanted).all(axis=1)
            if fit.any():
                parts.setdefault(to, []).append((more[fit], ways[fit]))
    return {to: _merged(found) for to, found in parts.items()}


def _merged(parts: Sequence[tuple[Table, Table]]) -> tuple[Table, Table]:
    import numpy as np

    sums = np.concatenate([one for one, _ in parts])
    ways = np.concatenate([one for _, one in parts])
    _, first, place = np.unique(_keys(sums), return_index=True, return_inverse=True)
    total = np.zeros(len(first), dtype=np.int64)
    np.add.at(total, place, ways)
    return sums[first], total


def _keys(vectors: Table) -> Table:
    """One value a vector, equal where the vectors are: its bytes."""
    import numpy as np

    rows = np.ascontiguousarray(vectors)
    return rows.view(np.dtype((np.void, rows.dtype.itemsize * rows.shape[1]))).ravel()


def _holds(sums: Table, one: Table) -> bool:
    return bool((sums == one).all(axis=1).any())
