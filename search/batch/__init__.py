"""Batches: many questions from one plan, answered by several processes, kept in one store."""
