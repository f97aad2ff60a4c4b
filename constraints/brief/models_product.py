"""The structure of a product brief: every key with its type and, in words, what it accepts."""

from __future__ import annotations

from typing import Annotated, Literal

from facewright.constraints.brief.models import CommonPart, Part, Weight
from pydantic import Field, StringConstraints

MOST_DESIGNS = 200
"""How many designs a product brief may name."""
MOST_QUANTITIES = 12
MOST_SETS = 10**9
"""How many sets may be made."""
MOST_COLOURS = 50

_WEIGHT = "a weight, a whole number from 0 to 1,000"
_SETS = "a whole number of sets, from 1 to 1,000,000,000"
ROUTES_FORM = 'a list of routes: "marked-blanks", "cast", "mould"'
DESIGN_FORM = 'a design of a run, such as "harbour-dues/3f2a"'
COLOUR_FORM = 'a colour as six hexadecimal digits, such as "#f4efe2"'

Sets = Annotated[int, Field(ge=1, le=MOST_SETS)]
Colour = Annotated[str, StringConstraints(pattern=r"^#[0-9a-fA-F]{6}$")]
FileName = Annotated[
    str, StringConstraints(strip_whitespace=True, min_length=1, max_length=1000, pattern=r"^[^\p{Cc}]*$")
]


class MakePart(Part):
    """`make`."""

    by: (
        Annotated[list[Literal["marked-blanks", "cast", "mould"]], Field(min_length=1, max_length=3)] | None
    ) = Field(None, description=ROUTES_FORM)
    sets: Annotated[list[Sets], Field(min_length=1, max_length=MOST_QUANTITIES)] | None = Field(
        None, description="a list of numbers of sets, such as [500, 2000, 10000]"
    )
    compare_at: Sets | None = Field(None, description=_SETS)
    colours: Annotated[int, Field(ge=1, le=MOST_COLOURS)] | None = Field(
        None, description=f"a whole number from 1 to {MOST_COLOURS}: in how many colours the dice are made"
    )
    inks: Annotated[int, Field(ge=1, le=MOST_COLOURS)] | None = Field(
        None, description=f"a whole number from 1 to {MOST_COLOURS}: how many inks stand on a die"
    )
    currency: Annotated[str, StringConstraints(pattern=r"^[A-Z]{3}$")] | None = Field(
        None, description='three capital letters, such as "EUR"'
    )
    core: bool | None = Field(None, description="true or false: whether a core moulded first is tried")
    body: Colour | None = Field(None, description=COLOUR_FORM)
    ink: Colour | None = Field(None, description=COLOUR_FORM)


class ProductRankPart(Part):
    """`rank`, of a product brief."""

    readability: Weight | None = Field(None, description=_WEIGHT)
    cost: Weight | None = Field(None, description=_WEIGHT)
    legible: Weight | None = Field(None, description=_WEIGHT)
    familiar: Weight | None = Field(None, description=_WEIGHT)
    exactness: Weight | None = Field(None, description=_WEIGHT)
    guards: Weight | None = Field(None, description=_WEIGHT)
    settling: Weight | None = Field(None, description=_WEIGHT)
    novelty: Weight | None = Field(None, description=_WEIGHT)
    tooling: Weight | None = Field(None, description=_WEIGHT)


class ProductPart(CommonPart):
    """A product brief."""

    product: Annotated[list[str], Field(min_length=1, max_length=MOST_DESIGNS)] | None = Field(
        None, description='a list of designs of runs, such as ["harbour-dues/3f2a", "harbour-dues/91bc"]'
    )
    make: MakePart | None = Field(
        None, description='a table such as { by = ["cast", "mould"], sets = [500, 2000], currency = "EUR" }'
    )
    rates: FileName | None = Field(
        None, description='the name of a file beside the brief, such as "rates.toml"'
    )
    owned: FileName | None = Field(
        None, description='the name of a file beside the brief, such as "solids.toml"'
    )
    rank: ProductRankPart | None = Field(  # type: ignore[assignment]
        None, description="a table such as { readability = 2, cost = 1 }"
    )


PRODUCT_ITEMS = {
    "product": DESIGN_FORM,
    "by": '"marked-blanks", "cast" or "mould"',
    "sets": _SETS,
}
"""What one item of a list accepts."""

PRODUCT_TABLES: dict[str, type[Part]] = {"make": MakePart, "rank": ProductRankPart}
"""The model of a table, by the key under which it stands."""
