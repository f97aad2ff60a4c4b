"""Legendre functions: exactly, as polynomials with rational coefficients, and normalised in floats by recurrence."""

from __future__ import annotations

from functools import lru_cache
from math import sqrt
from typing import TYPE_CHECKING

import flint

if TYPE_CHECKING:
    import numpy as np

SHORTEST = 1e-7
"""Radians: closer to the pole than this a colatitude is moved to it, since longitude has no meaning at the pole."""


@lru_cache(maxsize=512)
def legendre(degree: int) -> flint.fmpq_poly:
    """The Legendre polynomial of a degree, by Bonnet's recurrence."""
    if degree < 2:
        return flint.fmpq_poly([1] if degree == 0 else [0, 1])
    z = flint.fmpq_poly([0, 1])
    before, last = flint.fmpq_poly([1]), z
    for n in range(1, degree):
        before, last = last, (z * last * (2 * n + 1) - before * n) / (n + 1)
    return last


@lru_cache(maxsize=8192)
def derived(degree: int, order: int) -> flint.fmpq_poly:
    """The derivative of an order of the Legendre polynomial: the associated function is sinᵐθ times this at cos θ."""
    return legendre(degree) if order == 0 else derived(degree, order - 1).derivative()


def normalised(
    colatitude: np.ndarray, degree: int, order: int
) -> tuple[list[int], np.ndarray, np.ndarray, np.ndarray]:
    """The associated Legendre functions of an order above 0 and of all odd degrees up to one, in floats.

    Normalised so that with cos mφ or sin mφ the mean of the square over the sphere is 1; positive near the pole
    (no sign (−1)ᵐ).

    Params:
        colatitude: shape (n,), radians, between `SHORTEST` and π − `SHORTEST`.
    Returns: the degrees; values, first and second derivatives by colatitude, each of shape (degrees, n).
    Source: the recurrence in the degree, stable upwards: W. H. Press et al., Numerical Recipes, 3rd ed. 2007, § 6.7
        (from memory); the second derivative from Legendre's equation.
    """
    import numpy as np

    z, s = np.cos(colatitude), np.sin(colatitude)
    start = sqrt(2 * (2 * order + 1))
    for i in range(1, order + 1):
        start *= sqrt((2 * i - 1) / (2 * i))
    last, before = start * s**order, np.zeros_like(s)
    degrees, rows, slopes = [], [], []
    for n in range(order, degree + 1):
        if n > order:
            scale = sqrt((4 * n * n - 1) / (n * n - order * order))
            shrink = sqrt(((n - 1) ** 2 - order * order) / (4 * (n - 1) ** 2 - 1))
            before, last = last, scale * (z * last - shrink * before)
        if n % 2:
            lower = sqrt((n * n - order * order) * (2 * n + 1) / (2 * n - 1))
            degrees.append(n)
            rows.append(last)
            slopes.append((n * z * last - lower * before) / s)
    value, slope = np.array(rows), np.array(slopes)
    size = np.array([n * (n + 1.0) for n in degrees])[:, None]
    bend = -z / s * slope - (size - (order / s) ** 2) * value
    return degrees, value, slope, bend
