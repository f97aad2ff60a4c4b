"""How high the characters of a die can be, from its solid and its longest label, for the score `legible`."""

from __future__ import annotations

import math
from functools import lru_cache

from facewright.constraints.texts import TextError
from facewright.search.report.scores import Characters


@lru_cache(maxsize=4096)
def height_over_size(solid: str, rests: int, characters: int, drawing: Characters) -> float:
    """How high a label of so many characters can be, over the size of the die from tip to tip.

    On the solid it stands where the solid is read, with the clear space that numerals get. Where no such solid is
    built (past 120 faces a die is a ball) a face is taken as a disc, all discs together as large as a sphere.

    Params:
        solid: the name of the solid, in its default proportions.
        rests: how many rests it has.
        characters: how many the longest label has.
        drawing: how wide characters are.
    """
    from facewright.constraints.solids import solid as solid_of
    from facewright.constraints.solids.sizes import measures
    from facewright.search.artwork.placing import read_at
    from facewright.search.artwork.shares import spots
    from facewright.search.artwork.wishes import Size

    size = Size(_wide(characters, drawing) / 2, -0.5, 0.5)
    try:
        body = solid_of(solid)
    except TextError:
        # 4πr² shared out among discs of diameter d: d = 4r/√n, over a size of 2r
        return 2 / math.sqrt(rests) / math.hypot(size.across, size.tall)
    found = spots(body, [dict.fromkeys(read_at(body).values(), size)])
    return min(spot.height for spot in found) / measures(body)["tip-to-tip"]


def _wide(characters: int, drawing: Characters) -> float:
    """The width of a label over its height."""
    return characters * drawing.width + (characters - 1) * drawing.spacing
