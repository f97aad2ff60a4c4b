"""The structure of a brief: every key with its type and, in words, what it accepts.

A field's description is what a fault says under "accepted". Nothing is required here: what a brief must have
is judged together with what it means, so that one fault does not hide another.
"""

from __future__ import annotations

from typing import Annotated, Literal

from facewright.constraints.contest import CONTESTS
from facewright.constraints.layout import GOALS
from facewright.constraints.own import LABEL_BOUND, MOST_LABELS
from facewright.constraints.readings import READINGS
from facewright.constraints.solids.names import LEAST_FACES, MOST_FACES
from pydantic import BaseModel, ConfigDict, Discriminator, Field, StringConstraints, Tag

MOST_LISTED = 10_000
"""How many labels `only` or `avoid` may list."""
MOST_WAYS = 10**30
"""How many ways one result may have."""
MOST_DICE = 100
"""How many dice one set may have."""
MOST_PAIRS = 1_000
"""How many pairs `beats` may list."""
MOST_RULES = 20
"""How many further rules a brief may have."""
MOST_RESTS = 120
"""How many rests a solid that carries readouts may have."""
MOST_SOLIDS = 100
"""How many solids a list may name."""
MOST_PROPORTIONS = 4
"""How many free proportions a solid may have."""
FEW_LABELS = 12
"""How many numbers a fault lists."""
READOUT_FORM = (
    f'a number of labels from 2 to {MOST_RESTS}, pairs label:weight as in "yes:1 no:2", or dice as in "2d3"'
)
GOALS_FORM = f"a list of what matters, most first, of: {', '.join(GOALS)}"
SOLID_FORM = 'a name such as "tetrakis hexahedron", a face count, a list of them, or "any up to 60"'

_LABELS = f"a whole number from -{LABEL_BOUND:,} to {LABEL_BOUND:,}"
_COUNT = f"a face count from {LEAST_FACES} to {MOST_FACES:,}"

Label = Annotated[int, Field(ge=-LABEL_BOUND, le=LABEL_BOUND)]
FaceCount = Annotated[int, Field(ge=LEAST_FACES, le=MOST_FACES)]
Line = Annotated[
    str, StringConstraints(strip_whitespace=True, min_length=1, max_length=200, pattern=r"^[^\p{Cc}]*$")
]
Weight = Annotated[int, Field(ge=0, le=1000)]


class Part(BaseModel):
    """A table of a brief: values of exactly these types, no other key."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True)


_SORTS_OF_SHAPE: dict[type, str] = {int: "a number", float: "a number", str: "a text", list: "a list"}


def _sort_of_shape(value: object) -> str | None:
    return _SORTS_OF_SHAPE.get(type(value))


Proportion = Annotated[float, Field(ge=-1e6, le=1e6, allow_inf_nan=False)]
ShapeItem = Annotated[
    Annotated[Proportion, Tag("a number")]
    | Annotated[str, Tag("a text")]
    | Annotated[list[Proportion], Field(min_length=1, max_length=MOST_PROPORTIONS), Tag("a list")],
    Discriminator(_sort_of_shape),
]
SHAPE_FORM = '"largest-numeral", "settles-best", a number, or a list of numbers'


class StopPart(Part):
    """`stop`."""

    seconds: Annotated[float, Field(gt=0, le=1e8, allow_inf_nan=False)] | None = Field(
        None, description="a number above 0, such as 600"
    )
    designs: Annotated[int, Field(ge=1, le=10**9)] | None = Field(
        None, description="a whole number from 1 to 1,000,000,000, such as 1000"
    )


class RankPart(Part):
    """`rank`."""

    readability: Weight | None = Field(None, description="a weight, a whole number from 0 to 1,000")
    legible: Weight | None = Field(None, description="a weight, a whole number from 0 to 1,000")
    familiar: Weight | None = Field(None, description="a weight, a whole number from 0 to 1,000")
    cost: Weight | None = Field(None, description="a weight, a whole number from 0 to 1,000")


class LabelPart(Part):
    """`labels`, of the whole brief or of one die."""

    lowest: Label | None = Field(None, description=_LABELS)
    highest: Label | None = Field(None, description=_LABELS)
    repeats: Annotated[int, Field(ge=1, le=MOST_LABELS)] | None = Field(
        None, description=f"a whole number from 1 to {MOST_LABELS:,}: how often one label may stand on a die"
    )
    only: Annotated[list[Label], Field(min_length=1, max_length=MOST_LISTED)] | None = Field(
        None, description="a list of the labels allowed, at least one, such as [1, 2, 3]"
    )
    avoid: Annotated[list[Label], Field(max_length=MOST_LISTED)] | None = Field(
        None, description="a list of the labels barred, such as [6]"
    )


class DiePart(Part):
    """An item of `dice` that is a table."""

    faces: FaceCount | None = Field(None, description=_COUNT)
    solid: str | None = Field(None, description='the name of a solid, such as "cube"')
    shape: ShapeItem | None = Field(None, description=SHAPE_FORM)
    labels: LabelPart | None = Field(
        None,
        description="a table such as { lowest = 0, highest = 6 }, over the brief's own part by part",
    )
    exactly: Annotated[list[Label], Field(min_length=LEAST_FACES, max_length=MOST_FACES)] | None = Field(
        None, description="a list of as many labels as the die has faces, such as [1, 2, 3]"
    )
    name: Annotated[Line, Field(max_length=60)] | None = Field(
        None, description="a short text, 1 to 60 characters on one line"
    )


Ways = dict[str, Annotated[int, Field(ge=1, le=MOST_WAYS)]]
ReadName = Literal[
    "total",
    "highest",
    "lowest",
    "difference",
    "signed-difference",
    "product",
    "side-by-side",
    "total-modulo",
    "middle",
    "total-of-highest",
    "total-of-lowest",
    "how-many",
    "each-beats-next",
    "every-order",
]
Modulo = Annotated[int, Field(ge=2, le=1_000_000)]
Keep = Annotated[int, Field(ge=1, le=MOST_DICE)]
_WORDS = {
    "like": 'a text such as "2d6", "d8 + d12" or "highest of 2d20"',
    "ways": "a table of results and their ways, such as { 2 = 1, 3 = 2, 4 = 1 }",
    "read": ", ".join(f'"{name}"' for name in READINGS),
    "modulo": "a whole number from 2 to 1,000,000",
    "keep": f"a whole number from 1 to {MOST_DICE}: how many labels count",
}
"""What keys that stand in several tables accept."""


class AlsoPart(Part):
    """An item of `also`: a further rule."""

    rule: Literal["equal-labels", "same-mean", "symmetric", "distinct", "also-read"] | None = Field(
        None, description='"equal-labels", "same-mean", "symmetric", "distinct" or "also-read"'
    )
    chance: str | None = Field(None, description='a fraction from 0 to 1 as a text, such as "1/6"')
    at_most: Annotated[int, Field(ge=1, le=MOST_LABELS)] | None = Field(
        None,
        description=f"a whole number from 1 to {MOST_LABELS:,}: how many different labels a die may carry",
    )
    read: ReadName | None = Field(None, description=_WORDS["read"])
    like: str | None = Field(None, description=_WORDS["like"])
    ways: Ways | None = Field(None, description=_WORDS["ways"])
    modulo: Modulo | None = Field(None, description=_WORDS["modulo"])
    keep: Keep | None = Field(None, description=_WORDS["keep"])
    at_least: Label | None = Field(None, description=_LABELS)


class CommonPart(Part):
    """The keys that every brief may have."""

    title: Line | None = Field(None, description="a text of 1 to 200 characters on one line")
    note: Annotated[str, Field(max_length=10_000)] | None = Field(
        None, description="a text of up to 10,000 characters"
    )
    schema_: Annotated[int, Field(ge=1, le=1)] | None = Field(None, alias="schema", description="1")
    stop: StopPart | None = Field(None, description="a table such as { seconds = 600, designs = 1000 }")
    rank: RankPart | None = Field(None, description="a table such as { readability = 2, cost = 1 }")


_SORTS_OF_DICE: dict[type, str] = {str: "a choice", list: "a list"}
_SORTS_OF_DIE: dict[type, str] = {int: "a count", str: "a name", dict: "a table"}


def _sort_of_dice(value: object) -> str | None:
    return _SORTS_OF_DICE.get(type(value))


def _sort_of_die(value: object) -> str | None:
    return _SORTS_OF_DIE.get(type(value))


DieItem = Annotated[
    Annotated[FaceCount, Tag("a count")] | Annotated[str, Tag("a name")] | Annotated[DiePart, Tag("a table")],
    Discriminator(_sort_of_die),
]
Dice = Annotated[
    Annotated[str, Tag("a choice")]
    | Annotated[list[DieItem | None], Field(min_length=1, max_length=MOST_DICE), Tag("a list")],
    Discriminator(_sort_of_dice),
]


Pattern = Annotated[
    Annotated[str, Tag("a choice")]
    | Annotated[
        list[Annotated[list[int], Field(min_length=2, max_length=2)] | None],
        Field(min_length=1, max_length=MOST_PAIRS),
        Tag("a list"),
    ],
    Discriminator(_sort_of_dice),
]


class NumberingPart(CommonPart):
    """A numbering brief."""

    like: str | None = Field(None, description=_WORDS["like"])
    ways: Ways | None = Field(None, description=_WORDS["ways"])
    read: ReadName | None = Field(
        None, description=", ".join([_WORDS["read"], *(f'"{name}"' for name in CONTESTS)])
    )
    dice: Dice | None = Field(
        None,
        description=f'a list of up to {MOST_DICE} dice, such as [6, "cube", {{ faces = 3 }}], '
        'or a choice such as "2 of 4 6 8"',
    )
    labels: LabelPart | None = Field(
        None, description="a table such as { lowest = 1, highest = 20, repeats = 3 }"
    )
    accept: Literal["exact", "nearest"] | None = Field(None, description='"exact" or "nearest"')
    nearest: Literal["total-variation", "largest", "moments-first"] | None = Field(
        None, description='"total-variation", "largest" or "moments-first"'
    )
    also: Annotated[list[AlsoPart | None], Field(max_length=MOST_RULES)] | None = Field(
        None, description=f'a list of up to {MOST_RULES} tables, such as {{ rule = "symmetric" }}'
    )
    modulo: Modulo | None = Field(None, description=_WORDS["modulo"])
    keep: Keep | None = Field(None, description=_WORDS["keep"])
    at_least: Label | None = Field(None, description=_LABELS)
    reroll: Annotated[list[Label], Field(min_length=1, max_length=MOST_LISTED)] | None = Field(
        None, description="a list of the labels that are rolled again once, such as [1]"
    )
    ties: Literal["lose", "none"] | None = Field(None, description='"lose" or "none"')
    chance_at_least: str | None = Field(
        None, description='a fraction above 0 as a text, such as "5/9", or "more than 1/2"'
    )
    beats: Pattern | None = Field(
        None, description='a list of who beats whom, such as [[1, 2], [2, 3], [3, 1]], or "any-two"'
    )
    fair: Literal["every-order", "places", "first"] | None = Field(
        None, description='"every-order", "places" or "first"'
    )
    layout: list[str] | None = Field(None, description=GOALS_FORM)


_SORTS_OF_SOLID: dict[type, str] = {int: "a count", str: "a name", list: "a list"}


def _sort_of_solid(value: object) -> str | None:
    return _SORTS_OF_SOLID.get(type(value))


def _sort_of_one(value: object) -> str | None:
    return _SORTS_OF_DIE.get(type(value)) if not isinstance(value, dict) else None


OneSolid = Annotated[
    Annotated[FaceCount, Tag("a count")] | Annotated[str, Tag("a name")], Discriminator(_sort_of_one)
]
Solids = Annotated[
    Annotated[FaceCount, Tag("a count")]
    | Annotated[str, Tag("a name")]
    | Annotated[list[OneSolid], Field(min_length=1, max_length=MOST_SOLIDS), Tag("a list")],
    Discriminator(_sort_of_solid),
]
Written = Annotated[
    Annotated[int, Field(ge=1, le=MOST_RESTS), Tag("a count")] | Annotated[str, Tag("a name")],
    Discriminator(_sort_of_one),
]


class ReadoutsPart(CommonPart):
    """A readouts brief."""

    solid: Solids | None = Field(None, description=SOLID_FORM)
    shape: ShapeItem | None = Field(None, description=SHAPE_FORM)
    readouts: dict[str, Written] | None = Field(
        None, description='a table such as { wind = 4, rain = "yes:1 no:2" }'
    )
    independent: Literal["exact", "best"] | None = Field(None, description='"exact" or "best"')
    measure: Literal["together", "pairs"] | None = Field(None, description='"together" or "pairs"')
    on: dict[str, Literal["faces", "vertices", "edges"]] | None = Field(
        None, description='a table such as { wind = "faces" }'
    )
    share: Annotated[int, Field(ge=1, le=100)] | None = Field(
        None, description="a whole number from 1 up: how many readouts may stand on one site"
    )
    same_under: Literal["rotation", "reflection"] | None = Field(
        None, description='"rotation" or "reflection"'
    )
    rename: bool | None = Field(None, description="true or false")
    layout: list[str] | None = Field(None, description=GOALS_FORM)


ITEMS = {
    "dice": f'{_COUNT}, the name of a solid such as "cube", or a table such as {{ faces = 3 }}',
    "ways": "a positive whole number of ways",
    "only": _LABELS,
    "avoid": _LABELS,
    "exactly": _LABELS,
    "reroll": _LABELS,
    "also": 'a table such as { rule = "symmetric" }',
    "beats": "two dice, the winner first, such as [1, 2]",
    "layout": "one of: " + ", ".join(GOALS),
    "shape": "a number",
    "solid": f'{_COUNT}, or the name of a solid such as "cube"',
    "readouts": READOUT_FORM,
    "on": '"faces", "vertices" or "edges"',
}
"""What one item of a list, or one value of `ways`, accepts."""

TABLES: dict[str, type[Part]] = {
    "stop": StopPart,
    "rank": RankPart,
    "labels": LabelPart,
    "dice": DiePart,
    "also": AlsoPart,
}
"""The model of a table, by the key under which it stands."""


def fields_of(model: type[Part]) -> dict[str, str]:
    """The keys of a table with what each accepts."""
    return {f.alias or name: f.description or "" for name, f in model.model_fields.items()}
