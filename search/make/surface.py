"""What files of triangles need of a die, whatever its shape."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


class Surface(Protocol):
    """A closed surface in millimetres: points of shape (n, 3), triangles of shape (m, 3), seen from outside."""

    @property
    def name(self) -> str:
        """What it is called."""

    @property
    def points(self) -> NDArray[np.float32]:
        """The points, as files hold them."""

    @property
    def triangles(self) -> NDArray[np.int64]:
        """Numbers of points, counter-clockwise seen from outside."""

    @property
    def volume_mm3(self) -> float:
        """The volume within."""
