"""What a design must satisfy: distributions, readings, label rules, solids, models. Solves nothing."""
