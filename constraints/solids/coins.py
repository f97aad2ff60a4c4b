"""Thick coins: why no thickness gives three equal chances for every throw.

A coin of thickness t and diameter d, its rim straight, lies on either face or on its rim. No symmetry carries a face to
the rim, so the chances depend on the throw. Two simple models bracket much of the quarrel:

- it comes to lie with every attitude equally likely and falls to where it leans: the rim has its share of all
  directions, t/√(t² + d²);
- the same in a plane, as if it turned about a line square to its axis: (2/π)·arctan(t/d).

They ask for t/d = 1/(2√2) = 0.354 and 1/√3 = 0.577 if each of the three is to have a third. (Both from memory;
discussed by E. H. Yong and L. Mahadevan, arXiv 1008.4559, of which we have read the abstract and the beginning.)
"""

from __future__ import annotations

from math import atan, hypot, pi, sqrt, tan

SPACE, PLANE = "space", "plane"
"""The models: every attitude in space, or in a plane."""


def rim_chance(thickness: float, diameter: float, model: str = SPACE) -> float:
    """The chance that a coin comes to lie on its rim, by a model.

    Raises: ValueError for a length that is not above 0, or another model.

    Example:
        >>> round(rim_chance(3.5, 10.0), 3), round(rim_chance(3.5, 10.0, "plane"), 3)
        (0.33, 0.214)
    """
    if not (thickness > 0 and diameter > 0):
        raise ValueError(f"coin: found {thickness:g} by {diameter:g}; accepted: lengths above 0")
    if model == SPACE:
        return thickness / hypot(thickness, diameter)
    if model == PLANE:
        return 2 / pi * atan(thickness / diameter)
    raise ValueError(f"model: found {model!r}; accepted: {SPACE}, {PLANE}")


def thickness_for(chance: float, diameter: float, model: str = SPACE) -> float:
    """The thickness at which a model gives the rim a chance, for a diameter.

    Raises: ValueError for a chance that is not between 0 and 1, or another model.

    Example:
        >>> round(thickness_for(1 / 3, 1.0), 4), round(thickness_for(1 / 3, 1.0, "plane"), 4)
        (0.3536, 0.5774)
    """
    if not 0 < chance < 1:
        raise ValueError(f"chance: found {chance:g}; accepted: between 0 and 1")
    if model == SPACE:
        return diameter * chance / sqrt(1 - chance * chance)
    if model == PLANE:
        return diameter * tan(pi / 2 * chance)
    raise ValueError(f"model: found {model!r}; accepted: {SPACE}, {PLANE}")


def end_margin(apothem: float, half_length: float, point: float) -> float:
    """How safely a log stays off its ends: half-length times height of a point over the apothem squared, less 1.

    Above 0 no end facet is a rest; see `logs`. Rounding the edges between sides and ends by a radius small beside the
    apothem moves the facets' edges, not the foot on which this rests.

    Example:
        >>> end_margin(1.0, 1.5, 1.0)
        0.5
    """
    return half_length * point / apothem**2 - 1
