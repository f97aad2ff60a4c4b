"""The solid whose faces stand for the rests of a smooth body, so that labels, layouts and readouts know where they are.

A body that rests on n sides about its tips has the same symmetry, rests and neighbours as a solid with flat faces: the
tetrahedron, or a log with n sides. The face below that solid is the side below the body, what is on top of it is the
tip. Its sites keep their names.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from facewright.constraints.solids.smooth.symmetries import SYMMETRIES

if TYPE_CHECKING:
    import numpy as np
    from facewright.constraints.solids.solid import Solid


def companion(symmetry: str) -> Solid:
    """The solid with the same rests as a body of a symmetry."""
    from facewright.constraints.solids import solid

    return solid(SYMMETRIES[symmetry].solid)


def turned(symmetry: str) -> np.ndarray:
    """The turn that takes directions of the solid to those of the body, a matrix of shape (3, 3)."""
    import numpy as np

    quarter = np.array([[0.0, -1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])
    return quarter if SYMMETRIES[symmetry].cubic else np.diag([-1.0, -1.0, 1.0])


def tips(symmetry: str) -> list[np.ndarray]:
    """The directions of all tips, shape (3,) each: that of the rest on the solid's first face first."""
    import numpy as np
    from facewright.constraints.solids.rests import outward

    body = companion(symmetry)
    normals, _ = outward(body.vertices, body.faces)
    turn = turned(symmetry)
    # rounding of the solid's coordinates is no rounding of the body's: tips are where the group has them
    exact = _exact(symmetry)
    near = [exact[int(np.argmax(exact @ -(turn @ normals[rest.below])))] for rest in body.rests]
    return [np.array(one) for one in near]


def _exact(symmetry: str) -> np.ndarray:
    """The directions of all tips, shape (tips, 3), in no order that matters."""
    import numpy as np

    group = SYMMETRIES[symmetry]
    if group.cubic:
        return np.array([[1.0, 1, 1], [1, -1, -1], [-1, 1, -1], [-1, -1, 1]]) / 3**0.5
    around = 2 * np.pi * np.arange(group.ways) / group.ways
    return np.stack([np.cos(around), np.sin(around), np.zeros(group.ways)], axis=1)


def site_direction(symmetry: str, site: str) -> np.ndarray:
    """The direction on the body, shape (3,), in which a site of the solid ("f1", "v2", "e3") lies.

    Raises: ValueError for a site that the solid does not have.
    """
    import numpy as np

    body = companion(symmetry)
    kind, number = site[:1], int(site[1:]) - 1
    corners: dict[str, tuple[tuple[int, ...], ...]] = {
        "f": body.faces,
        "e": body.edges,
        "v": tuple((one,) for one in range(len(body.vertices))),
    }
    if kind not in corners or not 0 <= number < len(corners[kind]):
        raise ValueError(f"site {site!r} of the {body.name}")
    middle = turned(symmetry) @ body.vertices[list(corners[kind][number])].mean(axis=0)
    return np.asarray(middle / np.linalg.norm(middle))
