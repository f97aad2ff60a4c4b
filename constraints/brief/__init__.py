"""Briefs: the TOML files in which a designer states a question."""

from facewright.constraints.brief.reader import decoded, parse, read, text_of

__all__ = ["decoded", "parse", "read", "text_of"]
