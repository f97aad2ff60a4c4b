"""The structure of a smooth brief: every key with its type and, in words, what it accepts."""

from __future__ import annotations

from typing import Annotated, Literal

from facewright.constraints.brief.models import GOALS_FORM, CommonPart, Part, Written
from facewright.constraints.brief.models_layout import LABELS_FORM, MOST_MM, Place
from facewright.constraints.smooth import GOALS, MOST_DEGREE
from facewright.constraints.solids.smooth.symmetries import SYMMETRIES
from pydantic import Field

LEAST_DEGREE = 3
SYMMETRY_FORM = ", ".join(f'"{name}"' for name in SYMMETRIES)
ROUND = ("octahedral", "cubic", "cubical", "icosahedral", "dodecahedral")
"""What somebody may call the two symmetries whose bodies hardly settle: those of turning a cube or an icosahedron."""
HARDLY_SETTLE = (
    f"{SYMMETRY_FORM}; of width 1 a body with the turns of a cube settles by 0.0121 at most, with those of an "
    "icosahedron by 0.0044, each of its tips being an image of every other (docs/method.md, section 16)"
)
MOST_RADIUS = 0.45
"""The greatest least radius, as a share of the width: a ball has a half."""
SMOOTH_FORM = 'a table such as { symmetry = "tetrahedral", width_mm = 22, least_radius = 0.05, degree = 25 }'


class SmoothTable(Part):
    """`smooth`: which bodies are meant, and what is best."""

    symmetry: str | None = Field(None, description=SYMMETRY_FORM)
    width_mm: Annotated[float, Field(gt=0, le=MOST_MM, allow_inf_nan=False)] | None = Field(
        None, description=f"millimetres, a number above 0, up to {MOST_MM:,}"
    )
    least_radius: Annotated[float, Field(ge=0, le=MOST_RADIUS, allow_inf_nan=False)] | None = Field(
        None, description=f"a share of the width, a number from 0 to {MOST_RADIUS}, such as 0.05"
    )
    degree: Annotated[int, Field(ge=LEAST_DEGREE, le=MOST_DEGREE)] | None = Field(
        None, description=f"a whole number from {LEAST_DEGREE} to {MOST_DEGREE}, such as 25"
    )
    goal: Literal["settling", "flat", "volume"] | None = Field(
        None, description=", ".join(f'"{goal}"' for goal in GOALS)
    )
    place: Place | None = Field(None, description=LABELS_FORM)
    readouts: dict[str, Written] | None = Field(
        None, description='a table such as { wind = 2, rain = "yes:1 no:1" }'
    )


class SmoothPart(CommonPart):
    """A smooth brief."""

    smooth: SmoothTable | None = Field(None, description=SMOOTH_FORM)
    layout: list[str] | None = Field(None, description=GOALS_FORM)


SMOOTH_TABLES: dict[str, type[Part]] = {"smooth": SmoothTable}
"""The model of a table, by the key under which it stands."""
