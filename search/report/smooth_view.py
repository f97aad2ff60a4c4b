"""What the view to turn needs of a smooth body: its surface, its numerals on it, how it lies."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from facewright.constraints.solids.smooth.mesh import surface
from facewright.search.report.shell import script_json

if TYPE_CHECKING:
    import numpy as np
    from facewright.constraints.readouts import Label
    from facewright.constraints.solids.smooth.body import SmoothBody
    from facewright.search.make.smooth_numerals import Numeral

HALVINGS = 4
DECIMALS = 4
"""Of coordinates, in widths."""


def smooth_data(
    body: SmoothBody, carried: Sequence[Mapping[str, Label]] = (), names: Sequence[str] = ()
) -> dict[str, Any]:
    """A body for the page, its arrays flat.

    Params:
        body: the body.
        carried: for each readout its sites with their labels; nothing for the numbers of the tips.
        names: of the readouts.
    Returns: `points`, `normals` and `triangles`; `numerals`, each a text, its normal and closed rings; `tips`, for each
        rest the direction of the tip on top, and `reads`, what is read there.
    """
    from facewright.search.make.smooth_numerals import numerals, readings

    told = readings(body.symmetry, carried, names)

    points, triangles, normals = surface(body, HALVINGS)
    return {
        "points": _flat(points),
        "normals": _flat(normals),
        "triangles": triangles.ravel().tolist(),
        "numerals": [
            {
                "text": one.text,
                "normal": _flat(one.normal),
                "rings": [_flat(ring) for ring in _rings(body, one)],
            }
            for one in numerals(body, carried)
        ],
        "tips": [_flat(one.tip) for one in told],
        "reads": [one.text for one in told],
    }


def smooth_view(
    body: SmoothBody, name: str, carried: Sequence[Mapping[str, Label]] = (), names: Sequence[str] = ()
) -> Any:
    """The view as a part of a page, hidden until scripts run. Returns: Markup."""
    from markupsafe import Markup

    return Markup(
        '<figure class="view-figure smooth-view" data-smooth="{name}" hidden><div class="view-holder"></div>'
        '<script type="application/json">{data}</script></figure>'
    ).format(name=name, data=Markup(script_json(smooth_data(body, carried, names))))


def _rings(body: SmoothBody, one: Numeral) -> list[np.ndarray]:
    """The outlines of a numeral bent onto the surface, to second order; shape (n, 3) each."""
    import numpy as np
    from facewright.constraints.solids.smooth.body import HALF, angles

    theta, phi = (float(angle[0]) for angle in angles(one.normal[None]))
    field = body.field(np.array([theta]), np.array([phi]))
    south = np.array([np.cos(theta) * np.cos(phi), np.cos(theta) * np.sin(phi), -np.sin(theta)])
    east = np.array([-np.sin(phi), np.cos(phi), 0.0])
    frame = np.stack([south, east])
    radii = HALF * np.eye(2) + np.array([[field.ss[0], field.se[0]], [field.se[0], field.ee[0]]])
    bend = np.linalg.inv(radii)
    found = []
    for ring in one.rings:
        flat = np.array(ring) * one.high
        level = flat[:, :1] * one.across + flat[:, 1:] * one.up
        inside = level @ frame.T
        fall = np.einsum("ni,ij,nj->n", inside, bend, inside) / 2
        found.append(one.foot + level - fall[:, None] * one.normal)
    return found


def _flat(values: np.ndarray) -> list[float]:
    found: list[float] = values.ravel().round(DECIMALS).tolist()
    return found
