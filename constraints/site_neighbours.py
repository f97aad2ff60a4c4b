"""Which sites of a solid lie side by side: faces, vertices or edges among themselves."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Solid

Pair = tuple[str, str]
"""The names of two sites, in the order of their numbers."""


@dataclass(frozen=True)
class Beside:
    """Pairs of sites of one kind: `close` ones lie side by side, `near` ones touch otherwise.

    Close are faces that share an edge, vertices that an edge joins, edges of one face that meet. Near are faces that
    share a vertex only, vertices of one face, edges that meet otherwise or belong to one face.
    """

    close: frozenset[Pair]
    near: frozenset[Pair]


def beside(solid: Solid) -> Beside:
    """The neighbouring sites of a solid.

    Example:
        >>> from facewright.constraints.solids import solid
        >>> cube = beside(solid("cube"))
        >>> len(cube.close), ("f1", "f2") in cube.close, ("v1", "v3") in cube.near
        (48, True, True)
    """
    round_faces = [list(zip(face, (*face[1:], face[0]), strict=True)) for face in solid.faces]
    number = {edge: at for at, edge in enumerate(solid.edges)}
    ring = [[number[min(a, b), max(a, b)] for a, b in sides] for sides in round_faces]
    close = {_pair("f", a, b) for a, b in solid.edge_faces}
    close |= {_pair("v", a, b) for a, b in solid.edges}
    close |= {_pair("e", a, b) for edges in ring for a, b in zip(edges, (*edges[1:], edges[0]), strict=True)}
    near = _within("f", solid.vertex_faces) | _within("v", solid.faces) | _within("e", ring)
    meeting = [[at for at, edge in enumerate(solid.edges) if v in edge] for v in range(len(solid.vertices))]
    near |= _within("e", meeting)
    return Beside(frozenset(close), frozenset(near - close))


def touching(where: Beside, marks: Iterable[Iterable[tuple[str, object]]]) -> tuple[int, int]:
    """How many pairs of sites with equal labels lie side by side, and how many touch otherwise.

    Params:
        where: the neighbouring sites.
        marks: for each readout the pairs (site, label).
    """
    close = near = 0
    for pairs in marks:
        for (site, label), (other, its) in combinations(pairs, 2):
            if label == its:
                pair = _named(site, other)
                close += pair in where.close
                near += pair in where.near
    return close, near


def _named(site: str, other: str) -> Pair:
    return (site, other) if int(site[1:]) < int(other[1:]) else (other, site)


def _pair(letter: str, one: int, other: int) -> Pair:
    low, high = min(one, other), max(one, other)
    return f"{letter}{low + 1}", f"{letter}{high + 1}"


def _within(letter: str, groups: Iterable[Iterable[int]]) -> set[Pair]:
    return {_pair(letter, a, b) for group in groups for a, b in combinations(group, 2)}
