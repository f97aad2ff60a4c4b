"""A smooth body as a design: its coefficients, and what is claimed of it."""

from __future__ import annotations

import hashlib
import json
import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from math import pi
from typing import Any

from facewright.constraints.design import ID_LENGTH
from facewright.constraints.smooth import MOST_DEGREE
from facewright.constraints.solids.smooth.body import SmoothBody
from facewright.constraints.solids.smooth.measures import area_over_pi, volume_over_pi
from facewright.constraints.solids.smooth.rests import Resting, resting, settling
from facewright.constraints.solids.smooth.symmetries import SYMMETRIES

DIGITS = 15
"""Digits after the point of a coefficient."""

_DECIMAL = re.compile(rf"-?\d{{1,3}}\.\d{{{DIGITS}}}", re.ASCII)


@dataclass(frozen=True)
class SmoothDesign:
    """A body of constant width 1, and what is claimed of it in units of the width.

    `least_radius` is proved to be no more than the least radius of curvature; `settling`, `volume` and `area` are
    right to twelve digits; `bound` is what no settling exceeds at the least radius that was asked for.
    """

    symmetry: str
    degree: int
    coefficients: tuple[Fraction, ...]
    least_radius: float
    settling: float
    volume: float
    area: float
    bound: float

    @classmethod
    def of(cls, body: SmoothBody, least_radius: float, bound: float) -> SmoothDesign:
        """The design of a body whose least radius of curvature is proved."""
        return cls(
            body.symmetry,
            body.degree,
            body.coefficients,
            least_radius,
            settling(body),
            float(volume_over_pi(body)) * pi,
            float(area_over_pi(body)) * pi,
            bound,
        )

    @cached_property
    def body(self) -> SmoothBody:
        """The body itself."""
        return SmoothBody(self.symmetry, self.degree, self.coefficients)

    @cached_property
    def resting(self) -> Resting:
        """How it lies."""
        return resting(self.body)

    @cached_property
    def id(self) -> str:
        """The first digits of the SHA-256 of symmetry and coefficients."""
        text = json.dumps([self.symmetry, [str(one) for one in self.coefficients]], separators=(",", ":"))
        return hashlib.sha256(text.encode()).hexdigest()[:ID_LENGTH]

    def as_json(self) -> dict[str, Any]:
        """The design as the contract writes it, and as much as lets another program build the body."""
        lies = self.resting
        return {
            "id": self.id,
            "smooth": {
                "width": 1,
                "least_radius": self.least_radius,
                "settling": self.settling,
                "bound": self.bound,
                "volume": self.volume,
                "area": self.area,
                "coefficients": [decimal(one) for one in self.coefficients],
                "symmetry": self.symmetry,
                "degree": self.degree,
                "rests": self.body.group.ways,
                "rest": {
                    "height": lies.height,
                    "over": lies.over,
                    "tip_radii": list(lies.tip),
                    "contact_radii": list(lies.contact),
                    "stable": lies.stable,
                    "alone": lies.alone,
                },
                "harmonics": [
                    {"degree": degree, "order": order, "factor": factor}
                    for order, row in self.body.factors.items()
                    for degree, factor in row.items()
                ],
                "wave": "sine" if self.body.group.sine else "cosine",
            },
        }

    @classmethod
    def from_json(cls, data: dict[str, Any]) -> SmoothDesign:
        """The design that `as_json` wrote; what follows from the coefficients is passed over."""
        told = data["smooth"]
        if told["symmetry"] not in SYMMETRIES:
            raise ValueError(f"symmetry {told['symmetry']!r}")
        if not isinstance(told["degree"], int) or not 0 < told["degree"] <= MOST_DEGREE:
            raise ValueError(f"degree {told['degree']!r}")
        return cls(
            told["symmetry"],
            told["degree"],
            tuple(map(_coefficient, told["coefficients"])),
            *(float(told[key]) for key in ("least_radius", "settling", "volume", "area", "bound")),
        )


def _coefficient(text: str) -> Fraction:
    """A coefficient as `decimal` wrote it; raises ValueError for another text."""
    if not isinstance(text, str) or not _DECIMAL.fullmatch(text):
        raise ValueError(f"coefficient {text!r:.40}")
    return Fraction(text)


def decimal(one: Fraction) -> str:
    """A coefficient as a decimal number, exactly."""
    whole = int(abs(one) * 10**DIGITS)
    return f"{'-' if one < 0 else ''}{whole // 10**DIGITS}.{whole % 10**DIGITS:0{DIGITS}d}"
