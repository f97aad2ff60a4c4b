"""A face as a flat drawing: its own frame in space, and its outline within it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from facewright.constraints.solids.solid import Solid
    from numpy.typing import NDArray


@dataclass(frozen=True, eq=False)
class FaceFrame:
    """The plane of a face, seen from outside; lengths in inradii.

    `origin` is the foot of the centre of mass on the plane, `across` and `up` are unit vectors in it (x and y of a
    drawing), `normal` points outwards: `across` × `up` = `normal`; all of shape (3,). `polygon` has shape (n, 2): the
    corners in the order of the face, counter-clockwise.
    """

    face: int
    origin: NDArray[np.float64]
    across: NDArray[np.float64]
    up: NDArray[np.float64]
    normal: NDArray[np.float64]
    polygon: NDArray[np.float64]

    def in_space(self, points: NDArray[np.float64], height: float = 0.0) -> NDArray[np.float64]:
        """Points of the drawing, shape (n, 2), as points in space, shape (n, 3), raised by `height` inradii."""
        x, y = points[:, :1], points[:, 1:]
        lifted: NDArray[np.float64] = self.origin + x * self.across + y * self.up + height * self.normal
        return lifted

    def in_face(self, points: NDArray[np.float64]) -> NDArray[np.float64]:
        """Points in space, shape (n, 3), dropped onto the drawing, shape (n, 2)."""
        import numpy as np

        flat: NDArray[np.float64] = (points - self.origin) @ np.stack([self.across, self.up], axis=1)
        return flat


@lru_cache(maxsize=8192)
def face_frame(solid: Solid, face: int, base: int = 0) -> FaceFrame:
    """The frame of a face that stands upright on one of its edges; each is worked out once, its arrays are read-only.

    Params:
        solid: the solid.
        face: the number of the face, from 0.
        base: the number of the edge at the foot of the drawing: from corner `base` of the face to the next.

    Example:
        >>> from facewright.constraints.solids import solid
        >>> face_frame(solid("cube"), 0).polygon.round(6).tolist()
        [[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]]
    """
    import numpy as np

    corners = solid.vertices[list(solid.faces[face])]
    across = corners[(base + 1) % len(corners)] - corners[base]
    across = across / np.linalg.norm(across)
    normal = np.cross(corners[1] - corners[0], corners[2] - corners[0])
    normal = normal / np.linalg.norm(normal)
    up = np.cross(normal, across)
    origin = normal * float(normal @ corners[0])
    polygon = (corners - origin) @ np.stack([across, up], axis=1)
    for array in (origin, across, up, normal, polygon):
        array.setflags(write=False)
    return FaceFrame(face, origin, across, up, normal, polygon)
