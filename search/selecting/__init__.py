"""Selecting: of more designs than are listed, the best by the designer's weights, proved without listing the rest."""
