"""The certificate of a smooth body against a second proof: interval arithmetic on ever smaller patches of the sphere.

Shares nothing with the certificate: f in powers of xyz and x⁴+y⁴+z⁴, its second derivatives in x, y and z, no theorem.
"""

from __future__ import annotations

from fractions import Fraction
from math import pi

import flint
import numpy as np
import pytest
from facewright.constraints.solids.smooth.body import SmoothBody
from facewright.constraints.solids.smooth.certificate import certify
from facewright.constraints.solids.smooth.harmonics import basis

# made by hand at degree 9 for a least radius of 5 %: of xyz, xyz·(x⁴+y⁴+z⁴) and (xyz)³ (computed by us)
POWERS = ((1, 0, 0.636426), (1, 1, -0.273778), (3, 0, -1.778027))

Ball = flint.arb


def second(x: Ball, y: Ball, z: Ball) -> tuple[list[list[Ball]], Ball]:
    """The matrix Σ factor·(∇²p + (1 − n)p) of the powers p of degree n, on a patch, and their sum."""
    u = (x, y, z)
    p, q = x * y * z, x**4 + y**4 + z**4
    dp, dq = (y * z, x * z, x * y), tuple(4 * one**3 for one in u)
    zero = flint.arb(0)
    hp = [[zero, z, y], [z, zero, x], [y, x, zero]]
    hq = [[12 * u[i] ** 2 if i == j else zero for j in range(3)] for i in range(3)]
    total, value = [[zero] * 3 for _ in range(3)], zero
    for a, b, factor in POWERS:
        f = p**a * q**b
        for i in range(3):
            for j in range(3):
                entry = a * p ** (a - 1) * q**b * hp[i][j]
                if a > 1:
                    entry += a * (a - 1) * p ** (a - 2) * q**b * dp[i] * dp[j]
                if b:
                    entry += a * b * p ** (a - 1) * (dp[i] * dq[j] + dq[i] * dp[j]) + p**a * hq[i][j]
                if i == j:
                    entry += (1 - 3 * a - 4 * b) * f
                total[i][j] += factor * entry
        value += factor * f
    return total, value


def most_on(theta: tuple[float, float], phi: tuple[float, float]) -> Ball:
    """A ball whose upper end |q| does not exceed on a patch."""
    angle, around = (
        flint.arb((low + high) / 2, (high - low) / 2 * (1 + 1e-12)) for low, high in (theta, phi)
    )
    s, c, cosine, sine = angle.sin(), angle.cos(), around.cos(), around.sin()
    whole, _ = second(s * cosine, s * sine, c)
    south, east = (c * cosine, c * sine, -s), (-sine, cosine, flint.arb(0))

    def form(one: tuple[Ball, ...], two: tuple[Ball, ...]) -> Ball:
        return sum((one[i] * whole[i][j] * two[j] for i in range(3) for j in range(3)), flint.arb(0))

    ss, ee, se = form(south, south), form(east, east), form(south, east)
    # of the ball under the root only its upper end is needed: the lower one may fall below 0
    return abs(ss + ee) / 2 + (((ss - ee) / 2) ** 2 + se**2).abs_upper().sqrt()


def proved(limit: float, theta: tuple[float, float], phi: tuple[float, float], depth: int = 12) -> bool:
    """Whether |q| is shown to be below a limit on a patch, halved again and again where it is not yet."""
    # the domain is x ≥ y ≥ z ≥ 0
    if np.sin(theta[1]) * np.sin(phi[1]) < np.cos(theta[1]) - 1e-9:
        return True
    found = most_on(theta, phi)
    if found < limit:
        return True
    if not depth:
        return False
    (a, b), (c, d) = theta, phi
    e, f = (a + b) / 2, (c + d) / 2
    return all(proved(limit, t, p, depth - 1) for t in ((a, e), (e, b)) for p in ((c, f), (f, d)))


def body() -> SmoothBody:
    """The same body in the basis of harmonics, to sixteen digits."""
    u = np.random.default_rng(0).normal(size=(50, 3))
    u /= np.linalg.norm(u, axis=1)[:, None]
    p, q = u.prod(axis=1), (u**4).sum(axis=1)
    wanted = sum(factor * p**a * q**b for a, b, factor in POWERS)
    many = len(basis("tetrahedral", 9))
    columns = [
        SmoothBody("tetrahedral", 9, tuple(Fraction(int(at == one)) for at in range(many))).support(u) - 0.5
        for one in range(many)
    ]
    found, *_ = np.linalg.lstsq(np.array(columns).T, wanted)
    return SmoothBody("tetrahedral", 9, tuple(Fraction(float(one)) for one in found))


def test_two_proofs_agree() -> None:
    certificate = certify(body(), 1e-4)
    # the body was made for a least radius of 5 %
    assert certificate.most == pytest.approx(0.45, abs=1e-3)
    assert proved(certificate.most * 1.1, (0.9, pi / 2), (0.0, pi / 4))
    # and the second method can fail: below what was seen nothing is proved
    assert not proved(certificate.seen * 0.99, (0.9, pi / 2), (0.0, pi / 4), 5)
