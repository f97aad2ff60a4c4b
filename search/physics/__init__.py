"""Rigid-body simulation of throws, for chances that symmetry does not settle; needs the extra `[physics]`."""
