"""Solids: their names and, elsewhere in this package, their geometry."""
