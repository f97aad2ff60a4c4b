"""The structure of a layout brief: every key with its type and, in words, what it accepts."""

from __future__ import annotations

from typing import Annotated, Literal

from facewright.constraints.brief.models import (
    GOALS_FORM,
    MOST_DICE,
    MOST_LISTED,
    SHAPE_FORM,
    CommonPart,
    FaceCount,
    Label,
    Part,
    ShapeItem,
)
from facewright.constraints.layout import SIZES
from facewright.constraints.solids.names import LEAST_FACES
from pydantic import Discriminator, Field, Tag

MOST_MM = 1000
"""How large a die may be, in millimetres."""
LABELS_FORM = 'a range such as "1..20", or a list of labels such as [1, 1, 2, 3] or ["N", "E", "S", "W"]'
DRAW_FORM = '"face", "edge", "vertex", or a direction such as [0, 0, 1]'

_SORTS: dict[type, str] = {int: "a count", float: "a number", str: "a text", list: "a list"}


def _sort(value: object) -> str | None:
    return _SORTS.get(type(value))


OneLabel = Annotated[Annotated[Label, Tag("a count")] | Annotated[str, Tag("a text")], Discriminator(_sort)]
Place = Annotated[
    Annotated[str, Tag("a text")]
    | Annotated[list[OneLabel], Field(min_length=LEAST_FACES, max_length=MOST_LISTED), Tag("a list")],
    Discriminator(_sort),
]
OneSolid = Annotated[
    Annotated[FaceCount, Tag("a count")] | Annotated[str, Tag("a text")], Discriminator(_sort)
]
Coordinate = Annotated[float, Field(ge=-1e6, le=1e6, allow_inf_nan=False)]
DrawItem = Annotated[
    Annotated[Literal["face", "edge", "vertex"], Tag("a text")]
    | Annotated[list[Coordinate], Field(min_length=3, max_length=3), Tag("a list")],
    Discriminator(_sort),
]


class FromPart(Part):
    """`from`: a die of a run."""

    run: str | None = Field(None, description='the name of a run, or its folder, such as "harbour-dues"')
    design: str | None = Field(None, description='the id of a design or its beginning, such as "3f2a"')
    die: Annotated[int, Field(ge=1, le=MOST_DICE)] | None = Field(
        None, description="which die of the design, counted from 1"
    )


class LayoutPart(CommonPart):
    """A layout brief."""

    solid: OneSolid | None = Field(
        None, description='the name of a solid such as "icosahedron", or a face count'
    )
    shape: ShapeItem | None = Field(None, description=SHAPE_FORM)
    place: Place | None = Field(None, description=LABELS_FORM)
    from_: FromPart | None = Field(
        None, alias="from", description='a table such as { run = "harbour-dues", design = "3f2a", die = 2 }'
    )
    layout: list[str] | None = Field(None, description=GOALS_FORM)
    size_mm: Annotated[float, Field(gt=0, le=MOST_MM, allow_inf_nan=False)] | None = Field(
        None, description=f"millimetres, a number above 0, up to {MOST_MM:,}"
    )
    size_is: str | None = Field(None, description=", ".join(f'"{one}"' for one in SIZES))
    draw: DrawItem | None = Field(None, description=DRAW_FORM)
    same_under: Literal["rotation", "reflection"] | None = Field(
        None, description='"rotation" or "reflection"'
    )
    rename: bool | None = Field(None, description="true or false")


LAYOUT_ITEMS = {
    "place": "a whole number or a text, one a face",
    "draw": "a number",
}
"""What one item of a list accepts."""

LAYOUT_TABLES: dict[str, type[Part]] = {"from": FromPart}
"""The model of a table, by the key under which it stands."""
