"""Splitting a target's polynomial into one polynomial a die, exactly."""
