"""Recounting smooth bodies: width, symmetry, curvature, area and volume from values of the support function alone.

Shares no code with the engine or the measures of a design. Harmonics are evaluated by scipy's Legendre functions from
the terms of the basis. Curvature comes from great circles: there f is a trigonometric polynomial, so that its second
derivative follows from values at equal steps by a Fourier transform, and f + f'' + ½ is a radius. Circles are a sample:
they can refute a least radius, the certificate alone proves it. So it is with a grid of directions and other rests.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from fractions import Fraction
from math import pi
from typing import TYPE_CHECKING

from facewright.constraints.smooth import Smooth
from facewright.constraints.smooth_design import SmoothDesign
from facewright.constraints.solids.smooth.harmonics import basis

if TYPE_CHECKING:
    import numpy as np

CLOSE = 1e-9
"""Widths: what differs by less is equal."""
STEPS = 8
"""So many steps for each degree on the way from pole to pole where other rests are looked for."""
CIRCLES = 90
"""So many great circles of each sort."""
SEED = 20_260_101


@dataclass(frozen=True)
class Finding:
    """What recounting found; where there are no `faults` the design `agrees`. `least` is the least radius met."""

    agrees: bool
    least: float
    faults: tuple[str, ...]


def recount_smooth(question: Smooth, design: SmoothDesign) -> Finding:
    """Judges a design; one that is wrong raises nothing: its faults are in the finding."""
    if design.symmetry != question.symmetry or design.degree > question.degree:
        return Finding(False, 0.0, ("has another symmetry, or a higher degree, than asked for",))
    if not 0 < len(design.coefficients) <= len(basis(design.symmetry, design.degree)):
        return Finding(False, 0.0, (f"has {len(design.coefficients)} coefficients",))
    tips = _tips(design.symmetry)
    odd = _Odd(design)
    faults = list(_symmetry_faults(odd, tips))
    least = _least_radius(odd, tips)
    if least < design.least_radius - CLOSE:
        faults.append(f"has a radius of curvature of {least:.9f}, less than {design.least_radius:.9f}")
    if design.least_radius < float(question.least_radius) - CLOSE:
        faults.append(f"has a least radius of {design.least_radius:.9f}, less than asked for")
    bound = _bound(tips, question.least_radius)
    area, volume = odd.area(), odd.area() / 2 - pi / 3
    told = (design.settling, design.bound, design.area, design.volume)
    met = (float(odd.at(tips[:1])[0]), bound, area, volume)
    for name, one, other in zip(("settling", "bound", "area", "volume"), told, met, strict=True):
        # a comparison that a claim of "not a number" fails, too
        if not abs(one - other) < CLOSE:
            faults.append(f"has the {name} {other:.9f}, not {one:.9f}")
    if design.resting.alone and (others := _other_rests(odd, tips)):
        faults.append(f"rests in {others} more ways than told")
    if design.settling > bound + CLOSE:
        faults.append("settles by more than any body can")
    form = json.dumps([design.symmetry, [str(one) for one in design.coefficients]], separators=(",", ":"))
    if not hashlib.sha256(form.encode()).hexdigest().startswith(design.id):
        faults.append(f"has an id, {design.id}, that is not its own")
    return Finding(not faults, least, tuple(faults))


class _Odd:
    """The odd part of a support function, by scipy's Legendre functions."""

    def __init__(self, design: SmoothDesign) -> None:
        self.degree = design.degree
        self.sine = design.symmetry == "tetrahedral"
        self.parts: dict[tuple[int, int], Fraction] = {}
        for one, c in zip(basis(design.symmetry, design.degree), design.coefficients, strict=False):
            for order, t in one.terms:
                key = (one.degree, order)
                self.parts[key] = self.parts.get(key, Fraction(0)) + c * t

    def at(self, directions: np.ndarray) -> np.ndarray:
        """The values at unit vectors, shape (n, 3)."""
        import numpy as np

        z, around = directions[:, 2], np.arctan2(directions[:, 1], directions[:, 0])
        total = np.zeros(len(directions))
        for degree, order in self.parts:
            total += self._along(degree, order, z) * self._wave(order, around)
        return total

    def on_grid(self, colatitude: np.ndarray, longitude: np.ndarray) -> np.ndarray:
        """The values at all pairs of angles in radians, shape (colatitudes, longitudes)."""
        import numpy as np

        z, total = np.cos(colatitude), np.zeros((len(colatitude), len(longitude)))
        for order in sorted({m for _, m in self.parts}):
            along = sum(self._along(degree, m, z) for degree, m in self.parts if m == order)
            total += np.outer(along, self._wave(order, longitude))
        return total

    def area(self) -> float:
        """The surface: ∫ h(2h + Δh)/2, degree by degree, where Δ takes degree n to −n(n + 1) times itself."""
        import numpy as np

        z, weights = np.polynomial.legendre.leggauss(self.degree + 1)
        around = 2 * pi * np.arange(2 * self.degree + 1) / (2 * self.degree + 1)
        total = pi
        for degree in sorted({degree for degree, _ in self.parts}):
            value = sum(
                np.outer(self._along(degree, m, z), self._wave(m, around))
                for n, m in self.parts
                if n == degree
            )
            square = float(weights @ np.mean(value * value, axis=1)) * 2 * pi
            total += (2 - degree * (degree + 1)) / 2 * square
        return total

    def _along(self, degree: int, order: int, z: np.ndarray) -> np.ndarray:
        import numpy as np
        from scipy.special import lpmv

        factor = float(self.parts[degree, order]) * (-1) ** order
        return np.asarray(factor * lpmv(order, degree, np.clip(z, -1.0, 1.0)))

    def _wave(self, order: int, around: np.ndarray) -> np.ndarray:
        import numpy as np

        return np.asarray(np.sin(order * around) if self.sine else np.cos(order * around))


def _tips(symmetry: str) -> np.ndarray:
    """The directions of all tips, shape (tips, 3)."""
    import numpy as np

    if symmetry == "tetrahedral":
        corners = np.array([[1.0, 1, 1], [1, -1, -1], [-1, 1, -1], [-1, -1, 1]])
        return np.asarray(corners / 3**0.5)
    many = {"three-sided": 3, "five-sided": 5, "seven-sided": 7}[symmetry]
    turn = 2 * pi * np.arange(many) / many
    return np.stack([np.cos(turn), np.sin(turn), np.zeros(many)], axis=1)


def _bound(tips: np.ndarray, least_radius: Fraction) -> float:
    """No two tips are farther apart than 1: that bounds how far they reach, and so the settling."""
    import numpy as np

    apart = np.linalg.norm(tips[:, None] - tips[None], axis=2).max()
    return float((1 / apart - 0.5) * (1 - 2 * float(least_radius)))


def _symmetry_faults(odd: _Odd, tips: np.ndarray) -> list[str]:
    """Whether f is odd, and the same after the turns and mirrors that take the tips to each other."""
    import numpy as np

    random = np.random.default_rng(SEED)
    some = random.normal(size=(60, 3))
    some /= np.linalg.norm(some, axis=1)[:, None]
    value, faults = odd.at(some), []
    if np.abs(value + odd.at(-some)).max() > CLOSE:
        faults.append("has not the same width in every direction")
    if len(tips) == 4:
        images = [some[:, [1, 2, 0]], some[:, [1, 0, 2]], some * [-1, -1, 1]]
    else:
        c, s = tips[1, 0], tips[1, 1]
        turn = np.array([[c, s, 0], [-s, c, 0], [0, 0, 1]])
        images = [some @ turn, some * [1, -1, 1], some * [1, 1, -1]]
    if any(np.abs(value - odd.at(image)).max() > CLOSE for image in images):
        faults.append("has not the symmetry that was asked for")
    return faults


def _other_rests(odd: _Odd, tips: np.ndarray) -> int:
    """How many local maxima of f a fine grid shows that are no tips; the body rests stably opposite each."""
    import numpy as np

    rows = STEPS * odd.degree
    step = pi / rows
    theta, phi = (np.arange(rows) + 0.5) * step, np.arange(2 * rows) * step
    value = odd.on_grid(theta, phi)
    # beyond a pole the meridian goes on at the other side
    beyond = np.roll(value, rows, axis=1)
    ringed = np.concatenate([beyond[:1], value, beyond[-1:]])
    around = [
        np.roll(ringed, across, axis=1)[1 + down : 1 + down + rows]
        for down in (-1, 0, 1)
        for across in (-1, 0, 1)
        if down or across
    ]
    # where f is flat, as near a pole, rounding makes maxima that are none
    peaks = (value >= np.max(around, axis=0)) & (value > np.mean(around, axis=0) + CLOSE)
    at, to = np.nonzero(peaks)
    s = np.sin(theta[at])
    directions = np.stack([s * np.cos(phi[to]), s * np.sin(phi[to]), np.cos(theta[at])], axis=1)
    away = np.linalg.norm(directions[:, None] - tips[None], axis=2).min(axis=1)
    return int((away > 3 * step).sum())


def _least_radius(odd: _Odd, tips: np.ndarray) -> float:
    """The least radius of curvature met along great circles: at random, of mirrors, through two tips."""
    import numpy as np

    random = np.random.default_rng(SEED)
    # where curvature is worst it is so across a mirror or along one: poles in the mirrors, and of the mirrors
    out = np.array([tips[0, 0], tips[0, 1], 0.0])
    out /= np.linalg.norm(out)
    lean = pi * np.arange(CIRCLES) / CIRCLES
    poles = [*random.normal(size=(CIRCLES, 3)), *np.eye(3)]
    poles += [np.cos(t) * np.array([0.0, 0.0, 1.0]) + np.sin(t) * out for t in lean]
    poles += [np.array([np.cos(t), np.sin(t), 0.0]) for t in lean]
    poles += [np.cross(one, other) for one in tips for other in tips if one is not other]
    many = 4 * odd.degree + 4
    turn = 2 * pi * np.arange(many) / many
    circles = []
    for pole in poles:
        size = np.linalg.norm(pole)
        if size < CLOSE:
            continue
        up = pole / size
        first = np.cross(up, np.eye(3)[np.argmin(np.abs(up))])
        first /= np.linalg.norm(first)
        circles.append(np.outer(np.cos(turn), first) + np.outer(np.sin(turn), np.cross(up, first)))
    values = odd.at(np.concatenate(circles)).reshape(len(circles), many)
    waves = np.fft.rfft(values, axis=1)
    bent = np.fft.irfft(waves * (1 - np.arange(many // 2 + 1) ** 2.0), n=many, axis=1)
    return float(0.5 - np.abs(bent).max())
