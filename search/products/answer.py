"""The answer to a product brief: the designs measured, each recounted."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal

from facewright.constraints.grammar import capital, counted
from facewright.constraints.product import Product
from facewright.search.answer import Verdict
from facewright.search.products.facts import ProductDesign
from facewright.search.readouts_answer import SolidOutcome

ENGINE = "products"


@dataclass(frozen=True)
class FoundProduct:
    """A design of an answer, and its position among those of the brief."""

    design: ProductDesign
    set: int
    distance: Fraction = Fraction(0)

    @property
    def id(self) -> str:
        """The id of the design."""
        return self.design.id


@dataclass(frozen=True)
class ProductAnswer:
    """A product brief answered; `outcomes` has one entry a design that was measured.

    `layouts` is empty: it belongs to answers of other kinds.
    """

    question: Product
    outcomes: tuple[SolidOutcome, ...]
    found: tuple[FoundProduct, ...]
    seed: int = 0
    layouts: tuple[Any, ...] = ()

    @property
    def verdict(self) -> Verdict:
        """complete where every design of the brief was measured, else partial."""
        return "complete" if len(self.outcomes) == len(self.question.candidates) else "partial"

    @property
    def count(self) -> int:
        """How many designs were measured."""
        return max(len(self.outcomes), len(self.found))

    @property
    def count_is(self) -> Literal["all", "at least"]:
        """Whether those are all that the brief names."""
        return "all" if self.verdict == "complete" else "at least"

    @property
    def seconds(self) -> float:
        """The time that it took."""
        return sum(one.seconds for one in self.outcomes)

    @property
    def engine(self) -> str:
        """What measured them."""
        return ENGINE

    @property
    def proof(self) -> tuple[str, ...]:
        """Nothing: products are compared, nothing is proved."""
        return ()

    @property
    def bound(self) -> None:
        """None: there is nothing to bound."""
        return

    @property
    def reason(self) -> str:
        """How far it got, in a sentence."""
        many, every = self.count, len(self.question.candidates)
        if many == every:
            return f"{capital(counted(many, 'design'))} measured, costed and compared."
        return f"{capital(counted(many, 'design'))} of {every} measured before the search was stopped."
