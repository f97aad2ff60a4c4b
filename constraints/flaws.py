"""How a small flaw of a real die moves the results of a roll, to first order.

The flaws: a centre of mass off its place; a solid out of round, longer along some axis; one long along the draw.

The model: *the chance of a rest is its share of all directions*, the solid angle that its face takes up as seen
from the centre of mass, over 4π. (A face that is no rest adds its share to the face onto which the solid tips
from it.) That is the chance that the face lies straight below when the solid is turned at random, and it gives a
fair solid equal chances, as it must. For a flawed one it is a model and no law: where a cuboid was thrown in
rigid-body simulations of ours, its chances answered to its proportions three to four times more strongly, by how
much depends on the throw and the table. Ratios between layouts say more than the numbers themselves.

Sources: D. Singmaster, "Theoretical probabilities for a cuboidal die", Mathematical Gazette 65 (1981) 208–210
(from memory) for the model; W. Riemer, D. Stoyan and D. Obreschkow, "Cuboidal dice and Gibbs distributions",
Metrika 77 (2014), arXiv 1302.3925, and C. J. Pender and M. Uhrin, arXiv 1407.6307 (2014), both read in part, for
real dice.

Lengths are in inradii. Shifts are given for a flaw of size `FLAW`. This is the module that `guards.Flaws`
describes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from facewright.constraints.errors import UsageError
from facewright.constraints.guards import GUARDS, Shift, draw_axis
from facewright.constraints.layout import Draw, Roll
from facewright.constraints.readouts import Label
from facewright.constraints.roll_chances import chances_given
from facewright.constraints.solids.angles import angle_changes
from facewright.constraints.solids.rests import outward
from facewright.constraints.solids.solid import Solid
from facewright.constraints.worst import Worst, worst_axis, worst_direction
from numpy.typing import NDArray

FLAW = 0.01
"""The size of flaw for which shifts are given: one hundredth of the inradius, so 0.08 mm on a cube of 16 mm."""

UNITS = {
    "off-centre": "the centre of mass 1 % of the inradius off, in the worst direction",
    "out-of-round": "1 % longer along the worst axis, the other axes unchanged",
    "long-along-draw": "1 % longer along the draw, the other axes unchanged",
}
"""What a shift is given for."""

ALONE = Roll()
"""The die is rolled alone, its label the result."""

DIGITS = 12
"""Decimals of shifts: rounding errors do not tell designs apart."""

Vectors = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class RestSensitivities:
    """How the chances of a solid's R rests change to first order, rests in their order; lengths in inradii.

    `chances` has shape (R,); `centre` (R, 3), for a displacement of the centre of mass; `stretch` (R, 3, 3), for
    a stretch by 1 + ε along d as ε dᵀ · d; `planes` (R, F), for each face's plane that moves outwards.
    """

    chances: Vectors
    centre: Vectors
    stretch: Vectors
    planes: Vectors


@lru_cache(maxsize=64)
def rest_sensitivities(solid: Solid) -> RestSensitivities:
    """The first-order changes of the chances of all rests of a solid, by the model of this module."""
    changes = angle_changes(solid)
    onto = _comes_to_rest(solid)
    parts = (changes.shares, changes.centre, changes.stretch, changes.planes)
    return RestSensitivities(*(_spread(onto, part) for part in parts))


def off_centre(solid: Solid, faces: Sequence[Label], roll: Roll = ALONE) -> Shift:
    """The shift for a centre of mass `FLAW` inradii off, in the worst direction, which is found exactly.

    Params:
        solid: the solid.
        faces: the labels of its faces that are rests, in their order: f1, f2, ….
        roll: the roll in which the die is used; by default the die alone.
    Raises: UsageError for a wrong number of labels, or a roll that cannot be judged.
    """
    return shift("off-centre", solid, tuple(faces), roll, None)


def out_of_round(solid: Solid, faces: Sequence[Label], roll: Roll = ALONE) -> Shift:
    """The shift for a solid stretched by the factor 1 + `FLAW` along the worst axis, found within `worst.GAP`.

    Stretched at constant volume, the two other axes shrinking, every figure is half as large again. Parameters
    and errors as for `off_centre`.
    """
    return shift("out-of-round", solid, tuple(faces), roll, None)


def long_along_draw(solid: Solid, faces: Sequence[Label], roll: Roll, draw: Draw) -> Shift:
    """The shift for a solid stretched by the factor 1 + `FLAW` along the direction in which its mould opens.

    So come out whole batches from a mould not quite closed. Parameters and errors as for `off_centre`; `draw` as
    for `guards.draw_axis`.
    """
    return shift("long-along-draw", solid, tuple(faces), roll, draw)


def moved(goal: str, solid: Solid, draw: Draw | None) -> Vectors:
    """How a flaw moves the chance that the label on each face comes up, shape (labelled faces, components of the
    flaw).

    Off-centre has three components, the displacement. Out-of-round has six: a stretch by ε along d is ε times the
    matrix d dᵀ, written as (xx, yy, zz, √2 yz, √2 xz, √2 xy), a vector of length 1. Long-along-draw has one. So
    for every one of them half the sum of the lengths of the rows, added up by result, bounds the total variation
    distance per unit of flaw.

    A label stands on its face; where a face is read above, it comes up when the solid rests on the opposite face,
    else when it rests on that face.

    Params:
        goal: one of `guards.GUARDS`.
        draw: the direction of the mould; long-along-draw needs it.
    Raises: UsageError for another goal, or a draw that is missing or no direction.
    """
    rests, order = rest_sensitivities(solid), _rest_of_face(solid)
    if goal == "off-centre":
        return rests.centre[order]
    stretch = rests.stretch[order]
    if goal == "out-of-round":
        return stretch[:, _ROWS, _COLUMNS] * _WEIGHTS
    if goal != "long-along-draw":
        raise UsageError(f"goal: found {goal!r}; accepted: {', '.join(GUARDS)}")
    if draw is None:
        raise UsageError("draw: found none; long-along-draw needs face, edge, vertex or three numbers")
    axis = draw_axis(solid, draw)
    return np.asarray((stretch @ axis) @ axis)[:, None]


def rolled(labels: tuple[Label, ...], roll: Roll) -> Vectors:
    """The chance of each result of a roll once this die shows a label, shape (results, distinct labels).

    Columns stand in the order in which labels first come up, rows in the order of `results_of`.
    """
    given = chances_given(labels, roll)
    results = _sorted_results(given)
    return np.array([[float(chances.get(result, 0)) for chances in given.values()] for result in results])


def results_of(labels: tuple[Label, ...], roll: Roll) -> tuple[Label, ...]:
    """All results of a roll: numbers rising, then words."""
    return tuple(_sorted_results(chances_given(labels, roll)))


def shift(goal: str, solid: Solid, labels: tuple[Label, ...], roll: Roll, draw: Draw | None) -> Shift:
    """How far a flaw of size `FLAW` moves the roll of a die with these labels on its faces, to first order, at
    its worst.

    `worst` is the total variation distance. Its `parts` are

    - `unit`: what the flaw is; `bound`: what no direction exceeds; `direction`: the worst line, a unit vector;
    - `results`: each result with the most that its own chance moves, in the direction worst for it; `single`: the
    largest;
    - `mean`, `square`: the most that the mean result moves, and its mean squared distance from the mean;
    - `highest_of_two`: the total variation distance for the higher of two such rolls with the same flaw.

    The last three are None where results are words.

    Raises: UsageError for a wrong number of labels, a roll that cannot be judged, or a draw that is missing.
    """
    if len(labels) != len(solid.rests):
        raise UsageError(
            f"labels: found {len(labels)}; accepted: {len(solid.rests)}, one for each rest of the {solid.name}"
        )
    results, by_result = results_of(labels, roll), rolled(labels, roll)
    columns = {label: number for number, label in enumerate(dict.fromkeys(labels))}
    of_face = by_result[:, [columns[label] for label in labels]]
    forms = of_face @ moved(goal, solid, draw)
    whole = _worst(goal, solid, draw, forms)
    alone = [_given(_alone(goal, form)) for form in forms]
    parts: dict[str, Any] = {
        "unit": UNITS[goal],
        "bound": _given(whole.bound / 2),
        "direction": [round(float(x), 6) + 0.0 for x in whole.direction],
        "single": max(alone),
        "results": {str(result): most for result, most in zip(results, alone, strict=True)},
        "mean": None,
        "square": None,
        "highest_of_two": None,
    }
    if all(isinstance(result, int) for result in results):
        values, chances = np.array(results, dtype=float), of_face.mean(axis=1)
        parts["mean"] = _given(_alone(goal, values @ forms))
        parts["square"] = _given(_alone(goal, (values - values @ chances) ** 2 @ forms))
        twice = _worst(goal, solid, draw, _higher_of_two(chances) @ forms)
        parts["highest_of_two"] = _given(twice.value / 2)
    return Shift(_given(whole.value / 2), parts)


_ROWS, _COLUMNS = [0, 1, 2, 1, 0, 0], [0, 1, 2, 2, 2, 1]
_WEIGHTS: Vectors = np.repeat([1.0, 2**0.5], 3)


def _given(value: float) -> float:
    """A derivative as the shift that is shown."""
    return round(float(value) * FLAW, DIGITS) + 0.0


def _matrices(forms: Vectors) -> Vectors:
    """Symmetric matrices, shape (m, 3, 3), from the six components that `moved` writes."""
    found = np.zeros((len(forms), 3, 3))
    found[:, _ROWS, _COLUMNS] = found[:, _COLUMNS, _ROWS] = forms / _WEIGHTS
    return found


def _worst(goal: str, solid: Solid, draw: Draw | None, forms: Vectors) -> Worst:
    """The greatest sum of the forms' absolute values over all flaws of unit size."""
    if goal == "off-centre":
        return worst_direction(forms)
    if goal == "out-of-round":
        return worst_axis(_matrices(forms))
    value = float(np.abs(forms).sum())
    return Worst(value, value, draw_axis(solid, draw or "face"))


def _alone(goal: str, form: Vectors) -> float:
    """The greatest absolute value of one form over all flaws of unit size."""
    if goal == "out-of-round":
        return float(np.abs(np.linalg.eigvalsh(_matrices(form[None])[0])).max())
    return float(np.linalg.norm(form))


def _rest_of_face(solid: Solid) -> list[int]:
    """For each labelled face, in order, the number of the rest at which its label comes up."""
    shown = [rest.on_top if solid.read == "face above" else rest.below for rest in solid.rests]
    return [shown.index(face) for face in range(len(shown))]


def _sorted_results(given: dict[Label, dict[Label, Any]]) -> list[Label]:
    results = {result for chances in given.values() for result in chances}
    return sorted(results, key=lambda one: (True, 0, one) if isinstance(one, str) else (False, one, ""))


def _higher_of_two(chances: Vectors) -> Vectors:
    """How the chances of the higher of two equal rolls follow small changes of those of one, shape (m, m).

    With F the chance of at most a result, that of the higher is F², so that F² changes by 2 F times the change of
    F.
    """
    at_most = np.tril(np.ones((len(chances), len(chances))))
    doubled = 2 * (at_most @ chances)[:, None] * at_most
    result: Vectors = np.diff(doubled, axis=0, prepend=0.0)
    return result


def _spread(weights: Vectors, parts: Vectors) -> Vectors:
    """Weighted sums of scalars, vectors or matrices: (m, n) with (n, …) gives (m, …)."""
    result: Vectors = np.tensordot(weights, parts, axes=1)
    return result


def _comes_to_rest(solid: Solid) -> Vectors:
    """For each rest the faces from which the solid comes to it, as a matrix of 0 and 1, shape (R, F).

    From a face that is no rest the solid tips over the edge beyond which the point under its centre of mass lies
    farthest.
    """
    rests = {rest.below: number for number, rest in enumerate(solid.rests)}
    normals, distances = outward(solid.vertices, solid.faces)
    onto = np.zeros((len(rests), len(solid.faces)))
    for start in range(len(solid.faces)):
        face = start
        while face not in rests:
            corners = solid.vertices[list(solid.faces[face])]
            inward = np.cross(normals[face], np.roll(corners, -1, axis=0) - corners)
            inward /= np.linalg.norm(inward, axis=1, keepdims=True)
            inside = np.einsum("ei,ei->e", inward, normals[face] * distances[face] - corners)
            face = solid.neighbours[face][int(inside.argmin())]
        onto[rests[face], start] = 1.0
    return onto
