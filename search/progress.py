"""Progress: a one-method protocol that engines report to; what is shown, and whether, is not theirs to know."""

from __future__ import annotations

from typing import Protocol


class Progress(Protocol):
    """Told by an engine what it does and how far it is."""

    def __call__(self, doing: str, done: int, of: int | None) -> None:
        """`done` steps of `of` (None: unknown) in what is being done."""


PREPARING = "preparing, some seconds the first time on a machine"
"""What is said while inner loops are compiled, or taken from where an earlier run left them compiled."""


def silent(doing: str, done: int, of: int | None) -> None:
    """Shows nothing."""
