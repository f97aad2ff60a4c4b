"""Why a layout's guards are in one order on a smooth body and on the flat solid with the same rests.

The changes of all chances are a linear function of a small flaw, and turn with it. If the symmetry leaves one such
function but for a factor (Schur's lemma), that of the smooth body and that of the flat solid are in one proportion.
"""

from __future__ import annotations

import numpy as np
import pytest
from facewright.constraints.solids.smooth.companion import tips
from facewright.constraints.solids.smooth.symmetries import SYMMETRIES


def group_of(name: str) -> list[np.ndarray]:
    """The matrices of a point group, from its generators."""
    if SYMMETRIES[name].cubic:
        made = [
            np.eye(3)[[1, 2, 0]],
            np.eye(3)[[1, 0, 2]],
            np.diag([-1.0, -1, 1]),
        ]
    else:
        turn = 2 * np.pi / SYMMETRIES[name].ways
        c, s = np.cos(turn), np.sin(turn)
        made = [
            np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]]),
            np.diag([1.0, -1, 1]),
            np.diag([1.0, 1, -1]),
        ]
    found = [np.eye(3)]
    for one in found:
        for other in made:
            product = other @ one
            if not any(np.allclose(product, known) for known in found):
                found.append(product)
    return found


@pytest.mark.parametrize("name", SYMMETRIES)
def test_symmetry_leaves_one_way_in_which_a_flaw_moves_the_chances(name: str) -> None:
    group, places = group_of(name), np.array(tips(name))
    assert len(group) == (24 if SYMMETRIES[name].cubic else 4 * len(places))
    off_centre = out_of_round = 0.0
    for one in group:
        moved = places @ one.T
        fixed = int((np.linalg.norm(moved - places, axis=1) < 1e-9).sum())
        assert all(np.linalg.norm(places - tip, axis=1).min() < 1e-9 for tip in moved)
        # characters: of a shift of the centre, of a stretch that keeps the volume, of changes that add up to 0
        shift = np.trace(one)
        stretch = (shift**2 + np.trace(one @ one)) / 2 - 1
        off_centre += shift * (fixed - 1) / len(group)
        out_of_round += stretch * (fixed - 1) / len(group)
    assert off_centre == pytest.approx(1)
    assert out_of_round == pytest.approx(1)
