"""The direction in which a mould opens: what it means for every face, the one to propose, where the gate may go."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Literal

import numpy as np
from facewright.constraints.guards import draw_axis
from facewright.constraints.layout import Draw
from facewright.constraints.moulding import Moulding, moulding
from facewright.constraints.parting import PartingLine, Point, Where, parting_line
from facewright.constraints.readouts import Label
from facewright.constraints.solids.rests import outward
from facewright.constraints.solids.solid import Solid
from facewright.constraints.solids.tolerance import SAME
from numpy.typing import NDArray

Vectors = NDArray[np.float64]

Release = Literal["free", "stripped", "slide"]
"""How a recess in a face leaves the mould: freely; sprung off as the part shrinks; only once a slide is drawn back."""

Reason = Literal["no label", "repeated label", "middling label", "any label"]
"""Why a gate stands where it does; "any label" where labels are words, none of which is nearer to a mean."""

Half = Literal["upper", "lower", "along"]
"""Which half of the mould forms a face: the upper, the lower; a face along the draw can be either's or both's."""

EDGE_OF_FACE = 1 / 8
"""A gate on a labelled face that the parting line crosses stands so far along the line: clear of the middle."""


@dataclass(frozen=True)
class FacePull:
    """A face and the draw: angles in degrees.

    `angle` lies between the face's normal and the line of the draw, from 0 to 90. `release` is how a recess in it
    leaves the mould. The body's own draft at this face is 90 less the angle.
    """

    face: int
    angle: float
    half: Half
    release: Release


@dataclass(frozen=True)
class DrawPlan:
    """A draw, and all that follows from it.

    `axis` is a unit vector; `site` the face, vertex or edge whose middle it goes through ("v1"), or "" where
    there is none. `faces` has every face in order, `labelled` the numbers of those that carry marks.
    """

    axis: Point
    site: str
    faces: tuple[FacePull, ...]
    labelled: tuple[int, ...]
    parting: PartingLine

    @cached_property
    def worst(self) -> float:
        """The largest angle of a labelled face to the draw, in degrees."""
        return max(self.faces[face].angle for face in self.labelled)

    def released(self, release: Release) -> tuple[int, ...]:
        """The labelled faces whose marks leave the mould in this way."""
        return tuple(face for face in self.labelled if self.faces[face].release == release)

    @cached_property
    def undrafted(self) -> tuple[int, ...]:
        """All faces along the draw: they drag as the part is pushed out. Other faces of a convex body have draft."""
        return tuple(pull.face for pull in self.faces if pull.half == "along")


@dataclass(frozen=True)
class Gate:
    """A place for the gate, on the parting line as usual.

    `point` is in inradii; `edge` is the edge or, where it is None, `face` the face on which it stands. `faces`
    are all faces that its mark touches, with their `labels` (None: without one).
    """

    point: Point
    edge: int | None
    face: int
    faces: tuple[int, ...]
    labels: tuple[Label | None, ...]
    reason: Reason


def draw_plan(
    solid: Solid,
    draw: Draw | None = None,
    labelled: Sequence[int] | None = None,
    where: Where = "middle",
    values: Moulding | None = None,
) -> DrawPlan:
    """What a draw means for a solid.

    Params:
        solid: the solid.
        draw: "face", "edge", "vertex" (the first of them) or a direction in space; None: the best, see `best_draw`.
        labelled: the numbers of the faces with marks; None: the faces that are rests.
        where: the parting line on faces along the draw.
        values: of moulding; None: those shipped.
    Raises: UsageError for a draw that is no place and no direction.
    """
    values = values or moulding()
    marked = tuple(range(len(solid.rests))) if labelled is None else tuple(sorted(labelled))
    axis = best_draw(solid, marked, values) if draw is None else draw_axis(solid, draw)
    normals, _ = outward(solid.vertices, solid.faces)
    pulls = tuple(_pull(face, float(normals[face] @ axis), values) for face in range(len(solid.faces)))
    x, y, z = (float(number) + 0.0 for number in axis)
    return DrawPlan((x, y, z), _site(solid, axis), pulls, marked, parting_line(solid, axis, where))


def best_draw(solid: Solid, labelled: tuple[int, ...], values: Moulding) -> Vectors:
    """The draw with the least largest angle to a labelled face, among equals the one with the fewest slides.

    The largest of min |n · d| over unit vectors d is reached where d is a normal, or halves the angle between two
    normals, or has one angle with three of them: at the best d the directions that would raise the smallest |n ·
    d| must cancel in the plane square to d, and in a plane two or three of them are enough for that
    (Carathéodory). So all such d are tried, up to symmetry: one of the faces can be taken from a list with one
    face of each kind.

    Returns: a unit vector of shape (3,). Further ties go to a face, then a vertex, then an edge, then the first
    by number.
    """
    normals = outward(solid.vertices, solid.faces)[0][list(labelled)]
    lines = _lines(normals)
    starts = _lines(outward(solid.vertices, solid.faces)[0][_kinds(solid, labelled)])
    found = np.concatenate([_meeting(start, lines) for start in starts])
    least = np.abs(found @ lines.T).min(axis=1)
    best = _upwards(_lines(found[least > least.max() - SAME]))
    angles = np.degrees(np.arccos(np.clip(np.abs(best @ normals.T), 0, 1)))
    slides = (angles > values.release.stripped_to_deg + SAME).sum(axis=1)
    kinds = [" fve".index(_site(solid, axis)[:1] or " ") or 4 for axis in best]
    chosen: Vectors = best[int(np.lexsort((*np.round(-best.T, 9), kinds, slides))[0])]
    return chosen


def gate(solid: Solid, plan: DrawPlan, labels: Mapping[int, Label]) -> Gate:
    """Where the gate's mark does least harm: on the parting line, and there on faces without a label, else on a
    label that is repeated most, else on one nearest to the mean.

    Params:
        labels: face number → its label; faces without one are left out.
    """
    often = Counter(labels.values())
    numbers = [label for label in labels.values() if isinstance(label, int)]
    mean = sum(numbers) / len(numbers) if numbers else 0.0

    def harm(face: int) -> tuple[int, int, float]:
        label = labels.get(face)
        if label is None:
            return (0, 0, 0.0)
        return (1, -often[label], abs(label - mean) if isinstance(label, int) else 0.0)

    def touched(edge: int | None, face: int | None) -> tuple[int, ...]:
        return solid.edge_faces[edge] if edge is not None else (int(face or 0),)

    choices = []
    for number, segment in enumerate(plan.parting.segments):
        faces = tuple(sorted(touched(segment.edge, segment.face), key=harm))
        key = (harm(faces[-1]), harm(faces[0]), -round(segment.length, 9), number)
        choices.append((key, segment, faces))
    _, segment, faces = min(choices, key=lambda choice: choice[0])
    marks = tuple(labels.get(face) for face in faces)
    share = EDGE_OF_FACE if segment.edge is None and marks[0] is not None else 1 / 2
    x, y, z = (a + share * (b - a) for a, b in zip(segment.start, segment.end, strict=True))
    last = marks[-1]
    reason: Reason = "middling label" if isinstance(last, int) else "any label"
    if last is None or often[last] > 1:
        reason = "no label" if last is None else "repeated label"
    return Gate((x, y, z), segment.edge, faces[0], faces, marks, reason)


def _pull(face: int, cosine: float, values: Moulding) -> FacePull:
    angle = float(np.degrees(np.arccos(min(1.0, abs(cosine)))))
    half: Half = "along" if abs(cosine) < SAME else "upper" if cosine > 0 else "lower"
    limits = values.release
    if angle <= limits.free_to_deg + SAME:
        return FacePull(face, angle, half, "free")
    return FacePull(face, angle, half, "stripped" if angle <= limits.stripped_to_deg + SAME else "slide")


@lru_cache(maxsize=8)
def _sites(solid: Solid) -> tuple[tuple[str, ...], Vectors]:
    """The names of all sites and the lines from the centre of mass towards their middles."""
    normals, _ = outward(solid.vertices, solid.faces)
    middles = solid.vertices[np.array(solid.edges)].mean(axis=1)
    towards = np.concatenate([normals, solid.vertices, middles])
    names = (*solid.sites("faces"), *solid.sites("vertices"), *solid.sites("edges"))
    return names, towards / np.linalg.norm(towards, axis=1, keepdims=True)


def _site(solid: Solid, axis: Vectors) -> str:
    """The first site through whose middle a line goes, or ""."""
    names, towards = _sites(solid)
    off = np.abs(np.cross(towards, axis)).max(axis=1)
    on = np.flatnonzero(off < SAME)
    if not len(on):
        return ""
    ahead = [number for number in on.tolist() if towards[number] @ axis > 0]
    return names[(ahead or on.tolist())[0]]


def _kinds(solid: Solid, labelled: tuple[int, ...]) -> list[int]:
    """One of the labelled faces of each kind, a kind being what the symmetries take into one another."""
    return sorted({min({action.faces[face] for action in solid.symmetry} & {*labelled}) for face in labelled})


def _lines(vectors: Vectors) -> Vectors:
    """Unit vectors along the same lines, each line once."""
    units = vectors / np.linalg.norm(vectors, axis=1, keepdims=True)
    kept: list[Vectors] = []
    for unit in units:
        if not kept or np.abs(np.cross(np.array(kept), unit)).max(axis=1).min() > SAME:
            kept.append(unit)
    return np.array(kept)


def _upwards(lines: Vectors) -> Vectors:
    """The same lines, each turned so that its last coordinate that is not 0 is above 0; rounding errors become 0."""
    clean = np.where(np.abs(lines) < SAME, 0.0, lines)
    last = [row[np.flatnonzero(row)[-1]] for row in clean]
    turned: Vectors = clean * np.sign(last)[:, None] + 0.0
    return turned


def _meeting(start: Vectors, lines: Vectors) -> Vectors:
    """All unit vectors that are `start`, halve its angle with another line, or meet it and two others at one angle."""
    signed = np.concatenate([lines, -lines])
    halves = start + signed
    one, other = np.triu_indices(len(signed), k=1)
    threes = np.cross(start - signed[one], start - signed[other])
    found = np.concatenate([start[None], halves, threes])
    lengths = np.linalg.norm(found, axis=1)
    # two lines that are one, or three in a plane, meet nowhere in particular
    kept: Vectors = found[lengths > 1e-6] / lengths[lengths > 1e-6, None]
    return kept
