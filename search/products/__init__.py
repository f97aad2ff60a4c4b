"""Products: designs of runs measured, costed and put in order."""
