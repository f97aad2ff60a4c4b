"""What the rests of a solid show, and the choices of sites of which each rest shows exactly one."""

from __future__ import annotations

import pytest
from facewright.constraints.solids import solid
from facewright.constraints.views import SiteKind, Views, views_of

from tests.solids_by_hand import cube, octahedron, rhombic_dodecahedron

BY_HAND = {one.solid: one for one in (cube(), octahedron(), rhombic_dodecahedron())}


def shape(views: Views) -> list[tuple[str, int, int, int]]:
    return sorted((kind.place, len(kind.sites), kind.seen_from, kind.cuts) for kind in views.kinds)


@pytest.mark.parametrize("name", BY_HAND)
def test_a_solid_built_by_hand_shows_the_same(name: str) -> None:
    ours, hand = views_of(solid(name)), BY_HAND[name]
    assert shape(ours) == shape(hand)
    assert len(ours.rotations) == len(hand.rotations) == 24
    assert len(ours.symmetries) == len(hand.symmetries) == 48
    assert ours.names == hand.names


def test_each_site_is_of_one_kind_and_every_rest_shows_what_it_should() -> None:
    views = views_of(solid("rhombic dodecahedron"))
    assert sorted(site for kind in views.kinds for site in kind.sites) == list(range(12 + 14 + 24))
    for kind in views.kinds:
        assert sum(len(shown) for shown in kind.seen) == kind.seen_from * len(kind.sites)


def kinds(name: str, place: str) -> list[SiteKind]:
    return [kind for kind in views_of(solid(name)).kinds if kind.place == place]


@pytest.mark.parametrize(
    ("name", "vertices", "edges"), [("cube", 4, 8), ("octahedron", 3, 9), ("dodecahedron", 10, 125)]
)
def test_choices_of_sites(name: str, vertices: int, edges: int) -> None:
    # source: own computation, by a separate program
    for place, number in (("vertices", vertices), ("edges", edges)):
        [kind] = kinds(name, place)
        found = list(kind.choices())
        assert len(found) == len(set(found)) == number
        for choice in found:
            assert all(len(choice & set(shown)) == 1 for shown in kind.seen)


def test_faces_are_one_kind_although_rotations_make_two_of_them() -> None:
    [faces] = kinds("disdyakis dodecahedron", "faces")
    assert len(faces.sites) == 48
    assert faces.own


def test_the_three_edged_vertices_of_the_rhombic_dodecahedron_split_in_two_halves() -> None:
    # common practice, no source
    [eight] = [kind for kind in kinds("rhombic dodecahedron", "vertices") if kind.cuts == 3]
    halves = list(eight.choices())
    assert len(halves) == 2
    assert halves[0] | halves[1] == set(eight.sites)
