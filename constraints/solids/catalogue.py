"""Builds the solids of `catalogue.toml`."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from facewright.constraints.solids.assembly import assemble
from facewright.constraints.solids.groups import point_group
from facewright.constraints.solids.names import solid_named
from facewright.constraints.solids.orbit import orbit, polar_dual
from facewright.constraints.solids.solid import Solid

_SEEDS = {
    "cube": ("Oh", (0, 0, 1)),
    "tetrahedron": ("Td", (1, 1, 1)),
    "octahedron": ("Oh", (1, 1, 1)),
    "rhombic dodecahedron": ("Oh", (1, 1, 0)),
    "tetrakis hexahedron": ("Oh", (0, 1, 2)),
}


def build(name: str, shape: str | float | Sequence[float] = "largest-numeral") -> Solid:
    """A solid by any of its names."""
    return _built(solid_named(name)[0])


@lru_cache(maxsize=512)
def _built(name: str) -> Solid:
    group, seed = _SEEDS[name]
    return assemble(name, *polar_dual(orbit(point_group(group), np.array(seed, dtype=float))))
