"""Dice and designs of earlier runs, as briefs may name them: what is asked of whoever keeps the runs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from facewright.constraints.layout import Roll
from facewright.constraints.product import Candidate
from facewright.constraints.readouts import Shape
from facewright.constraints.texts import TextError


@dataclass(frozen=True)
class EarlierDie:
    """One die of a design: its labels, its solid with free proportions, and the roll in which it is used."""

    labels: tuple[int, ...]
    solid: str
    shape: Shape
    roll: Roll


class NotThere(TextError):
    """Raised where a run, a design or a die is not there; `key` says which of the three is wrong."""

    def __init__(self, key: str, found: str, accepted: str) -> None:
        super().__init__(found, accepted)
        self.key = key


class Earlier(Protocol):
    """Finds a die of an earlier run."""

    def __call__(self, run: str, design: str, die: int | None) -> EarlierDie:
        """The die that a brief means.

        Params:
            run: the name of a run, or its folder.
            design: the id of a design, or an unambiguous beginning of one.
            die: its number, from 1; None where the design has only one.
        Raises: NotThere.
        """


class Designs(Protocol):
    """Finds a design of an earlier run."""

    def __call__(self, run: str, design: str) -> Candidate:
        """The design that a brief means.

        Params:
            run: the name of a run, or its folder.
            design: the id of a design, or an unambiguous beginning of one.
        Raises: NotThere.
        """
