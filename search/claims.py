"""What a stored run or an answer in JSON claims of its designs, and what a recount finds wrong with that."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from facewright.constraints.design import NumberingDesign
from facewright.constraints.question import Numbering
from facewright.constraints.readouts import Readouts
from facewright.constraints.readouts_design import ReadoutsDesign
from facewright.search.recount import recount


@dataclass(frozen=True)
class Claim:
    """A design as it is written, with what is claimed for it; None where nothing is.

    `design` is None where what is written is no design at all.
    """

    id: str
    design: NumberingDesign | ReadoutsDesign | None
    distance: str | None = None
    ordinary: bool | None = None


@dataclass(frozen=True)
class Checked:
    """How many designs were recounted; for each wrong one its id and its faults; what is wrong with the list itself."""

    checked: int
    wrong: tuple[tuple[str, tuple[str, ...]], ...]
    faults: tuple[str, ...]

    @property
    def sound(self) -> bool:
        """Whether everything agrees."""
        return not self.wrong and not self.faults

    def as_json(self) -> dict[str, Any]:
        """The findings as plain values."""
        wrong = [{"id": one, "faults": list(faults)} for one, faults in self.wrong]
        return {"checked": self.checked, "wrong": wrong, "faults": list(self.faults)}


def checked(question: Numbering | Readouts, claims: Iterable[Claim], listed: int | None) -> Checked:
    """Recounts every design; `listed` is how many designs the run says it listed, if it says so.

    Raises:
        UsageError: recounting does not know the question's reading.
    """
    number, repeated = 0, 0
    wrong: list[tuple[str, tuple[str, ...]]] = []
    seen: set[NumberingDesign | ReadoutsDesign | None] = set()
    for claim in claims:
        number += 1
        if found := tuple(_faults(question, claim)):
            wrong.append((claim.id, found))
        repeated += claim.design in seen
        seen.add(claim.design)
    faults = []
    if repeated:
        faults.append(f"{repeated:,} of the designs stand there twice")
    if listed is not None and number < listed:
        faults.append(f"{listed:,} designs were listed, {number:,} are there")
    return Checked(number, tuple(wrong), tuple(faults))


def _faults(question: Numbering | Readouts, claim: Claim) -> Iterator[str]:
    design = claim.design
    if design is None:
        yield "what is written there is no design"
        return
    finding = _recounted(question, design)
    yield from finding.faults
    if finding.faults:
        return
    if design.id != claim.id:
        yield f"its id should be {design.id}"
    if claim.distance is not None and claim.distance != str(finding.distance):
        yield f"its distance should be {finding.distance}, found {claim.distance}"
    if isinstance(design, NumberingDesign) and claim.ordinary not in (None, design.ordinary):
        yield f"it is {'' if design.ordinary else 'not '}ordinary, and the answer says otherwise"


def _recounted(question: Numbering | Readouts, design: NumberingDesign | ReadoutsDesign) -> Any:
    """What the recount of its kind finds; a design of another kind than the question's raises TypeError."""
    if isinstance(question, Readouts) and isinstance(design, ReadoutsDesign):
        from facewright.search.recount_readouts import recount_readouts

        return recount_readouts(question, design)
    if isinstance(question, Numbering) and isinstance(design, NumberingDesign):
        return recount(question, design)
    raise TypeError("a design of another kind than the question")
