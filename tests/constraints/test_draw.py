"""Draw, parting line and gate: best draws by hand and by trial, outlines by their area, gates by their labels."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from itertools import pairwise, permutations, product

import numpy as np
import pytest
from facewright.constraints.draw import DrawPlan, draw_plan, gate
from facewright.constraints.errors import UsageError
from facewright.constraints.moulding import moulding
from facewright.constraints.parting import Where, parting_line
from facewright.constraints.solids import Solid, solid
from facewright.constraints.solids.rests import outward
from hypothesis import example, given, settings
from hypothesis import strategies as st

NAMES = (
    "cube",
    "tetrahedron",
    "dodecahedron",
    "rhombic triacontahedron",
    "pentagonal icositetrahedron",
    "hexagonal bipyramid",
    "tetartoid",
    "6-sided log",
    "7-sided log",
    "coin",
)
small = st.integers(-3, 3).map(float)
draws = st.one_of(
    st.sampled_from(["face", "edge", "vertex"]),
    st.tuples(small, small, small).filter(any),
    st.tuples(*[st.floats(-1, 1)] * 3).filter(lambda v: math.hypot(*v) > 0.1),
)


@pytest.mark.parametrize(
    ("name", "cosine"),
    [
        # along a diagonal (x, y, z all alike) or an axis of the octahedron
        ("cube", 1 / math.sqrt(3)),
        ("octahedron", 1 / math.sqrt(3)),
        ("tetrahedron", 1 / math.sqrt(3)),
        # the least of (x ± y)/√2, … for x ≥ y ≥ z ≥ 0 is largest at (2, 1, 0)/√5
        ("rhombic dodecahedron", 1 / math.sqrt(10)),
        # through a face, whose second ring of faces lies at acos(1/3)
        ("icosahedron", 1 / 3),
        ("dodecahedron", 1 / math.sqrt(5)),
    ],
)
def test_the_least_worst_angle(name: str, cosine: float) -> None:
    assert draw_plan(solid(name)).worst == pytest.approx(math.degrees(math.acos(cosine)), abs=1e-9)


def test_the_proof_for_the_rhombic_dodecahedron() -> None:
    """No draw leaves less than arccos 1/√10, 71.565°; shown without the engine, in whole numbers.

    Its normals are (±1, ±1, 0)/√2 and the like. Signs and places of a draw's coordinates can be exchanged, so let it be
    (x, y, z) with x ≥ y ≥ z ≥ 0, of length 1, and t the least of x − y and y − z: the least cosine is t/√2. Then
    y = z + t + b and x = y + t + a with a, b, z ≥ 0, and 1 − 5t² = x² + y² + z² − 5t² is a sum of products of these
    without a minus: t ≤ 1/√5, and the least cosine is 1/√10 at most. (2, 1, 0)/√5 reaches it.
    """
    body = solid("rhombic dodecahedron")
    normals = outward(body.vertices, body.faces)[0] * math.sqrt(2)
    whole = {tuple(int(x) for x in row) for row in np.round(normals)}
    assert np.abs(normals - np.round(normals)).max() < 1e-9
    assert whole == {row for row in product((-1, 0, 1), repeat=3) if sum(map(abs, row)) == 2}
    assert all({tuple(row[i] for i in order) for row in whole} == whole for order in permutations(range(3)))
    assert {(-x, y, z) for x, y, z in whole} == whole

    # x, y, z as sums of t, a, b, z, and the coefficients of x² + y² + z² − 5t²
    x, y, z = (2, 1, 1, 1), (1, 0, 1, 1), (0, 0, 0, 1)
    coefficients = Counter[tuple[int, int]]()
    for line in (x, y, z):
        for (i, p), (j, q) in product(enumerate(line), repeat=2):
            coefficients[min(i, j), max(i, j)] += p * q
    coefficients[0, 0] -= 5
    assert min(coefficients.values()) >= 0
    # at (2, 1, 0)/√5 the least of (n · d)², in tenths
    assert min((2 * n[0] + n[1]) ** 2 for n in whole) == 1
    assert draw_plan(body).worst == pytest.approx(math.degrees(math.acos(1 / math.sqrt(10))), abs=1e-9)


@pytest.mark.parametrize("name", NAMES)
def test_no_direction_does_better(name: str) -> None:
    body = solid(name)
    tried = np.random.default_rng(1).normal(size=(50_000, 3))
    tried /= np.linalg.norm(tried, axis=1, keepdims=True)
    normals = outward(body.vertices, body.faces)[0][: len(body.rests)]
    least = np.abs(tried @ normals.T).min(axis=1).max()
    found = math.cos(math.radians(draw_plan(body).worst))
    assert least <= found + 1e-12
    assert least > found - 0.02


def test_releases_follow_the_values() -> None:
    cube = draw_plan(solid("cube"), "face")
    assert [cube.released(way) for way in ("free", "stripped", "slide")] == [(0, 5), (), (1, 2, 3, 4)]
    assert cube.undrafted == (1, 2, 3, 4)
    assert [pull.half for pull in cube.faces] == ["upper", "along", "along", "along", "along", "lower"]
    diagonal = draw_plan(solid("cube"))
    assert len(diagonal.released("stripped")) == 6
    values = moulding()
    strict = replace(values, release=replace(values.release, stripped_to_deg=54.0))
    assert len(draw_plan(solid("cube"), values=strict).released("slide")) == 6
    at_the_limit = replace(values, release=replace(values.release, stripped_to_deg=diagonal.worst))
    assert len(draw_plan(solid("cube"), values=at_the_limit).released("stripped")) == 6


def test_among_equal_draws_the_one_with_fewest_slides() -> None:
    """Whatever is called a slide: no draw of equal worst angle has fewer of them than the one proposed."""
    body, values = solid("tetartoid"), moulding()
    normals = outward(body.vertices, body.faces)[0]
    for limit in (30.0, 50.0, 65.0):
        asked = replace(values, release=replace(values.release, stripped_to_deg=limit))
        plan = draw_plan(body, values=asked)
        for action in body.symmetry:
            axis = tuple(float(x) for x in action.matrix @ np.array(plan.axis))
            assert len(draw_plan(body, axis, values=asked).released("slide")) == len(plan.released("slide"))
        angles = np.degrees(np.arccos(np.abs(normals @ np.array(plan.axis))))
        assert len(plan.released("slide")) == int((angles > limit).sum())


def test_only_faces_with_marks_count() -> None:
    body = solid("cube")
    plan = draw_plan(body, labelled=[0, 5])
    assert (plan.worst, plan.site) == (pytest.approx(0, abs=1e-6), "f1")
    assert draw_plan(body, labelled=[0, 1]).worst == pytest.approx(45)


@pytest.mark.parametrize(
    ("draw", "site"),
    [("face", "f1"), ("edge", "e1"), ("vertex", "v1"), ((0.0, 0.0, -2.0), "f6"), ((1.0, 2.0, 3.0), "")],
)
def test_a_draw_is_named_by_its_site(draw: object, site: str) -> None:
    assert draw_plan(solid("cube"), draw).site == site  # type: ignore[arg-type]


def test_no_draw() -> None:
    for draw in ((0.0, 0.0, 0.0), "corner"):
        with pytest.raises(UsageError, match="draw: found"):
            draw_plan(solid("cube"), draw)


def covered(body: Solid, axis: np.ndarray) -> float:
    """The area seen along a direction: what the faces that look up it cover."""
    normals, distances = outward(body.vertices, body.faces)
    area = 0.0
    for face, normal, distance in zip(body.faces, normals, distances, strict=True):
        corners = body.vertices[list(face)]
        volume = sum(float(np.linalg.det(np.stack([corners[0], b, c]))) for b, c in pairwise(corners[1:]))
        area += max(0.0, float(normal @ axis)) * volume / 2 / float(distance)
    return area


@settings(max_examples=150, deadline=None)
@given(name=st.sampled_from(NAMES), draw=draws, where=st.sampled_from(["middle", "upper", "lower"]))
@example(name="cube", draw="face", where="middle")
@example(name="6-sided log", draw=(0.0, 0.0, 1.0), where="upper")
@example(name="6-sided log", draw=(0.0, 0.0, 1.0), where="middle")
@example(name="7-sided log", draw=(1.0, 0.0, 0.0), where="lower")
def test_parting_lines(name: str, draw: str | tuple[float, float, float], where: Where) -> None:
    body = solid(name)
    plan = draw_plan(body, draw, where=where)
    line, axis = plan.parting, np.array(plan.axis)
    # closed, in order, on the surface
    for segment, after in zip(line.segments, (*line.segments[1:], line.segments[0]), strict=True):
        assert segment.end == pytest.approx(after.start, abs=1e-9)
        assert (segment.edge is None) != (segment.face is None)
        assert segment.length > 1e-6
        middle = (np.array(segment.start) + np.array(segment.end)) / 2
        normals, distances = outward(body.vertices, body.faces)
        assert (normals @ middle - distances).max() == pytest.approx(0, abs=1e-9)
        if segment.edge is not None:
            ends = {tuple(body.vertices[v]) for v in body.edges[segment.edge]}
            assert {segment.start, segment.end} == ends
        else:
            assert plan.faces[segment.face or 0].half == "along"
    # seen along the draw it is the outline
    assert line.area == pytest.approx(covered(body, axis), abs=1e-8)
    heights = [float(np.array(segment.start) @ axis) for segment in line.segments]
    assert line.heights == pytest.approx((min(heights), max(heights)), abs=1e-9)
    if where != "middle":
        assert line.crossed == ()
    parts(body, plan, where)


def parts(body: Solid, plan: DrawPlan, where: Where) -> None:
    """Cut along the line's edges the surface falls into what each half forms: no upper face hangs on to a lower one."""
    cut = set(plan.parting.edges)
    crossed = set(plan.parting.crossed)
    joined = {face: {face} for face in range(len(body.faces)) if face not in crossed}
    for edge, (a, b) in enumerate(body.edge_faces):
        if edge not in cut and not {a, b} & crossed:
            whole = joined[a] | joined[b]
            for face in whole:
                joined[face] = whole
    halves = {frozenset(plan.faces[face].half for face in whole) for whole in joined.values()}
    assert not any({"upper", "lower"} <= half for half in halves)
    assert {face for face in range(len(body.faces)) if plan.faces[face].half == "along"} >= crossed
    assert where == "middle" or len({frozenset(whole) for whole in joined.values()}) == 2


@pytest.mark.parametrize(
    ("name", "draw", "edges", "crossed", "flat"),
    [
        ("cube", "face", 0, 4, True),
        ("cube", "edge", 2, 2, True),
        ("cube", "vertex", 6, 0, False),
        ("octahedron", "vertex", 4, 0, True),
        ("octahedron", "face", 6, 0, False),
        ("coin", "face", 24, 0, True),
        ("hexagonal bipyramid", (0.0, 0.0, 1.0), 6, 0, True),
    ],
)
def test_how_parting_lines_run(
    name: str, draw: str | tuple[float, float, float], edges: int, crossed: int, flat: bool
) -> None:
    line = draw_plan(solid(name), draw).parting
    assert (len(line.edges), len(line.crossed), line.flat) == (edges, crossed, flat)


def test_a_cube_between_its_faces() -> None:
    line = parting_line(solid("cube"), np.array([0.0, 0.0, 1.0]))
    assert (line.heights, line.length, line.area) == ((0, 0), pytest.approx(8), pytest.approx(4))
    assert parting_line(solid("cube"), np.array([0.0, 0.0, 1.0]), "upper").heights == (1, 1)


def numbered(*labels: int | str) -> dict[int, int | str]:
    return dict(enumerate(labels))


def test_a_gate_prefers_no_label_then_repeats_then_the_middle() -> None:
    cube = solid("cube")
    diagonal = draw_plan(cube)
    repeated = gate(cube, diagonal, numbered(1, 2, 2, 3, 3, 4))
    assert (repeated.reason, {*repeated.labels} <= {2, 3}) == ("repeated label", True)
    middling = gate(cube, diagonal, numbered(1, 2, 3, 4, 5, 6))
    assert (middling.reason, {*middling.labels}) == ("middling label", {3, 4})
    words = gate(cube, diagonal, numbered("ebb", "ebb", "ebb", "ebb", "flow", "slack"))
    assert (words.reason, words.labels) == ("repeated label", ("ebb", "ebb"))
    log = solid("5-sided log")
    bare = gate(log, draw_plan(log), numbered(1, 2, 3, 4, 5))
    assert (bare.reason, bare.labels) == ("no label", (None, None))


def test_a_gate_on_a_face_keeps_clear_of_its_middle() -> None:
    cube = solid("cube")
    plan = draw_plan(cube, "face")
    found = gate(cube, plan, numbered(1, 2, 3, 4, 5, 6))
    assert (found.edge, found.labels, found.face in plan.parting.crossed) == (None, (3,), True)
    normals, distances = outward(cube.vertices, cube.faces)
    middle = normals[found.face] * distances[found.face]
    assert math.dist(found.point, middle) > 0.7
    assert normals[found.face] @ np.array(found.point) == pytest.approx(1)


@pytest.mark.parametrize("name", NAMES)
def test_a_gate_stands_on_the_parting_line(name: str) -> None:
    body = solid(name)
    plan = draw_plan(body)
    found = gate(body, plan, {face: face + 1 for face in range(len(body.rests))})
    point = np.array(found.point)
    gaps = [
        np.linalg.norm(point - np.array(one.start)) + np.linalg.norm(point - np.array(one.end)) - one.length
        for one in plan.parting.segments
    ]
    assert min(gaps) == pytest.approx(0, abs=1e-9)
    assert found.face in found.faces
