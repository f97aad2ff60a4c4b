"""The nearest totals: found by annealing, proved by a search along the results from the least up."""
