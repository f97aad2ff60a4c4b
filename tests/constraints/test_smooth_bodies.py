"""Smooth bodies: harmonics, width, surface, curvature and measures, against what is known and against other ways."""

from __future__ import annotations

from fractions import Fraction
from math import pi, sqrt

import numpy as np
import pytest
from facewright.constraints.solids.smooth.body import SmoothBody
from facewright.constraints.solids.smooth.certificate import certify
from facewright.constraints.solids.smooth.companion import tips as tips_of
from facewright.constraints.solids.smooth.harmonics import basis
from facewright.constraints.solids.smooth.measures import (
    area_over_pi,
    gauss_sphere,
    moments,
    volume_over_pi,
)
from facewright.constraints.solids.smooth.mesh import sphere, surface
from facewright.constraints.solids.smooth.rests import resting, settling, way_is_half
from facewright.constraints.solids.smooth.symmetries import SYMMETRIES

# 1 + a·xyz at width 2: the largest a, derived on the mirror plane, where the radius across it is
# 1 − a·cos t·(1 + sin² t), least at cos² t = 2/3
LARGEST_A = 3 * sqrt(6) / 8
XYZ = Fraction(15, 2)
"""The first harmonic of the basis over xyz."""


def cubic(a: float) -> SmoothBody:
    """The body ½ + (a/2)·xyz of width 1."""
    return SmoothBody("tetrahedral", 3, (Fraction(a) / 2 / XYZ,))


def some_directions(many: int, seed: int = 1) -> np.ndarray:
    """Unit vectors at random."""
    found = np.random.default_rng(seed).normal(size=(many, 3))
    return found / np.linalg.norm(found, axis=1)[:, None]


def some_body(name: str, seed: int, degree: int = 15, led: float = 0.0) -> SmoothBody:
    """A body at random, scaled so that its least radius of curvature is proved to be 2 % of the width.

    `led` is how much the first harmonic leads the others.
    """
    harmonics = basis(name, degree)
    draw = np.random.default_rng(seed).normal(size=len(harmonics))
    draw[0] = abs(draw[0]) + led
    rough = tuple(
        Fraction(round(float(x) * 10**6), 10**6) / n.degree**2 for x, n in zip(draw, harmonics, strict=True)
    )
    most = certify(SmoothBody(name, degree, rough), 1e-3).most
    scale = Fraction(0.48) / Fraction(most)
    return SmoothBody(name, degree, tuple(scale * one for one in rough))


@pytest.mark.parametrize("name", SYMMETRIES)
def test_the_basis_is_orthogonal_and_counted_by_the_invariants(name: str) -> None:
    found = basis(name, 15)
    directions, weights = gauss_sphere(30)
    values = []
    for one in found:
        body = SmoothBody(name, 15, tuple(Fraction(int(other is one)) for other in found))
        values.append(body.support(directions) - 0.5)
    gram = np.array(values) @ (np.array(values) * weights).T / (4 * pi)
    assert np.allclose(gram, np.diag([float(one.mean_square) for one in found]), atol=1e-12)
    for degree in range(3, 16):
        assert sum(one.degree == degree for one in found) == SYMMETRIES[name].multiplicity(degree)


def test_degrees_of_the_tetrahedral_harmonics() -> None:
    # 3 + 4j + 6k, each in as many ways; sixteen up to degree 25
    degrees = [one.degree for one in basis("tetrahedral", 25)]
    assert degrees == sorted(3 + 4 * j + 6 * k for j in range(6) for k in range(4) if 3 + 4 * j + 6 * k <= 25)
    assert len(degrees) == 16


def test_the_first_harmonic_is_xyz() -> None:
    directions = some_directions(50)
    body = SmoothBody("tetrahedral", 3, (1 / XYZ,))
    assert np.allclose(body.support(directions) - 0.5, directions.prod(axis=1), atol=1e-14)


@pytest.mark.parametrize("name", SYMMETRIES)
def test_width_surface_and_radii_follow_from_values_alone(name: str) -> None:
    body, directions = some_body(name, 3), some_directions(12, 5)
    assert np.abs(body.width(directions) - 1).max() < 1e-9

    def height(x: np.ndarray) -> float:
        size = np.linalg.norm(x)
        return float(size * body.support(x[None] / size)[0])

    step = 1e-4
    axes = np.eye(3) * step
    for direction, point, radii in zip(
        directions, body.points(directions), body.radii(directions), strict=True
    ):
        slope = [(height(direction + e) - height(direction - e)) / (2 * step) for e in axes]
        assert np.allclose(slope, point, atol=1e-6)
        bend = [
            [
                (
                    height(direction + a + b)
                    - height(direction + a - b)
                    - height(direction - a + b)
                    + height(direction - a - b)
                )
                / (4 * step**2)
                for a in axes
            ]
            for b in axes
        ]
        assert np.allclose(np.linalg.eigvalsh(bend)[1:], radii, atol=1e-5)


@pytest.mark.parametrize("name", SYMMETRIES)
def test_radii_at_opposite_points_add_up_to_the_width(name: str) -> None:
    body, directions = some_body(name, 4), some_directions(40)
    here, there = body.radii(directions), body.radii(-directions)
    assert np.allclose(here[:, 0] + there[:, 1], 1, atol=1e-10)


def test_degree_three_exactly() -> None:
    most = certify(cubic(LARGEST_A), 1e-5).most
    assert most == pytest.approx(0.5, abs=1e-5)
    assert most >= 0.5 - 1e-12
    assert certify(cubic(LARGEST_A * 1.001), 1e-5).seen > 0.5
    # settling: a/(3√3)/2 of a width of 1
    assert settling(cubic(LARGEST_A)) == pytest.approx(sqrt(2) / 16, abs=1e-12)


def test_area_and_volume_of_degree_three() -> None:
    # S = 4π(1 − a²/21), V = 4π/3 − 4πa²/21 at width 2
    a = Fraction(3, 4)
    body = cubic(float(a))
    assert area_over_pi(body) == 1 - a * a / 21
    assert volume_over_pi(body) == Fraction(1, 6) - a * a / 42


@pytest.mark.parametrize("name", SYMMETRIES)
def test_blaschke_s_relation_and_the_centre_of_mass(name: str) -> None:
    body = some_body(name, 6)
    directions, weights = gauss_sphere(4 * body.degree + 1)
    radii = body.radii(directions)
    volume = float(weights @ (body.support(directions) * radii[:, 0] * radii[:, 1])) / 3
    area = float(weights @ (radii[:, 0] * radii[:, 1]))
    assert area == pytest.approx(float(area_over_pi(body)) * pi, abs=1e-10)
    assert volume == pytest.approx(area / 2 - pi / 3, abs=1e-10)
    assert volume == pytest.approx(float(volume_over_pi(body)) * pi, abs=1e-10)
    points = body.points(directions)
    share = weights * body.support(directions) * radii[:, 0] * radii[:, 1] / 4
    assert np.abs(share @ points).max() < 1e-10


def test_moments_of_a_ball() -> None:
    # ∫ x² over a ball of radius ½ is 4π/15 · (½)⁵
    found = moments(SmoothBody("tetrahedral", 3, ()))
    assert np.allclose(found, np.eye(3) * 4 * pi / 15 / 32, atol=1e-14)


def lowest_points(body: SmoothBody, halvings: int) -> np.ndarray:
    """The directions of a fine sphere at which the support function is no greater than at their neighbours."""
    directions, triangles = sphere(halvings)
    height = body.support(directions)
    least = height.copy()
    for a, b in ((0, 1), (1, 2), (2, 0)):
        np.minimum.at(least, triangles[:, a], height[triangles[:, b]])
        np.minimum.at(least, triangles[:, b], height[triangles[:, a]])
    return directions[height <= least]


def rests_agree(seed: int, halvings: int) -> None:
    """The hull of a tetrahedral body, its volume and its stable rests, by a general library, agree with ours."""
    import trimesh

    # steep enough that a triangle on a slope is no rest of the library's; of those at saddles each has hardly a chance
    body = some_body("tetrahedral", seed, 9, led=8.0)
    points, triangles, _ = surface(body, halvings)
    assert trimesh.Trimesh(points, triangles, process=False).is_watertight
    mesh = trimesh.convex.convex_hull(points)
    # chords cut off 1.6 % at three halvings, a quarter of that at each further one
    assert mesh.volume == pytest.approx(float(volume_over_pi(body)) * pi, rel=1.1 / 4**halvings)
    turns, chances = trimesh.poses.compute_stable_poses(mesh, threshold=0.0)
    downs, ours = -turns[:, 2, :3], lowest_points(body, halvings)
    near = 3.2 / 2**halvings
    away = np.linalg.norm(downs[chances > 0.01][:, None] - ours[None], axis=2)
    assert away.min(axis=1).max() < near, "each of its rests is one of ours"
    assert away.min(axis=0).max() < near, "each of ours is one of its"
    tips = np.array([[1, 1, 1], [1, -1, -1], [-1, 1, -1], [-1, -1, 1]]) / sqrt(3)
    for tip in tips:
        opposite = np.linalg.norm(downs + tip, axis=1) < 2 * near
        assert chances[opposite].sum() == pytest.approx(1 / 4, abs=0.01)
    assert resting(body).stable


def test_hull_and_rests_by_a_general_library() -> None:
    rests_agree(100, 3)


@pytest.mark.quality
@pytest.mark.parametrize("seed", range(100, 120))
def test_twenty_bodies_by_a_general_library(seed: int) -> None:
    rests_agree(seed, 4)


def test_the_certificate_is_above_a_fine_sample() -> None:
    for seed, name in enumerate(SYMMETRIES):
        body = some_body(name, 20 + seed)
        radii = body.radii(some_directions(20_000, seed))
        found = certify(body, 1e-3)
        assert 0.5 - radii[:, 0].min() <= found.most
        assert found.most <= 0.4801
        assert found.most == pytest.approx(found.seen, rel=2e-3)


@pytest.mark.parametrize("name", SYMMETRIES)
def test_no_body_exceeds_the_bound(name: str) -> None:
    # two tips of a body of width 1 are no farther apart than 1
    group = SYMMETRIES[name]
    tips = np.array(tips_of(name))
    apart = np.linalg.norm(tips[:, None] - tips[None], axis=2).max()
    assert group.bound == pytest.approx(1 / apart - 0.5)
    for seed in range(6):
        # the least radius is 2 % or more, which the bound is told
        assert settling(some_body(name, 500 + seed, led=3.0)) < group.bound * 0.96


def test_a_coarser_certificate_is_weaker_but_holds() -> None:
    body = some_body("tetrahedral", 9)
    fine, coarse = certify(body, 1e-4), certify(body, 5e-2)
    assert coarse.points < fine.points
    assert coarse.most >= fine.seen


def test_a_certificate_that_needs_too_many_points_is_refused() -> None:
    with pytest.raises(ValueError, match="needs"):
        certify(some_body("tetrahedral", 9), 1e-12)


def test_the_way_over_half_the_width_is_proved_where_it_is() -> None:
    assert way_is_half(cubic(0.9))
    # upside down, f is below 0 at the tip
    assert not way_is_half(cubic(-0.9))
    told = {True: 0, False: 0}
    for name in SYMMETRIES:
        for seed in range(8):
            body = some_body(name, 300 + seed, 9)
            start, longitude = body.group.tip
            theta = np.linspace(1e-3, start, 400)
            value = body.field(theta, np.full(400, longitude)).value / np.sin(theta) ** body.group.order
            told[way_is_half(body)] += 1
            assert way_is_half(body) == bool(value.min() > 0)
    assert min(told.values()) > 2, "both cases must come up"


def test_how_the_cubic_body_lies() -> None:
    lies = resting(cubic(LARGEST_A))
    assert lies.tip == pytest.approx((0.0581, 0.0581), abs=1e-4)
    assert lies.contact == pytest.approx((0.9419, 0.9419), abs=1e-4)
    assert lies.height == pytest.approx(0.4116, abs=1e-4)
    assert lies.over == 0.5
    assert lies.stable
    assert lies.hertz(20) > lies.hertz(80) > 0
