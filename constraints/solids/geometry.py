"""A solid as plain values: what other programs, tables and pages need of it."""

from __future__ import annotations

from typing import Any

from facewright.constraints.solids.names import other_names
from facewright.constraints.solids.solid import KINDS, LETTERS, Solid

DIGITS = 12
"""Decimals of coordinates in JSON, in inradii."""


def about(solid: Solid) -> dict[str, Any]:
    """What a table says of a solid, without its geometry.

    `faces`, `vertices`, `edges`, `rests`, `symmetry` and `rotations` are counts; `opposite` says whether every rest has
    an opposite parallel face, `settles` how far, in inradii, the centre of mass must rise before the solid tips.
    """
    return {
        "name": solid.name,
        "also": list(other_names(solid.name)),
        "rests": len(solid.rests),
        "faces": len(solid.faces),
        "vertices": len(solid.vertices),
        "edges": len(solid.edges),
        "point_group": solid.point_group,
        "symmetry": len(solid.symmetry),
        "rotations": len(solid.rotations),
        "fair": solid.fair,
        "opposite": all(solid.opposite[rest.below] is not None for rest in solid.rests),
        "read": solid.read,
        "margin": round(min(rest.margin for rest in solid.rests), 6),
        "settles": round(min(rest.settle for rest in solid.rests), 6),
        "warning": solid.warning,
        "shape": {name: float(number) for name, number in solid.shape.items()},
    }


def geometry(solid: Solid) -> dict[str, Any]:
    """A solid's geometry, ready for JSON, from which another program can recount every answer about it.

    `vertices` are coordinates (inradius 1, the centre of mass at the origin), `faces` and `edges` vertex numbers from
    0, faces counter-clockwise seen from outside; `symmetry` and `rotations` the orders of the two groups. The sites
    f1, v1, e1 … stand in the order of the lists. Each rest has the face `below`, the site `on_top` that is read (null
    where the face below is read) and the names of all sites that it `shows`.

    Example:
        >>> from facewright.constraints.solids import solid
        >>> geometry(solid("tetrahedron"))["rests"][0]
        {'below': 'f1', 'on_top': 'v4', 'shows': ['f2', 'f3', 'f4', 'v4', 'e3', 'e5', 'e6']}
    """
    kind = solid.read.partition(" ")[0]
    return {
        **about(solid),
        "numbers_from": 0,
        "vertices": [[round(float(x), DIGITS) + 0.0 for x in vertex] for vertex in solid.vertices],
        "faces": [list(face) for face in solid.faces],
        "edges": [list(edge) for edge in solid.edges],
        "neighbours": [[f"f{number + 1}" for number in row] for row in solid.neighbours],
        "rests": [
            {
                "below": f"f{rest.below + 1}",
                "on_top": None if rest.on_top is None else f"{kind[0]}{rest.on_top + 1}",
                "shows": [f"{LETTERS[one]}{number + 1}" for one in KINDS for number in rest.shows[one]],
            }
            for rest in solid.rests
        ],
    }
