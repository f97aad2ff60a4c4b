"""Engines for single readings, each resting on the mathematics of that reading; complete, without a solver."""
