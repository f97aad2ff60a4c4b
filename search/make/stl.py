"""STL, binary: the surface of a die as triangles; the file says nothing of units, and they are millimetres.

Every file is read back and judged before it counts as written. The same die gives the same bytes.
"""

from __future__ import annotations

import struct
from typing import TYPE_CHECKING

import numpy as np
from facewright.search.make.files import read_whole, write_whole
from facewright.search.make.mesh_check import MeshFault, MeshFinding, merged, require

if TYPE_CHECKING:
    from pathlib import Path

    from facewright.search.make.surface import Surface
    from numpy.typing import NDArray

HEAD = 80
"""Bytes of the heading."""

TRIANGLE = np.dtype([("normal", "<f4", (3,)), ("corners", "<f4", (3, 3)), ("spare", "<u2")])


def write_stl(die: Surface, path: Path, title: str = "") -> MeshFinding:
    """Writes a die as a binary STL file, reads it back and judges it.

    Params:
        die: the die, in millimetres.
        path: of the file; its folder is made where there is none.
        title: stands in the heading, as far as plain letters can say it.
    Returns: what the file holds.
    Raises: RunError where it cannot be written; MeshFault where the file does not hold one closed body of that volume.
    """
    corners = die.points[die.triangles].astype(np.float64)
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normals /= np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), np.finfo(np.float64).tiny)
    records = np.zeros(len(corners), dtype=TRIANGLE)
    records["normal"], records["corners"] = normals, corners
    # the heading must not begin with "solid", by which readers know the other form of the format
    head = f"facewright, mm: {title}".encode("ascii", "replace")[:HEAD].ljust(HEAD)
    write_whole(path, head + struct.pack("<I", len(records)) + records.tobytes())
    points, triangles = read_stl(path)
    return require(points, triangles, die.volume_mm3, str(path))


def read_stl(path: Path) -> tuple[NDArray[np.floating], NDArray[np.int64]]:
    """Points, shape (n, 3), and triangles, shape (m, 3), of a binary STL file; equal corners become one point.

    Raises: RunError where it cannot be read; MeshFault where its length does not fit the number of triangles it states.
    """
    content = read_whole(path)
    many = struct.unpack_from("<I", content, HEAD)[0] if len(content) >= HEAD + 4 else -1
    if len(content) != HEAD + 4 + many * TRIANGLE.itemsize:
        raise MeshFault(
            f"{path}: found {len(content)} bytes; a binary STL of {max(many, 0)} triangles has "
            f"{HEAD + 4 + max(many, 0) * TRIANGLE.itemsize}"
        )
    points, numbers = merged(
        np.frombuffer(content, dtype=TRIANGLE, offset=HEAD + 4)["corners"].reshape(-1, 3)
    )
    return points, numbers.reshape(-1, 3)
