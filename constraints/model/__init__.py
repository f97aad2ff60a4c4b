"""CP-SAT models of what a design must satisfy, built rule by rule; they solve nothing."""
