"""A solid with its sites, its symmetries and its rests: pure geometry, no labels."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Kind = Literal["faces", "vertices", "edges"]
KINDS: tuple[Kind, ...] = ("faces", "vertices", "edges")
"""The kinds of sites."""

LETTERS: Mapping[Kind, str] = {"faces": "f", "vertices": "v", "edges": "e"}
"""How the name of a site begins."""

Read = Literal["face above", "vertex above", "edge above", "face below"]
"""Where a solid is read."""


@dataclass(frozen=True, eq=False)
class Action:
    """A symmetry of a solid: where it takes each face, vertex and edge, and its matrix, shape (3, 3).

    `faces[i]` is the face to which face i goes; the same for vertices and edges. The matrix acts on column vectors.
    """

    faces: tuple[int, ...]
    vertices: tuple[int, ...]
    edges: tuple[int, ...]
    matrix: NDArray[np.float64]

    def on(self, kind: Kind) -> tuple[int, ...]:
        """The permutation of one kind of sites."""
        return self.faces if kind == "faces" else self.vertices if kind == "vertices" else self.edges


@dataclass(frozen=True)
class Rest:
    """One way in which a solid comes to lie still.

    `below` is the face on which it lies, `read` where it is read, `on_top` the number of the face, vertex or edge on
    top that is read (None where the face below is read). `shows` gives the numbers of the sites seen, kind by kind.
    Lengths are in inradii: `margin` from the point under the centre of mass to the nearest edge of the face below,
    `settle` the least rise of the centre of mass that tips the solid over an edge.
    """

    below: int
    read: Read
    on_top: int | None
    shows: Mapping[Kind, tuple[int, ...]]
    margin: float
    settle: float


@dataclass(frozen=True, eq=False)
class Solid:
    """A die's shape, a convex body with its sites, symmetries and rests.

    `vertices` has shape (V, 3): coordinates with the centre of mass at the origin and inradius 1. `faces` are vertex
    numbers, counter-clockwise seen from outside; `edges` pairs of vertex numbers, sorted. Numbers begin at 0 here; the
    names of sites (f1, v1, e1, …) begin at 1. Faces that are rests come before faces that are not. `symmetry` holds all
    symmetries, `rotations` the proper ones, the identity first in both. `shape` gives the free proportions by name.
    """

    name: str
    vertices: NDArray[np.float64]
    faces: tuple[tuple[int, ...], ...]
    edges: tuple[tuple[int, int], ...]
    symmetry: tuple[Action, ...]
    rotations: tuple[Action, ...]
    rests: tuple[Rest, ...]
    point_group: str
    shape: Mapping[str, float] = field(default_factory=dict)

    @property
    def read(self) -> Read:
        """Where this solid is read, the same for every rest."""
        return self.rests[0].read

    @cached_property
    def neighbours(self) -> tuple[tuple[int, ...], ...]:
        """For each face the faces beyond its edges, in the order of its edges."""
        beyond = {}
        for number, face in enumerate(self.faces):
            for a, b in zip(face, (*face[1:], face[0]), strict=True):
                beyond[b, a] = number
        return tuple(
            tuple(beyond[a, b] for a, b in zip(face, (*face[1:], face[0]), strict=True))
            for face in self.faces
        )

    @cached_property
    def face_edges(self) -> tuple[tuple[int, ...], ...]:
        """For each face the numbers of its edges, the one from its first corner to the next first."""
        numbers = {edge: number for number, edge in enumerate(self.edges)}
        return tuple(
            tuple(numbers[min(a, b), max(a, b)] for a, b in zip(face, (*face[1:], face[0]), strict=True))
            for face in self.faces
        )

    @cached_property
    def edge_faces(self) -> tuple[tuple[int, int], ...]:
        """For each edge its two faces, sorted."""
        found: dict[tuple[int, int], list[int]] = {edge: [] for edge in self.edges}
        for number, face in enumerate(self.faces):
            for a, b in zip(face, (*face[1:], face[0]), strict=True):
                found[min(a, b), max(a, b)].append(number)
        return tuple((found[edge][0], found[edge][1]) for edge in self.edges)

    @cached_property
    def vertex_faces(self) -> tuple[tuple[int, ...], ...]:
        """For each vertex the faces that meet there, sorted."""
        return tuple(
            tuple(number for number, face in enumerate(self.faces) if vertex in face)
            for vertex in range(len(self.vertices))
        )

    @cached_property
    def orbits(self) -> Mapping[Kind, tuple[tuple[int, ...], ...]]:
        """For each kind of sites its orbits under the rotations, each sorted, by least site."""
        return {kind: orbits(action.on(kind) for action in self.rotations) for kind in KINDS}

    @cached_property
    def opposite(self) -> tuple[int | None, ...]:
        """For each face the number of the opposite parallel face; None where there is none."""
        from facewright.constraints.solids.rests import opposite_faces

        return opposite_faces(self.vertices, self.faces)

    @cached_property
    def fair(self) -> bool:
        """Whether the symmetries carry any rest to any other, so that all come up equally often."""
        return len({action.faces[self.rests[0].below] for action in self.symmetry}) == len(self.rests)

    @property
    def warning(self) -> str:
        """What a maker should know before choosing this solid; empty where there is nothing to say."""
        from facewright.constraints.solids.rests import warning

        return warning(self.rests)

    def sites(self, kind: Kind) -> tuple[str, ...]:
        """The names of all sites of one kind, in order.

        Example:
            >>> from facewright.constraints.solids import solid
            >>> solid("tetrahedron").sites("faces")
            ('f1', 'f2', 'f3', 'f4')
        """
        many = len(self.faces if kind == "faces" else self.vertices if kind == "vertices" else self.edges)
        return tuple(f"{LETTERS[kind]}{number}" for number in range(1, many + 1))


def orbits(permutations: Iterable[tuple[int, ...]]) -> tuple[tuple[int, ...], ...]:
    """The orbits of a group of permutations, given all its elements; each sorted, by least member.

    Example:
        >>> orbits([(0, 1, 2), (1, 0, 2)])
        ((0, 1), (2,))
    """
    together = {tuple(sorted(set(images))) for images in zip(*permutations, strict=True)}
    return tuple(sorted(together))
