"""What the engine says: to a designer how good the body is, to a mathematician how that was proved."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor

from facewright.constraints.smooth import Smooth
from facewright.constraints.smooth_design import SmoothDesign
from facewright.constraints.solids.smooth.certificate import Certificate
from facewright.constraints.solids.smooth.symmetries import SYMMETRIES

NOUNS = {
    "tetrahedral": "four rests like the faces of a tetrahedron",
    "three-sided": "three rests around",
    "five-sided": "five rests around",
    "seven-sided": "seven rests around",
}
"""How a body of each symmetry rests."""

TOLD = 10**7
"""So fine are numbers told in a proof."""


@dataclass(frozen=True)
class Proof:
    """What was proved: the value of a design, and what no body of the question exceeds, in units of the width."""

    value: float
    above: float
    certificate: Certificate
    rounds: int
    planes: int

    @property
    def gap(self) -> float:
        """By how much a better body could exceed the design, as a share."""
        return max(0.0, self.above / self.value - 1)


def reason(question: Smooth, design: SmoothDesign, proof: Proof, epsilon: float, stopped: str) -> str:
    """One or two sentences that a designer understands."""
    body = (
        f"of constant width with {NOUNS[question.symmetry]} (harmonics up to degree {question.degree}, no radius of "
        f"curvature below {float(question.least_radius):.4g} of the width)"
    )
    reached = f"That is {design.settling / design.bound:.1%} of what no body of any degree exceeds."
    if question.goal == "settling":
        best = f"{design.settling:.2%} of the width lower at rest than on its way to another rest"
    else:
        best = f"on a side with a radius of {proof.value:.2%} of the width at the point of rest"
        reached = f"It settles by {design.settling:.2%} of the width."
    if proof.gap <= epsilon:
        return (
            f"The best body {body} lies {best}. {reached} No other such body is better by more than "
            f"{proof.gap:.2%}."
        )
    early = f" ({stopped})" if stopped else ""
    return (
        f"A body {body} lies {best}. {reached} The search ended before it was closed{early}: "
        f"a better one, by up to {proof.gap:.2%}, is not ruled out."
    )


def proof_lines(question: Smooth, design: SmoothDesign, proof: Proof) -> tuple[str, ...]:
    """How it was proved, a sentence a line."""
    group, seen = SYMMETRIES[question.symmetry], proof.certificate
    lines = [
        f"The support function is h = 1/2 + f, where f is a sum of odd spherical harmonics that the group "
        f"{group.point_group} keeps; since f is odd, the width is 1 in every direction, exactly.",
        f"Radii of curvature are 1/2 + q, where q is f + f'' along great circles. On {seen.points:,} directions |q| is "
        f"at most {_up(seen.seen)}; every direction, up to symmetry, has one within {_up(seen.reach)} rad.",
        f"Along a great circle q is a trigonometric polynomial of degree {question.degree}, so |q| is at most "
        f"{_up(seen.seen)}/cos({question.degree}*{_up(seen.reach)}) everywhere (M. Riesz): reckoned exactly, at most "
        f"{_up(seen.most)}. So no radius is below {floor(design.least_radius * TOLD) / TOLD:.7f}.",
        _from_above(question, proof),
    ]
    if design.resting.over is not None:
        lines.append(
            "Between two rests every path crosses a great circle on which f is 0, and one path has f below 0 up to "
            "there (Descartes' rule of signs): the lowest way leads over half the width."
        )
    lines.append(
        f"Two tips are no farther apart than 1, so no tip is farther from the centre than {_up(group.reach)}; with the "
        f"least radius that gives (reach - 1/2)(1 - 2r) = {_up(design.bound)}, for every degree."
    )
    return tuple(lines)


def _up(value: float) -> str:
    """A number rounded up to seven digits after the point."""
    return f"{ceil(value * TOLD) / TOLD:.7f}"


def _from_above(question: Smooth, proof: Proof) -> str:
    if question.goal == "flat":
        return (
            f"The two radii at opposite points, in planes side by side, add up to 1, so none exceeds "
            f"{_up(proof.above)}; at the point of rest this body has {proof.value:.7f}, which leaves {proof.gap:.3%}."
        )
    return (
        f"A linear programme of {proof.planes:,} half-spaces, each of which every body keeps, came in "
        f"{proof.rounds} rounds to multipliers that prove in interval arithmetic: no body exceeds {_up(proof.above)}; "
        f"this one has {proof.value:.7f}, which leaves {proof.gap:.3%}."
    )
