"""What the engine says: to a designer how good the body is, to a mathematician how that was proved."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor

from facewright.constraints.smooth import Smooth
from facewright.constraints.smooth_design import SmoothDesign
from facewright.constraints.solids.smooth.certificate import Certificate
from facewright.constraints.solids.smooth.symmetries import SYMMETRIES
from facewright.search.engines.smooth.volume import BALL

NOUNS = {
    "tetrahedral": "four rests like the faces of a tetrahedron",
    "three-sided": "three rests around",
    "five-sided": "five rests around",
    "seven-sided": "seven rests around",
}
"""How a body of each symmetry rests."""

NOT_ALONE = "That it rests nowhere else is not proved: it may come to lie in other ways, too. A lower degree may help."

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
    """Some sentences that a designer understands."""
    text = _how_good(question, design, proof, epsilon, stopped)
    return text if design.resting.alone else f"{text} {NOT_ALONE}"


def _how_good(question: Smooth, design: SmoothDesign, proof: Proof, epsilon: float, stopped: str) -> str:
    body = (
        f"of constant width with {NOUNS[question.symmetry]} (harmonics up to degree {question.degree}, no radius of "
        f"curvature below {float(question.least_radius):.4g} of the width)"
    )
    reached = f"That is {design.settling / design.bound:.1%} of what no body of any degree exceeds."
    if question.goal == "settling":
        best = f"{design.settling:.2%} of the width lower at rest than on its way to another rest"
    elif question.goal == "volume":
        reached = f"It settles by {design.settling:.2%} of the width."
        return (
            f"A body {body} has {design.volume / BALL:.2%} of the volume of the ball as wide; steps from the one that "
            f"settles best lead to none smaller. {reached} A smaller one is not ruled out: the least volume is an open "
            "question."
        )
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
    if design.resting.alone:
        lines.append(
            "f has local maxima at the tips and nowhere else, so that it rests stably opposite them alone: "
            f"{_alone(group.cubic)} (basis of Bernstein, in whole numbers)."
        )
    lines.append(
        f"Two tips are no farther apart than 1, so no tip is farther from the centre than {_up(group.reach)}; with the "
        f"least radius that gives (reach - 1/2)(1 - 2r) = {_up(design.bound)}, for every degree."
    )
    return tuple(lines)


def _alone(cubic: bool) -> str:
    if cubic:
        return (
            "one polynomial in the invariants is above 0 on the domain, so that f is critical on mirror planes only, "
            "and one on their edges, so that it is critical there at tips and axes only"
        )
    return (
        "one polynomial says that f falls in longitude from a tip to where it is 0, one that f rises from the pole on "
        "the meridian of the tip; both are above 0"
    )


def _up(value: float) -> str:
    """A number rounded up to seven digits after the point."""
    return f"{ceil(value * TOLD) / TOLD:.7f}"


def _from_above(question: Smooth, proof: Proof) -> str:
    if question.goal == "volume":
        return (
            "The surface is concave in the coefficients, and a linear programme finds no least value of it: this "
            f"body came by steps. No body is smaller than {BALL / proof.above:.6f} of the width cubed, since the sum "
            "of both q is between -1 and 1 and its mean square bounds the coefficients; that is far from sharp."
        )
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
