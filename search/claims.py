"""What a stored run or an answer in JSON claims of its designs, and what a recount finds wrong with that."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from facewright.constraints.design import NumberingDesign
from facewright.constraints.layout_design import LayoutDesign
from facewright.constraints.question_form import Question
from facewright.constraints.readouts_design import ReadoutsDesign
from facewright.constraints.smooth_design import SmoothDesign

if TYPE_CHECKING:
    from facewright.search.laying import LaidOut

Design = NumberingDesign | ReadoutsDesign | LayoutDesign | SmoothDesign
"""A design of any kind."""


@dataclass(frozen=True)
class Claim:
    """A design as it is written, with what is claimed for it; None where nothing is.

    `design` is None where what is written is no design at all.
    """

    id: str
    design: Design | None
    distance: str | None = None
    ordinary: bool | None = None
    chance: str | None = None


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


def checked(
    question: Question, claims: Iterable[Claim], listed: int | None, layouts: Sequence[LaidOut] = ()
) -> Checked:
    """Recounts every design, and every layout of one.

    Params:
        question: the question.
        claims: the designs as they are written.
        listed: how many designs the run says it listed, if it says so.
        layouts: the dice of a design that are laid out.
    Raises:
        UsageError: recounting does not know the question's reading.
    """
    number, repeated = 0, 0
    wrong: list[tuple[str, tuple[str, ...]]] = []
    seen: set[str] = set()
    wanted = {one.of for one in layouts}
    designs: dict[str, Design] = {}
    for claim in claims:
        number += 1
        if found := tuple(_faults(question, claim)):
            wrong.append((claim.id, found))
        written = claim.id if claim.design is None else claim.design.id
        repeated += written in seen
        seen.add(written)
        if claim.design is not None and written in wanted:
            designs[written] = claim.design
    for one in layouts:
        from facewright.search.laying import faults_of

        if found := tuple(faults_of(one, designs)):
            wrong.append((f"{one.of}, die {one.die} laid out", found))
    faults = []
    if repeated:
        faults.append(f"{repeated:,} of the designs stand there twice")
    if listed is not None and number < listed:
        faults.append(f"{listed:,} designs were listed, {number:,} are there")
    return Checked(number, tuple(wrong), tuple(faults))


def _faults(question: Question, claim: Claim) -> Iterator[str]:
    design = claim.design
    if design is None:
        yield "what is written there is no design"
        return
    from facewright.search.kinds import kind_of

    finding = kind_of(question).recounted(question, design)
    yield from finding.faults
    if finding.faults:
        return
    if design.id != claim.id:
        yield f"its id should be {design.id}"
    judged = claim.distance is not None and isinstance(design, NumberingDesign | ReadoutsDesign)
    if judged and claim.distance != str(finding.distance):
        yield f"its distance should be {finding.distance}, found {claim.distance}"
    if claim.chance is not None and claim.chance != str(finding.chance):
        yield f"its least chance should be {finding.chance}, found {claim.chance}"
    if isinstance(design, NumberingDesign) and claim.ordinary not in (None, design.ordinary):
        yield f"it is {'' if design.ordinary else 'not '}ordinary, and the answer says otherwise"
