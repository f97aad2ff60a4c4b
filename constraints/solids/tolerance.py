"""The one tolerance of the solids' geometry: its size, its meaning, its reason."""

from __future__ import annotations

SAME = 1e-9
"""Two lengths of a solid with inradius 1 that differ by less are the same.

Rounding leaves errors near 1e-14; different vertices of the solids with up to 120 faces lie more than 1e-3 apart. The
tolerance is absolute: a relative one grows with the coordinates and once made a solid look centrally symmetric that
is not."""
