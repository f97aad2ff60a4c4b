"""The engine `smooth`: the best body of constant width, its radii proved over the whole sphere, the best from above."""

from __future__ import annotations

from collections.abc import Generator
from fractions import Fraction

import numpy as np
from facewright.constraints.smooth import Smooth
from facewright.constraints.smooth_design import DIGITS, SmoothDesign
from facewright.constraints.solids.smooth.alone import rests_alone
from facewright.constraints.solids.smooth.body import HALF, SmoothBody
from facewright.constraints.solids.smooth.certificate import Certificate, certify, exact_scale
from facewright.constraints.solids.smooth.measures import tip_direction
from facewright.constraints.solids.smooth.symmetries import SYMMETRIES
from facewright.search.answer import Answering, Closing
from facewright.search.engines.smooth.bound import proved_bound
from facewright.search.engines.smooth.grid import Grid
from facewright.search.engines.smooth.programme import FALLS, Solved, solve
from facewright.search.engines.smooth.volume import BALL, least_volume, smaller
from facewright.search.engines.smooth.words import Proof, proof_lines, reason
from facewright.search.progress import Progress
from facewright.search.stop import Stop
from facewright.search.words import stopped

VERSION = 2
"""Rises with every change that could change an answer: answers kept from an older version are not used."""

EPSILON = 1e-3
"""As a share: a body is called the best if no other can exceed it by more than this."""
LOSS = 1e-4
"""How much the certificate may give away, as a share of the greatest |q|."""

Stream = Generator[SmoothDesign, None, Closing]


class Smoothing:
    """Answers every question of smooth bodies."""

    name = "smooth"

    def accepts(self, question: object) -> bool:
        """Every question of smooth bodies."""
        return isinstance(question, Smooth)

    def answer(self, question: Smooth, limit: int, stop: Stop, seed: int, report: Progress) -> Answering:
        """Streams the best body; see `Engine`. Nothing depends on the seed, and there is one design at most."""
        return Answering(self.name, _stream(question, stop, report))


def _stream(question: Smooth, stop: Stop, report: Progress) -> Stream:
    grid = Grid(question.symmetry, question.degree)
    tips = grid.tip_values()
    # of flat bodies there are many; the settling chooses among them
    goal = tips * (grid.steps / 2 + 1) if question.goal == "flat" else tips
    solved: Solved | None = None
    for fall in FALLS[:1] if SYMMETRIES[question.symmetry].cubic else FALLS:
        better = solve(grid, goal, stop, report, fall)
        if better is not None and question.goal == "volume":
            better = smaller(grid, better, stop, report, fall)
        if better is None:
            break
        solved = better
        body, certificate = fitted(question, solved.best / grid.steps)
        if rests_alone(body) or solved.stopped:
            break
    if solved is None:
        return Closing("partial", 0, 0, "at least", stopped(0, stop() or "interrupted"))
    design = SmoothDesign.of(body, HALF - certificate.most, question.bound)
    if question.goal == "settling":
        value, above = design.settling, proved_bound(grid, solved) * float(question.room)
    elif question.goal == "volume":
        value, above = BALL / design.volume, BALL / least_volume(question)
    else:
        # no radius exceeds the width less the least radius
        value, above = HALF + _flatness(body), 1 - float(question.least_radius)
    proof = Proof(value, above, certificate, solved.rounds, len(solved.weights))
    yield design
    words = reason(question, design, proof, EPSILON, solved.stopped)
    lines = proof_lines(question, design, proof)
    if proof.gap <= EPSILON and design.resting.alone:
        return Closing("best", 1, 1, "at least", words, lines)
    bound = f"{BALL / above if question.goal == 'volume' else above:.6f}"
    return Closing("partial", 1, 1, "at least", words, lines, bound)


def fitted(question: Smooth, coefficients: np.ndarray) -> tuple[SmoothBody, Certificate]:
    """The body with these coefficients, shape (harmonics,), as large as the least radius lets it be, proved.

    Coefficients become decimal fractions; all are multiplied by one factor, until the certificate is good.
    """
    rough = _body(question, [Fraction(float(one)) for one in coefficients], Fraction(1))
    allowed = question.room / 2
    scale = exact_scale(certify(rough, LOSS).most, allowed)
    while True:
        body = _body(question, [Fraction(float(one)) for one in coefficients], scale)
        certificate = certify(body, LOSS)
        if Fraction(certificate.most) <= allowed:
            return body, certificate
        scale *= 1 - Fraction(1, 10**7)


def _body(question: Smooth, coefficients: list[Fraction], scale: Fraction) -> SmoothBody:
    unit = 10**DIGITS
    rounded = tuple(Fraction(round(one * scale * unit), unit) for one in coefficients)
    return SmoothBody(question.symmetry, question.degree, rounded)


def _flatness(body: SmoothBody) -> float:
    """The mean of −q at the tip: by so much the mean radius at the rest exceeds ½."""
    return HALF - float(body.radii(tip_direction(body)[None, :]).mean())
