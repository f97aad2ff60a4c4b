"""What stands on a smooth body, and where: numbers, labels or readouts about its tips and beside its ridges."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from facewright.constraints.layout import Layout
from facewright.constraints.readouts import Label, Readouts
from facewright.constraints.solids.smooth.companion import companion, site_direction, tips, turned
from facewright.search.artwork.badges import badged, extent_of
from facewright.search.artwork.lettering import USUAL
from facewright.search.artwork.marks import Ring
from facewright.search.artwork.placing import read_at
from facewright.search.artwork.turning import mistaken

if TYPE_CHECKING:
    from facewright.constraints.solids.smooth.body import SmoothBody

HIGH = 0.17
"""The height of a numeral as a share of the width (our choice: three fit about a tip)."""
WIDE = 0.23
"""How wide a label may be, as a share of the width: a longer one is smaller."""
BELOW = 1.15
"""How far the middle of a numeral is from its tip, in heights of the numeral."""
APART = 1.3
"""How far a second one is below the first, likewise."""


@dataclass(frozen=True)
class Numeral:
    """One copy of a label on a body of width 1.

    `site` is the place that carries it, a site of the solid with the same rests; `readout` the position of its readout,
    None where there is one result. `rings` is its outline, figures one unit high, and `high` that unit on the body;
    `foot` is where its middle is, with its axes there, shape (3,) each.
    """

    site: str
    text: str
    readout: int | None
    rings: tuple[Ring, ...]
    high: float
    foot: np.ndarray
    across: np.ndarray
    up: np.ndarray
    normal: np.ndarray


@dataclass(frozen=True)
class Reading:
    """What a body reads: for each tip, on top while it is read, its direction and its text ("wind 2, tide 1")."""

    tip: np.ndarray
    text: str


def carried_by(laid: Sequence[Any], of: str) -> list[Mapping[str, Label]]:
    """For each readout of a body's design (one for plain labels) its sites with their labels; nothing without any.

    Params:
        laid: the `layouts` of an answer.
        of: the id of the design.
    """
    for one in laid:
        if one.of == of and one.found:
            [design] = one.found
            if isinstance(one.question, Layout):
                tops = read_at(companion_of(one))
                return [{tops[face]: label for face, label in design.faces}]
            return [dict(pairs) for _, pairs in design.sites]
    return []


def companion_of(one: Any) -> Any:
    """The solid on which a layout stands."""
    from facewright.constraints.solids import solid

    return solid(one.question.solid if isinstance(one.question, Layout) else one.found[0].solid)


def readings(
    symmetry: str, carried: Sequence[Mapping[str, Label]], names: Sequence[str] = ()
) -> list[Reading]:
    """What each rest reads, in the order of the tips; their numbers where nothing is carried.

    Params:
        symmetry: of the body.
        carried: for each readout its sites with their labels.
        names: of the readouts, where there are several.
    """
    directions = tips(symmetry)
    if not carried:
        return [Reading(tip, str(place)) for place, tip in enumerate(directions, 1)]
    body = companion(symmetry)
    letters = {"vertices": "v", "edges": "e", "faces": "f"}
    found = []
    for tip, rest in zip(directions, body.rests, strict=True):
        seen = {f"{letters[kind]}{site + 1}" for kind, sites in rest.shows.items() for site in sites}
        read = [next(str(label) for site, label in sites.items() if site in seen) for sites in carried]
        named = zip(names, read, strict=True) if len(names) > 1 else (("", one) for one in read)
        found.append(Reading(tip, ", ".join(f"{name} {one}".strip() for name, one in named)))
    return found


def names_of(question: Any) -> tuple[str, ...]:
    """The names of the readouts that a question of a smooth body asks for."""
    return tuple(one.name for one in question.marks.readouts) if isinstance(question.marks, Readouts) else ()


def numerals(body: SmoothBody, carried: Sequence[Mapping[str, Label]] = ()) -> list[Numeral]:
    """Every numeral of a body; without labels the numbers of its tips.

    Those of a tip stand three times about it, between the ridges, or on a body with its rests around twice, above and
    below; those of a ridge once on either side. Their heads are towards the tip or the ridge. Labels of one readout are
    equally high; readouts have badges, as on solids with flat faces.
    """
    if not carried:
        tops = read_at(companion(body.symmetry))
        carried = [{site: place for place, site in enumerate(tops.values(), 1)}]
    several, found = len(carried) > 1, []
    stacked: dict[tuple[float, ...], int] = defaultdict(int)
    for number, sites in enumerate(carried):
        readout = number if several else None
        drawn = {site: _outline(label, sites, readout) for site, label in sites.items() if str(label)}
        half = max(extent_of(rings)[2] for rings in drawn.values())
        high = min(HIGH, WIDE / (2 * half))
        for site, rings in drawn.items():
            top = _top(body, site)
            for level in _sides(body, site, top):
                key = tuple((top + 10 * level).round(6).tolist())
                low = BELOW * HIGH + stacked[key] * APART * HIGH
                stacked[key] += 1
                where = _placed(body, top, level, low)
                found.append(Numeral(site, str(sites[site]), readout, rings, high, *where))
    return found


def _outline(label: Label, sites: Mapping[str, Label], readout: int | None) -> tuple[Ring, ...]:
    """The outline of a label, with its line where it could be read upside down, and its badge."""
    unsure = mistaken(list(sites.values())) if readout is None else {}
    return tuple(badged(USUAL.outline(label, marked=label in unsure), readout))


def _top(body: SmoothBody, site: str) -> np.ndarray:
    """The tip or the middle of the ridge about which the marks of a site stand."""
    middle = site_direction(body.symmetry, site)
    if body.group.cubic:
        return middle
    # the ends of a log's edge belong to the tip that the edge stands for
    level = np.array([middle[0], middle[1], 0.0])
    return np.asarray(level / np.linalg.norm(level))


def _sides(body: SmoothBody, site: str, top: np.ndarray) -> list[np.ndarray]:
    """The directions, square to that of the top, in which marks of a site stand below it."""
    if not body.group.cubic:
        rise = site_direction(body.symmetry, site)[2]
        ways = (1.0, -1.0) if site.startswith("e") else (math.copysign(1.0, rise),)
        return [np.array([0.0, 0.0, way]) for way in ways]
    solid, number = companion(body.symmetry), int(site[1:]) - 1
    faces = solid.vertex_faces[number] if site.startswith("v") else solid.edge_faces[number]
    from facewright.constraints.solids.rests import outward

    normals = outward(solid.vertices, solid.faces)[0][list(faces)] @ turned(body.symmetry).T
    levels = normals - np.outer(normals @ top, top)
    return list(levels / np.linalg.norm(levels, axis=1)[:, None])


def _placed(
    body: SmoothBody, top: np.ndarray, level: np.ndarray, low: float
) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """The foot and the axes of a numeral on the way from a top in a direction, its middle so far from it."""

    def normal(lean: float) -> np.ndarray:
        return math.cos(lean) * top + math.sin(lean) * level

    head = body.points(top[None])[0]
    least, most = 0.0, math.pi / 2
    for _ in range(50):
        middle = (least + most) / 2
        far = float(np.linalg.norm(body.points(normal(middle)[None])[0] - head))
        least, most = (middle, most) if far < low else (least, middle)
    up = math.sin(least) * top - math.cos(least) * level
    here = normal(least)
    return body.points(here[None])[0], np.cross(up, here), up, here
