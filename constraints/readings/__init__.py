"""The readings that can be asked for: one module each, one line each in this table."""

from __future__ import annotations

from facewright.constraints.readings.base import Reading
from facewright.constraints.readings.total import Total

READINGS: dict[str, Reading] = {reading.name: reading for reading in (Total(),)}

__all__ = ["READINGS", "Reading"]
