"""The faces of a solid that carry labels, and how they lie to one another: what a layout is judged by."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from facewright.constraints.layout import Draw, Layout
    from facewright.constraints.solids.solid import Action, Solid

T = TypeVar("T")

Pair = tuple[int, int]
"""Two faces, the lower number first."""

Permutation = tuple[int, ...]
"""Face → the face to which a symmetry takes it."""


@dataclass(frozen=True)
class FaceMap:
    """The labelled faces of a solid, numbered from 0: its rests, which come first among its faces.

    `opposite` are the pairs of opposite parallel faces, `edges` the pairs that share an edge, `corners` those that
    touch at a vertex only. `vertices` has for each vertex the labelled faces that meet there; vertices with fewer
    than two are left out. `turns` are the symmetries that join layouts, `mirrors` those that turn them into their
    mirror image: empty where the solid itself has a left and a right form.
    """

    solid: str
    faces: int
    opposite: tuple[Pair, ...]
    edges: tuple[Pair, ...]
    corners: tuple[Pair, ...]
    vertices: tuple[tuple[int, ...], ...]
    turns: tuple[Permutation, ...]
    mirrors: tuple[Permutation, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the faces, f1 and on."""
        return tuple(f"f{number}" for number in range(1, self.faces + 1))

    @property
    def degrees(self) -> tuple[int, ...]:
        """The numbers of labelled faces that meet at a vertex, rising, each once."""
        return tuple(sorted({len(meeting) for meeting in self.vertices}))


def face_map(solid: Solid, keeps: Callable[[Action], bool] = lambda _action: True) -> FaceMap:
    """How the labelled faces of a solid lie.

    Params:
        solid: the solid.
        keeps: which of its symmetries count: all, or those that leave something else in place too.

    Example:
        >>> from facewright.constraints.solids import solid
        >>> cube = face_map(solid("cube"))
        >>> len(cube.opposite), len(cube.edges), len(cube.corners), len(cube.turns), cube.degrees
        (3, 12, 0, 24, (3,))
    """
    many = len(solid.rests)
    beside = {pair for pair in solid.edge_faces if max(pair) < many}
    meeting = tuple(tuple(face for face in faces if face < many) for faces in solid.vertex_faces)
    touching = {pair for faces in meeting for pair in combinations(faces, 2)}
    pairs = {
        (face, other)
        for face, other in enumerate(solid.opposite[:many])
        if other is not None and face < other < many
    }
    proper = {id(action) for action in solid.rotations}
    return FaceMap(
        solid=solid.name,
        faces=many,
        opposite=tuple(sorted(pairs)),
        edges=tuple(sorted(beside)),
        corners=tuple(sorted(touching - beside)),
        vertices=tuple(faces for faces in meeting if len(faces) > 1),
        turns=_on_faces((one for one in solid.rotations if keeps(one)), many),
        mirrors=_on_faces((one for one in solid.symmetry if id(one) not in proper and keeps(one)), many),
    )


def _on_faces(actions: Iterable[Action], many: int) -> tuple[Permutation, ...]:
    """What symmetries do to the labelled faces, each permutation once."""
    return tuple(sorted({tuple(int(face) for face in action.faces[:many]) for action in actions}))


def map_of(question: Layout) -> FaceMap:
    """The faces on which a question lays its labels, with the symmetries that keep all that it asks for.

    Where the mould's direction matters to a goal, only symmetries that keep its line count.
    """
    return _mapped(
        question.solid, question.shape, question.draw if "long-along-draw" in question.goals else None
    )


@lru_cache(maxsize=64)
def _mapped(name: str, shape: str | float | tuple[float, ...], draw: Draw | None) -> FaceMap:
    from facewright.constraints.guards import draw_axis
    from facewright.constraints.solids import solid
    from facewright.constraints.solids.tolerance import SAME

    body = solid(name, shape)
    if draw is None:
        return face_map(body)
    axis = draw_axis(body, draw)
    return face_map(body, lambda action: bool(abs(abs(float(axis @ (action.matrix @ axis))) - 1) < SAME))


def orbit_size(labels: tuple[Any, ...], group: tuple[Permutation, ...]) -> int:
    """How many different layouts a group of permutations makes of one."""
    return len({moved(labels, one) for one in group})


def moved(labels: tuple[T, ...], by: Permutation) -> tuple[T, ...]:
    """The labels after a symmetry: what stood on face i stands on face by[i]."""
    there = list(labels)
    for face, label in enumerate(labels):
        there[by[face]] = label
    return tuple(there)
