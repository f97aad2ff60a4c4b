"""The engine `readouts-apart`: marks of a design moved so that equal labels stand apart and no chance changes."""

from __future__ import annotations

from collections.abc import Generator

from facewright.constraints.grammar import counted, number
from facewright.constraints.model.readouts_apart import ApartModel
from facewright.constraints.readouts import Readouts
from facewright.constraints.readouts_design import ReadoutsDesign, canonical
from facewright.constraints.site_neighbours import Beside, beside, touching
from facewright.constraints.solids import solid
from facewright.constraints.views import views_of
from facewright.search.answer import Answering, Closing
from facewright.search.engines.readouts_solver import solved
from facewright.search.progress import Progress
from facewright.search.stop import Stop


class Apart:
    """Moves the marks of a design: every combination of labels keeps its chance, equal labels part."""

    name = "readouts-apart"

    def answer(
        self, question: Readouts, design: ReadoutsDesign, stop: Stop, seed: int, report: Progress
    ) -> Answering:
        """Streams one marking, proved best unless a stop came first; then closes.

        Args:
            question: a question about one solid.
            design: one of its designs.
            stop: asked whether to stop early.
            seed: of the solver's choices.
            report: told of the progress.
        """
        report("marks moved apart", 0, None)
        return Answering(self.name, _stream(question, design, stop, seed))


def _stream(
    question: Readouts, design: ReadoutsDesign, stop: Stop, seed: int
) -> Generator[ReadoutsDesign, None, Closing]:
    body = solid(design.solid, question.shape)
    views, where = views_of(body), beside(body)
    model = ApartModel(question, views, where, design)
    result = solved(model.cp, list(model.x.values()), seed=seed, stop=stop)
    moved = design
    if result.values:
        moved = ReadoutsDesign.of(question, views, canonical(question, views, model.marks(result.values))[0])
    before, after = (_touching(where, one) for one in (design, moved))
    if before <= after:
        moved, after = design, before
    yield moved
    least = model.decoded(max(result.bound, 0))
    if result.status == "best":
        reason = f"With the same chances, {_words(after)}; no marking on these kinds of site does better."
        proof = (
            f"CP-SAT ruled out everything better, in a model of {len(model.x):,} places for labels with every "
            "combination as often as in the design.",
        )
        return Closing("best", 1, 1, "at least", reason, proof)
    early = f" The search ended early ({result.stopped}); less may be possible." if result.stopped else ""
    reason = f"With the same chances, {_words(after)}.{early}"
    return Closing("partial", 1, 1, "at least", reason, (), f"{least[0]} + {least[1]}")


def _touching(where: Beside, design: ReadoutsDesign) -> tuple[int, int]:
    return touching(where, (pairs for _, pairs in design.sites))


def _words(pairs: tuple[int, int]) -> str:
    close, near = pairs
    if not close and not near:
        return "no equal labels of a readout touch"
    verb = "lies" if close == 1 else "lie"
    side = (
        f"{counted(close, 'pair')} of equal labels {verb} side by side"
        if close
        else "no equal labels lie side by side"
    )
    return f"{side}, and {number(near) if near else 'none'} touch otherwise"
