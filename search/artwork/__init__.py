"""What is cut, printed or drawn on a solid: numerals, pips and marks, each in its place on a face."""
