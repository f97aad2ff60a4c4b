"""The rotations worked out again are those from which the solids were built."""

from __future__ import annotations

import pytest
from facewright.constraints.solids import solid
from facewright.constraints.solids.catalogue import listed
from facewright.search.recount_turns import same_orbit, vertex_turns

NAMES = listed(sides=8)


@pytest.mark.parametrize("name", NAMES)
def test_the_same_rotations(name: str) -> None:
    body = solid(name)
    corners = tuple(tuple(one) for one in body.vertices.tolist())
    turns = vertex_turns(corners, body.faces)
    assert sorted(turns) == sorted({action.vertices for action in body.rotations})
    for kind in ("vertices", "edges"):
        for orbit in body.orbits[kind]:
            sites = [body.sites(kind)[at] for at in orbit]
            assert same_orbit(sites, corners, body.faces, body.edges)
        if len(body.orbits[kind]) > 1:
            mixed = [body.sites(kind)[orbit[0]] for orbit in body.orbits[kind][:2]]
            assert not same_orbit(mixed, corners, body.faces, body.edges)
