"""What the view to turn needs of a marked solid, as compact values for JSON, the same for the same input."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from typing import TYPE_CHECKING, Any

from facewright.search.report.page_data import Pool

if TYPE_CHECKING:
    from facewright.constraints.readouts import Label
    from facewright.constraints.solids.solid import Solid
    from facewright.search.artwork.marks import Artwork, Ring

DECIMALS = 5
"""Of coordinates, in inradii, and of turns, in radians."""

FINE = 1000
"""Outlines are written in whole thousandths of the height of a figure."""

Packed = dict[str, Any]
Shape = str | float | Sequence[float]


def solid_data(solid: Solid, *, from_below: bool = False) -> Packed:
    """A solid: its vertices, faces, where it is read, and for each rest the face below and the site on top.

    Numbers of sites begin at 0; a rest that is read from below has None on top, and so has any `from_below`.

    Example:
        >>> from facewright.constraints.solids import solid
        >>> solid_data(solid("cube"))["rests"]
        [[0, 5], [1, 3], [2, 4], [3, 1], [4, 2], [5, 0]]
    """
    return {
        "name": solid.name,
        "vertices": [[_rounded(x) for x in vertex] for vertex in solid.vertices.tolist()],
        "faces": [list(face) for face in solid.faces],
        "read": "face below" if from_below else solid.read,
        "rests": [[rest.below, None if from_below else rest.on_top] for rest in solid.rests],
    }


def artwork_data(artwork: Artwork, readouts: Sequence[str] = ()) -> Packed:
    """A marked solid: the solid, each different shape once, the marks in their places on the faces.

    Params:
        artwork: the solid with everything that stands on it.
        readouts: the names of its readouts; none for a plain numbering. Where that stands on the faces of a solid that
            shows a corner or an edge on top, it is read from below.
    Returns: `solid` as `solid_data`; `shapes`, each a text and its closed rings, flat, in thousandths of the height of
        a figure; `marks`, each its site, its face, its readout (None where there is only one), its shape, then the
        centre in the frame of the face, the height in inradii and the turn in radians; `readouts`.
    """
    from facewright.search.artwork.badges import shape_of

    shapes = Pool()
    marks = [
        [
            mark.site,
            mark.face,
            mark.readout,
            shapes.place((mark.text, shape_of(mark))),
            *map(_rounded, (*mark.centre, mark.height, mark.angle)),
        ]
        for mark in artwork.marks
    ]
    faces = not readouts and all(mark.site[0] == "f" for mark in artwork.marks)
    return {
        "solid": solid_data(artwork.solid, from_below=faces and artwork.solid.read != "face above"),
        "shapes": [[text, _flat(rings)] for text, rings in shapes.values],
        "marks": marks,
        "readouts": list(readouts),
    }


def laid_data(name: str, shape: Shape, labels: Sequence[Label]) -> Packed | None:
    """A die as it is laid out, as `artwork_data`; None for a solid that cannot be built.

    Params:
        name: the solid's name.
        shape: its free proportions.
        labels: the label that each rest reads, in the order of the rests.
    """
    from facewright.constraints.solids import solid
    from facewright.constraints.texts import TextError
    from facewright.search.artwork.laid import sites_read
    from facewright.search.artwork.placing import artwork_of

    try:
        built = solid(name, shape)
    except TextError:
        return None
    return artwork_data(artwork_of(built, [dict(zip(sites_read(built), labels, strict=True))]))


def numbering_data(carried: Iterable[tuple[str, Shape, Iterable[int]]]) -> Packed:
    """What a page needs to draw any numbering of some solids: geometry once a solid, outlines once a character.

    Params:
        carried: each solid by its name and shape, with all labels that stand on it in any design.
    Returns: `solids`, in order, each as `solid_data` with its `slots`, or None for one that cannot be built; of these
        each (number of characters, then "!" with the line that says which way is up) has, in the order of the rests, a
        list of places: a face with the position in `frames` of centre, height and turn. `characters` are each the
        pen's way and rings, `line` the space above that line and its width, in thousandths of the height of a figure.
    """
    from facewright.constraints.solids import solid
    from facewright.constraints.texts import TextError
    from facewright.search.artwork.lettering import LINE, LINE_GAP

    solids: list[Packed | None] = []
    characters: set[str] = set()
    for name, shape, labels in carried:
        numbers = set(labels)
        try:
            built = solid(name, shape)
        except TextError:
            solids.append(None)
            continue
        solids.append({**solid_data(built), **_slots(built, numbers)})
        characters.update(*map(str, numbers))
    return {
        "solids": solids,
        "characters": {one: _character(one) for one in sorted(characters)},
        "line": [round(FINE * LINE_GAP), round(FINE * LINE)],
    }


def _slots(solid: Solid, labels: Collection[int]) -> Packed:
    """Where labels as long as some stand on each rest's site, the places that repeat written once."""
    from facewright.search.artwork.laid import sites_read
    from facewright.search.artwork.placing import artwork_of
    from facewright.search.artwork.turning import mistaken

    frames, slots = Pool(), {}
    sites = sites_read(solid)
    unsure = {len(str(label)) for label in mistaken(labels)}
    for length in sorted({len(str(label)) for label in labels}):
        asked = {str(length): (8,), f"{length}!": (6, 9)} if length in unsure else {str(length): (8,)}
        for key, figures in asked.items():
            texts = [int(str(figures[place % len(figures)]) * length) for place in range(len(sites))]
            marks = artwork_of(solid, [dict(zip(sites, texts, strict=True))]).marks
            slots[key] = [
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
