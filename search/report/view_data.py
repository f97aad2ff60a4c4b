"""What the view to turn needs of a marked solid, as compact values for JSON, the same for the same input."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from facewright.search.report.page_data import Pool

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Kind, Solid
    from facewright.search.artwork.marks import Artwork, Ring

DECIMALS = 5
"""Of coordinates, in inradii, and of turns, in radians."""

FINE = 1000
"""Outlines are written in whole thousandths of the height of a figure."""

TOPS: dict[str, Kind] = {"face above": "faces", "vertex above": "vertices", "edge above": "edges"}
"""The kind of the site that carries a rest's label, by where the solid is read; from below it is a face, too."""

Packed = dict[str, Any]


def solid_data(solid: Solid) -> Packed:
    """A solid: its vertices, faces, where it is read, and for each rest the face below and the site on top.

    Numbers of sites begin at 0; a rest that is read from below has None on top.

    Example:
        >>> from facewright.constraints.solids import solid
        >>> solid_data(solid("cube"))["rests"]
        [[0, 5], [1, 3], [2, 4], [3, 1], [4, 2], [5, 0]]
    """
    return {
        "name": solid.name,
        "vertices": [[_rounded(x) for x in vertex] for vertex in solid.vertices.tolist()],
        "faces": [list(face) for face in solid.faces],
        "read": solid.read,
        "rests": [[rest.below, rest.on_top] for rest in solid.rests],
    }


def artwork_data(artwork: Artwork, readouts: Sequence[str] = ()) -> Packed:
    """A marked solid: the solid, each different shape once, the marks in their places on the faces.

    Params:
        artwork: the solid with everything that stands on it.
        readouts: the names of its readouts; none for a plain numbering.
    Returns: `solid` as `solid_data`; `shapes`, each a text and its closed rings, flat, in thousandths of the height of
        a figure; `marks`, each its site, its face, its readout (None where there is only one), its shape, then the
        centre in the frame of the face, the height in inradii and the turn in radians; `readouts`.
    """
    from facewright.search.artwork.badges import drawn

    shapes = Pool()
    marks = [
        [
            mark.site,
            mark.face,
            mark.readout,
            shapes.place((mark.text, mark.readout)),
            *map(_rounded, (*mark.centre, mark.height, mark.angle)),
        ]
        for mark in artwork.marks
    ]
    return {
        "solid": solid_data(artwork.solid),
        "shapes": [[text, _flat(drawn(text, readout))] for text, readout in shapes.values],
        "marks": marks,
        "readouts": list(readouts),
    }


def read_sites(solid: Solid) -> tuple[str, ...]:
    """For each rest the site that carries its label: the one on top, or the face below where that is read.

    Example:
        >>> from facewright.constraints.solids import solid
        >>> read_sites(solid("tetrahedron"))
        ('v4', 'v3', 'v2', 'v1')
    """
    names = solid.sites(TOPS.get(solid.read, "faces"))
    return tuple(names[rest.below if rest.on_top is None else rest.on_top] for rest in solid.rests)


def numbering_data(carried: Iterable[tuple[str, Iterable[int]]]) -> Packed:
    """What a page needs to draw any numbering of some solids: geometry once a solid, outlines once a character.

    Params:
        carried: each solid by its name, with all labels that stand on it in any design.
    Returns: `solids`, by name, each as `solid_data` with its `slots` (number of characters → the marks of such texts,
        in the order of the rests; each a list of places, as `place`, on a face: the face, then the position in
        `frames` of centre, height and turn); `characters`, each its pen's way and its rings in thousandths. A solid
        that cannot be built is left out.
    """
    from facewright.constraints.solids import solid
    from facewright.constraints.texts import TextError

    solids: Packed = {}
    characters: set[str] = set()
    for name, labels in carried:
        texts = {str(label) for label in labels}
        try:
            built = solid(name)
        except TextError:
            continue
        solids[name] = {**solid_data(built), **_slots(built, {len(text) for text in texts})}
        characters.update(*texts)
    return {"solids": solids, "characters": {one: _character(one) for one in sorted(characters)}}


def _slots(solid: Solid, lengths: Iterable[int]) -> Packed:
    """Where texts of given lengths stand on each rest's site, the places that repeat written once."""
    from facewright.search.artwork.placing import artwork_of

    frames, slots = Pool(), {}
    sites = read_sites(solid)
    for length in sorted(lengths):
        marks = artwork_of(solid, [dict.fromkeys(sites, "8" * length)]).marks
        slots[str(length)] = [
            [
                [mark.face, frames.place(tuple(map(_rounded, (*mark.centre, mark.height, mark.angle))))]
                for mark in marks
                if mark.site == site
            ]
            for site in sites
        ]
    return {"slots": slots, "frames": [list(frame) for frame in frames.values]}


def _character(one: str) -> list[Any]:
    from facewright.search.artwork.glyphs import character

    rings, onward = character(one)
    return [round(FINE * onward), _flat(rings)]


def _flat(rings: Sequence[Ring]) -> list[list[int]]:
    """Rings in whole thousandths, x and y in turn; corners that fall together are one."""
    flat = []
    for ring in rings:
        corners = [(round(FINE * x), round(FINE * y)) for x, y in ring]
        kept = [
            corner
            for corner, before in zip(corners, [corners[-1], *corners[:-1]], strict=True)
            if corner != before
        ]
        flat.append([value for corner in kept for value in corner])
    return flat


def _rounded(value: float) -> float:
    """A number as it is written: no minus before zero, no point behind whole numbers."""
    near = round(value, DECIMALS)
    return int(near) if near == int(near) else near
