"""A few solids built by hand for the tests, apart from the program's own construction of solids."""

from __future__ import annotations

from itertools import permutations, product

from facewright.constraints.views import Views, make_views

Point = tuple[int, ...]


def signed_permutations() -> list[tuple[tuple[int, ...], tuple[int, ...]]]:
    """The 48 symmetries of the cube: where each axis goes, and its sign."""
    return [(axes, signs) for axes in permutations(range(3)) for signs in product((1, -1), repeat=3)]


def moved(point: Point, by: tuple[tuple[int, ...], tuple[int, ...]]) -> Point:
    axes, signs = by
    return tuple(signs[k] * point[axes[k]] for k in range(3))


def turns(by: tuple[tuple[int, ...], tuple[int, ...]]) -> bool:
    """Whether a symmetry is a rotation: its determinant is 1."""
    axes, signs = by
    odd = sum(axes[i] > axes[j] for i in range(3) for j in range(i + 1, 3)) % 2
    return signs[0] * signs[1] * signs[2] * (-1) ** odd == 1


def by_hand(name: str, points: list[Point], normals: list[Point]) -> Views:
    """The views of a solid with cube symmetry whose faces lie in opposite pairs: a rest shows the face above."""
    faces = []
    for normal in normals:
        heights = [sum(a * b for a, b in zip(normal, point, strict=True)) for point in points]
        faces.append(frozenset(at for at, height in enumerate(heights) if height == max(heights)))
    pairs = [frozenset((a, b)) for a in range(len(points)) for b in range(a)]
    edges = [pair for pair in pairs if sum(pair <= face for face in faces) == 2]
    opposite = [normals.index(tuple(-x for x in normal)) for normal in normals]
    shown = [
        ((top,), tuple(sorted(faces[top])), tuple(e for e, pair in enumerate(edges) if pair <= faces[top]))
        for top in opposite
    ]
    actions = {}
    for by in signed_permutations():
        vertices = [points.index(moved(point, by)) for point in points]
        as_faces = tuple(faces.index(frozenset(vertices[v] for v in face)) for face in faces)
        as_edges = tuple(edges.index(frozenset(vertices[v] for v in edge)) for edge in edges)
        actions[by] = (as_faces, tuple(vertices), as_edges)
    meeting = [sum(at in face for face in faces) for at in range(len(points))]
    sizes = (len(faces), len(points), len(edges))
    rotations = [action for by, action in actions.items() if turns(by)]
    return make_views(name, sizes, shown, rotations, list(actions.values()), meeting)


CORNERS = list(product((1, -1), repeat=3))
AXES = [tuple(sign * (axis == k) for k in range(3)) for axis in range(3) for sign in (1, -1)]
DIAGONALS = sorted({p for p in product((-1, 0, 1), repeat=3) if sum(map(abs, p)) == 2})


def cube() -> Views:
    return by_hand("cube", CORNERS, AXES)


def octahedron() -> Views:
    return by_hand("octahedron", AXES, CORNERS)


def rhombic_dodecahedron() -> Views:
    points = CORNERS + [tuple(2 * x for x in axis) for axis in AXES]
    return by_hand("rhombic dodecahedron", points, DIAGONALS)
