"""Callipers on real dice: what each axis, cavity and batch is off by, and the bias that follows in a stated model."""
