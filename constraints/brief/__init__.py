"""Briefs: the TOML files in which a designer states a question."""

from facewright.constraints.brief.reader import parse, read

__all__ = ["parse", "read"]
