"""What a layout comes to, in exact numbers: sums over opposite faces and about vertices, neighbours that are alike."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from facewright.constraints.face_map import FaceMap
from facewright.constraints.readouts import Label

Numbers = Sequence[int]
"""A label a face, where all labels are whole numbers."""


def numeric(labels: Sequence[Label]) -> bool:
    """Whether all labels are whole numbers."""
    return all(isinstance(label, int) for label in labels)


def opposite_sums(faces: FaceMap, labels: Numbers) -> tuple[int, ...]:
    """The sum of each pair of opposite faces, in the order of their first faces."""
    return tuple(labels[a] + labels[b] for a, b in faces.opposite)


def opposite_deviation(faces: FaceMap, labels: Numbers) -> Fraction:
    """The largest difference of the sum of opposite faces from twice the mean label; 0 without opposite faces."""
    aim = Fraction(2 * sum(labels), len(labels))
    return max((abs(one - aim) for one in opposite_sums(faces, labels)), default=Fraction(0))


def vertex_sums(faces: FaceMap, labels: Numbers) -> tuple[int, ...]:
    """The sum of the labels about each vertex, in the order of `faces.vertices`."""
    return tuple(sum(labels[face] for face in meeting) for meeting in faces.vertices)


def vertex_deviation(faces: FaceMap, labels: Numbers) -> Fraction:
    """D: the largest difference of a vertex's sum from its number of labelled faces times the mean label."""
    mean = Fraction(sum(labels), len(labels))
    sums = vertex_sums(faces, labels)
    gaps = (abs(one - len(meeting) * mean) for one, meeting in zip(sums, faces.vertices, strict=True))
    return max(gaps, default=Fraction(0))


def sums_by_degree(faces: FaceMap, labels: Numbers) -> tuple[tuple[int, int, int], ...]:
    """For each number of labelled faces at a vertex: that number, the least sum and the greatest."""
    sums = vertex_sums(faces, labels)
    return tuple((degree, min(here), max(here)) for degree, here in _by_degree(faces, sums))


def _by_degree(faces: FaceMap, sums: Sequence[int]) -> list[tuple[int, list[int]]]:
    return [
        (degree, [one for one, meeting in zip(sums, faces.vertices, strict=True) if len(meeting) == degree])
        for degree in faces.degrees
    ]


def touching(faces: FaceMap, labels: Sequence[Label]) -> tuple[int, int]:
    """How many pairs of faces with equal labels share an edge, and how many touch at a vertex only."""
    across = sum(labels[a] == labels[b] for a, b in faces.edges)
    return across, sum(labels[a] == labels[b] for a, b in faces.corners)


def consecutive(faces: FaceMap, labels: Sequence[Label]) -> int:
    """How many pairs of faces that share an edge have labels that differ by 1."""
    pairs = ((labels[a], labels[b]) for a, b in faces.edges)
    return sum(isinstance(a, int) and isinstance(b, int) and abs(a - b) == 1 for a, b in pairs)
