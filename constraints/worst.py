"""The worst direction of a sum of absolute values: of linear forms exactly, of quadratic ones within a bound."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

NOTHING = 1e-12
"""A form that is smaller is rounding, as are smaller differences: forms sum numbers near 1, with errors near 1e-15."""

TIED = 1e-9
"""Directions whose values differ by less, for the value, are equally bad; the first in a fixed order is named."""

GAP = 1e-5
"""How far the proved bound of `worst_axis` may stand above the value found, for the value."""

STARTS = 24
"""From how many directions `worst_axis` climbs before it proves."""

MOST_CAPS = 400_000
"""Past so many parts of the sphere at once the search for a tighter bound ends, and the bound so far is given."""

AT_ONCE = 4_000_000
"""How many numbers one step works on."""

Vectors = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Worst:
    """The greatest value of a function on the unit sphere: reached in `direction`, shape (3,), never above `bound`."""

    value: float
    bound: float
    direction: Vectors


def worst_direction(rows: Vectors) -> Worst:
    """The greatest Σ |a · u| over unit vectors u, for the rows a of an array of shape (m, 3).

    It is the longest Σ ±a: for given signs u along that sum is best, and for given u the signs of a · u. The
    signs that occur are those of the cells into which the great circles a · u = 0 cut the sphere; each cell has a
    side on one of the circles, so it is enough to walk along every circle and look to both sides between its
    crossings with the others. Exact but for rounding; a few m² sign patterns.

    Example:
        >>> import numpy as np
        >>> round(worst_direction(np.array([[1.0, 0, 0], [0, 1, 0]])).value, 6)
        1.414214
    """
    forms = _merged(rows)
    if not len(forms):
        return Worst(0.0, 0.0, np.array([0.0, 0.0, 1.0]))
    sums = [forms.sum(axis=0, keepdims=True)]
    for number, circle in enumerate(forms if len(forms) > 1 else ()):
        others = np.delete(forms, number, axis=0)
        part = np.sign(_between_crossings(circle, others) @ others.T) @ others
        sums += [part + circle, part - circle]
    ends = np.concatenate(sums)
    lengths = np.linalg.norm(ends, axis=1)
    value = float(lengths.max())
    tied = lengths > value * (1 - TIED)
    return Worst(value, value, _first(ends[tied] / lengths[tied, None]))


def _merged(rows: Vectors) -> Vectors:
    """The same sum with fewer forms: rows along one line become one, rows that are nothing are dropped."""
    rows = rows[np.linalg.norm(rows, axis=1) > NOTHING]
    lines = rows / np.linalg.norm(rows, axis=1, keepdims=True)
    left, merged = np.ones(len(rows), dtype=bool), []
    for number in range(len(rows)):
        if left[number]:
            cosines = lines @ lines[number]
            along = left & (np.abs(cosines) > 1 - NOTHING)
            merged.append(np.sign(cosines[along]) @ rows[along])
            left &= ~along
    return np.array(merged).reshape(-1, 3)


def _between_crossings(circle: Vectors, others: Vectors) -> Vectors:
    """A unit vector between every two neighbouring crossings of a great circle with others, on half the circle.

    The other half has the opposite signs and gives the same lengths.
    """
    pole = circle / np.linalg.norm(circle)
    first = np.cross(pole, np.eye(3)[int(np.abs(pole).argmin())])
    first /= np.linalg.norm(first)
    second = np.cross(pole, first)
    # a · (cos t · first + sin t · second) = 0
    crossings = np.sort(np.arctan2(-(others @ first), others @ second) % np.pi)
    gaps = np.diff(crossings, append=crossings[0] + np.pi)
    middles = (crossings + gaps / 2)[gaps > NOTHING]
    result: Vectors = np.cos(middles)[:, None] * first + np.sin(middles)[:, None] * second
    return result


def worst_axis(forms: Vectors) -> Worst:
    """The greatest Σ |dᵀ Q d| over unit vectors d, for symmetric Q, an array of shape (m, 3, 3).

    Found by climbing: with the signs s of dᵀ Q d, the first eigenvector of Σ s Q is at least as good as d. Proved
    by cutting the sphere into ever smaller triangles, each within a cap of radius ρ about its middle c. At an
    angle t ≤ ρ from c

        dᵀ Q d = cos²t cᵀQc + sin 2t (a tangential part, at most β) + sin²t (at most γ),

    so that forms that cannot change their sign there are added first and bounded together, the others one by one.
    Triangles that cannot beat the value found by more than `GAP` are dropped.
    """
    forms = forms[np.abs(forms).max(axis=(1, 2), initial=0) > NOTHING]
    if not len(forms):
        return Worst(0.0, 0.0, np.array([0.0, 0.0, 1.0]))
    triangles = _octants()
    for _ in range(3):
        triangles = _quartered(triangles)
    middles, _ = _caps(triangles)
    starts = np.argsort(-_sums(forms, middles), kind="stable")[:STARTS]
    tops = [_climbed(forms, middles[at]) for at in starts]
    value = max(top for top, _ in tops)
    direction = _first(np.array([axis for top, axis in tops if top > value * (1 - TIED)]))
    bound = value
    while len(triangles):
        middles, radii = _caps(triangles)
        above = _bounds(forms, middles, radii)
        keep = above > value * (1 + GAP)
        if not keep.any():
            bound = value * (1 + GAP)
            break
        best = int(above.argmax())
        better, towards = _climbed(forms, middles[best])
        if better > value:
            value, direction = better, towards
        bound = float(above.max())
        if 4 * int(keep.sum()) > MOST_CAPS:
            break
        triangles = _quartered(triangles[keep])
    return Worst(value, max(bound, value), direction)


def _sums(forms: Vectors, directions: Vectors) -> Vectors:
    """Σ |dᵀ Q d| for each direction."""
    values = (directions[:, :, None] * directions[:, None, :]).reshape(-1, 9) @ forms.reshape(-1, 9).T
    result: Vectors = np.abs(values).sum(axis=1)
    return result


def _climbed(forms: Vectors, direction: Vectors) -> tuple[float, Vectors]:
    """The value and the place of the top that is reached from a direction."""
    value = -1.0
    while True:
        values = np.einsum("rij,i,j->r", forms, direction, direction)
        reached = float(np.abs(values).sum())
        if reached <= value * (1 + NOTHING):
            return reached, direction
        value = reached
        powers, axes = np.linalg.eigh(np.einsum("r,rij->ij", np.where(values < 0, -1.0, 1.0), forms))
        direction = axes[:, int(powers.argmax())]


def _bounds(forms: Vectors, middles: Vectors, radii: Vectors) -> Vectors:
    """For each cap a number that Σ |dᵀ Q d| does not exceed there."""
    step = max(1, AT_ONCE // (9 * len(forms)))
    parts = [
        _bounds_of(forms, middles[at : at + step], radii[at : at + step])
        for at in range(0, len(middles), step)
    ]
    return np.concatenate(parts)


def _bounds_of(forms: Vectors, middles: Vectors, radii: Vectors) -> Vectors:
    pulled = np.einsum("rij,cj->cri", forms, middles)
    at_middle = np.einsum("cri,ci->cr", pulled, middles)
    slope = np.sqrt(np.maximum(np.einsum("cri,cri->cr", pulled, pulled) - at_middle**2, 0))
    most = np.abs(np.linalg.eigvalsh(forms)).max(axis=1)
    double, square = np.sin(np.minimum(2 * radii, np.pi / 2))[:, None], np.sin(radii)[:, None] ** 2
    strays = double * slope + square * (np.abs(at_middle) + most)
    fixed = np.abs(at_middle) > strays
    signs = np.where(fixed, np.sign(at_middle), 0.0)
    together = np.einsum("cr,rij->cij", signs, forms)
    pull = np.einsum("cij,cj->ci", together, middles)
    alpha = np.einsum("ci,ci->c", pull, middles)
    beta = np.sqrt(np.maximum(np.einsum("ci,ci->c", pull, pull) - alpha**2, 0))
    gamma = np.linalg.eigvalsh(together)[:, 2]
    sure = alpha + double[:, 0] * beta + square[:, 0] * np.maximum(gamma - alpha, 0)
    result: Vectors = sure + np.where(fixed, 0.0, np.abs(at_middle) + strays).sum(axis=1)
    return result


def _octants() -> Vectors:
    """Half the sphere as four triangles, shape (4, 3, 3): opposite directions have equal values."""
    x, y, z = np.eye(3)
    return np.array([[x, y, z], [y, -x, z], [-x, -y, z], [-y, x, z]])


def _quartered(triangles: Vectors) -> Vectors:
    """Every triangle cut into four."""
    a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
    ab, bc, ca = (_unit(one + other) for one, other in ((a, b), (b, c), (c, a)))
    parts = [(a, ab, ca), (ab, b, bc), (ca, bc, c), (ab, bc, ca)]
    return np.concatenate([np.stack(part, axis=1) for part in parts])


def _caps(triangles: Vectors) -> tuple[Vectors, Vectors]:
    """For each triangle a middle and the radius, in radians, of a cap about it that covers the triangle."""
    middles = _unit(triangles.sum(axis=1))
    cosines = np.einsum("tki,ti->tk", triangles, middles).min(axis=1)
    return middles, np.arccos(np.clip(cosines, -1, 1))


def _first(directions: Vectors) -> Vectors:
    """Of some unit vectors, shape (n, 3), the line that comes first, its last coordinate not negative."""
    turned = directions + 0.0
    for axis in range(3):
        # the later axis decides where it is not 0
        number = turned[:, axis]
        turned = np.where((number < -TIED)[:, None], -turned, turned)
    keys = np.round(turned, 6) + 0.0
    first: Vectors = turned[int(np.lexsort(keys.T)[-1])]
    return first


def _unit(vectors: Vectors) -> Vectors:
    result: Vectors = vectors / np.linalg.norm(vectors, axis=-1, keepdims=True)
    return result
