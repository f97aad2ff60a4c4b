"""What a mesh is, judged from its triangles alone: closed, wound one way, in how many pieces, with how many handles."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from facewright.constraints.errors import FacewrightError
from facewright.search.make.mass import volume_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

VOLUME = 1e-5
"""Relative: the volume in a file may differ so much from that of the mesh, whose coordinates a file rounds."""


class MeshFault(FacewrightError):
    """A mesh, or a file of one, that is not the closed body that it should be."""

    exit_status = 1


@dataclass(frozen=True)
class MeshFinding:
    """What a mesh was found to be.

    `closed`: every edge belongs to just two triangles. `one_way`: they run along it in opposite directions, so that all
    triangles are seen counter-clockwise from the same side, and the volume is positive: from outside. `pieces` are
    those that share edges. `genus` is the number of handles, of all pieces together; None where the surface is not
    closed, or touches itself in a point.
    """

    closed: bool
    one_way: bool
    pieces: int
    genus: int | None
    volume_mm3: float


def look(points: NDArray[np.floating], triangles: NDArray[np.integer]) -> MeshFinding:
    """Judges a mesh.

    Params:
        points: shape (n, 3), in millimetres; no two equal.
        triangles: shape (m, 3), numbers of points.
    """
    volume = volume_of(points, triangles)
    start = np.asarray(triangles, dtype=np.int64).reshape(-1)
    end = np.roll(np.asarray(triangles, dtype=np.int64), -1, axis=1).reshape(-1)
    many = len(points)
    low, high = np.minimum(start, end), np.maximum(start, end)
    edges, uses = _counted(low * many + high)
    closed = bool((uses == 2).all()) and bool((start != end).all())
    one_way = len(_counted(start * many + end)[0]) == len(start) and volume > 0
    used = _counted(start)[0]
    pieces = _pieces(edges // many, edges % many, many, used)
    handles = 2 * pieces - (len(used) - len(edges) + len(triangles))
    whole = closed and handles >= 0 and handles % 2 == 0
    return MeshFinding(closed, closed and one_way, pieces, handles // 2 if whole else None, volume)


def require(
    points: NDArray[np.floating], triangles: NDArray[np.integer], volume_mm3: float, what: str, genus: int = 0
) -> MeshFinding:
    """Judges a mesh and refuses it unless it is one closed body with so many handles and that volume.

    Params:
        points, triangles: as for `look`.
        volume_mm3: what it must be, within `VOLUME`.
        what: whose mesh it is, such as the path of the file from which it was read.
        genus: how many handles the body has.
    Raises: MeshFault that says what was found and what was expected.
    """
    found = look(points, triangles)
    wrong = []
    if not found.closed:
        wrong.append("the surface has gaps, or edges at which more than two triangles meet")
    elif not found.one_way:
        wrong.append("its triangles are not all seen counter-clockwise from outside")
    if found.pieces != 1:
        wrong.append(f"it is in {found.pieces} pieces")
    if found.closed and found.genus != genus:
        touches = "its surface touches itself in a point"
        wrong.append(
            touches if found.genus is None else f"it has {found.genus} holes right through, expected {genus}"
        )
    if not abs(found.volume_mm3 - volume_mm3) <= VOLUME * volume_mm3:
        wrong.append(f"its volume is {found.volume_mm3:.3f} mm³, expected {volume_mm3:.3f} mm³")
    if wrong:
        raise MeshFault(f"{what}: not the closed body that it should be: {'; '.join(wrong)}")
    return found


def merged(points: NDArray[np.floating]) -> tuple[NDArray[np.floating], NDArray[np.int64]]:
    """Equal points made one: those that are left, shape (k, 3), in order, and for each point its number among them.

    Example:
        >>> merged(np.array([[1.0, 0, 0], [0, 0, 0], [1, 0, 0]]))[1].tolist()
        [1, 0, 1]
    """
    order = np.lexsort(points.T[::-1])
    rows = points[order]
    first = np.concatenate([[True], (rows[1:] != rows[:-1]).any(axis=1)])
    numbers = np.empty(len(points), dtype=np.int64)
    numbers[order] = np.cumsum(first) - 1
    return rows[first], numbers


def _pieces(a: NDArray[np.int64], b: NDArray[np.int64], many: int, used: NDArray[np.int64]) -> int:
    """How many pieces the points in use form when these pairs of them are joined."""
    piece = np.arange(many)
    while not np.array_equal(piece[a], piece[b]):
        least = np.minimum(piece[a], piece[b])
        # the numbers of pieces are numbers of points: a piece joins the one with the lower number, whole
        np.minimum.at(piece, piece[a].copy(), least)
        np.minimum.at(piece, piece[b].copy(), least)
        while not np.array_equal(piece, piece[piece]):
            piece = piece[piece]
    return len(set(piece[used].tolist()))


def _counted(numbers: NDArray[np.int64]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """The different numbers in order, and how often each stands there; by sorting, faster here than numpy's own."""
    ordered = np.sort(numbers)
    begins = np.flatnonzero(np.concatenate([[True], ordered[1:] != ordered[:-1]]))
    return ordered[begins], np.diff(np.append(begins, len(ordered)))
