"""Rolls of real dice held against their design: what was rolled, what was to be expected, what may be said."""
