"""The engine `layout`: which face carries which label, goal by goal as good as can be."""

from __future__ import annotations

from collections.abc import Generator
from itertools import islice

from facewright.constraints.errors import UsageError
from facewright.constraints.face_map import map_of
from facewright.constraints.grammar import capital, counted
from facewright.constraints.layout import Layout
from facewright.constraints.layout_design import LayoutDesign
from facewright.constraints.layout_rules import layout_faults
from facewright.constraints.model.units import Scale
from facewright.search.answer import Answering, Closing, Verdict
from facewright.search.engines.laying.attempts import Ground
from facewright.search.engines.laying.descent import Found, best_of
from facewright.search.engines.laying.guarding import Judged, guarded, judged
from facewright.search.engines.laying.listing import Tally, counted_by_symmetry, every_layout
from facewright.search.engines.laying.values import opposite_least, values_of
from facewright.search.engines.laying.words import guard_words, proof, reason
from facewright.search.progress import Progress
from facewright.search.stop import Stop, Stopped

VERSION = 1
"""Rises with every change that could change an answer: answers kept from an older version are not used."""

GUARDED = 50
"""Past so many designs of a list, how flaws move the roll is not worked out unless a goal asks for it."""

Stream = Generator[LayoutDesign, None, Closing]


class Laying:
    """Answers every question of layouts."""

    name = "layout"

    def accepts(self, question: object) -> bool:
        """Every question of layouts."""
        return isinstance(question, Layout)

    def answer(self, question: Layout, limit: int, stop: Stop, seed: int, report: Progress) -> Answering:
        """Streams the best layout, or up to `limit` layouts that are as good; see `Engine`.

        Args:
            question: the question.
            limit: how many designs to list; more than one, or none, makes the engine look for all of them.
            stop: asked whether to stop early.
            seed: of all choices; with the same seed comes the same answer.
            report: told of the progress.

        Raises:
            UsageError: labels, solid and goals do not fit together.
        """
        faults = layout_faults(question)
        if faults:
            raise UsageError("; ".join(faults))
        return Answering(self.name, _stream(question, limit, stop, seed, report))


def _stream(question: Layout, limit: int, stop: Stop, seed: int, report: Progress) -> Stream:
    faces = map_of(question)
    ground = Ground(faces, question.labels, seed)
    found = best_of(
        ground, values_of(question, faces), {"opposite": opposite_least(question, faces)}, stop, report
    )
    if guarded(question):
        return (yield from _guarded(question, ground, found, limit, stop, report))
    design = LayoutDesign.of(question, ground.free().labels(found.numbers))
    words = reason(question, faces, found)
    lines = proof(question, faces, found)
    if not found.proved:
        yield design
        early = f" The search ended early ({found.stopped})." if found.stopped else ""
        return Closing("partial", 1, 1, "at least", words + early, lines, _bound(question, found))
    if limit == 1:
        yield design
        return Closing("best", 1, 1, "at least", words or "Any layout does.", lines)
    return (yield from _all(question, ground, found, words, lines, limit, stop, report))


def _all(
    question: Layout,
    ground: Ground,
    found: Found,
    words: str,
    lines: tuple[str, ...],
    limit: int,
    stop: Stop,
    report: Progress,
) -> Stream:
    """Every design as good as the best, up to the limit; each class of layouts that a symmetry joins once."""
    tally = Tally()
    whole = counted_by_symmetry(question, ground, found.limits)
    listed = 0
    met = every_layout(question, ground, found.limits, tally, limit, stop, report)
    try:
        # where their number is known, no more are met than are listed
        for labels in met if whole is None else islice(met, limit):
            if listed < limit:
                listed += 1
                yield LayoutDesign.of(question, labels, guards=listed <= GUARDED)
    except Stopped as asked:
        more = f"{words} At least {counted(tally.designs, 'such design')} before the search ended early ({asked})."
        return Closing("best", tally.designs, tally.designs, "at least", more.strip(), lines)
    many = whole if whole is not None else tally.designs
    joined = "rotation and reflection" if question.same_under == "reflection" else "rotation"
    renamed = ", and up to new names for labels that stand equally often" if question.rename else ""
    be = "is" if many == 1 else "are"
    more = f"{words} There {be} {counted(many, 'such layout')} up to {joined}{renamed}."
    perfect = not any(one.reached for one in found.reached)
    verdict: Verdict = "complete" if perfect else "best"
    if whole is not None:
        lines = (
            *lines,
            "Counted by Burnside's lemma: the mean over the symmetries of the layouts that each keeps.",
        )
    return Closing(verdict, many, many, "all", more.strip(), lines)


def _guarded(
    question: Layout, ground: Ground, found: Found, limit: int, stop: Stop, report: Progress
) -> Stream:
    """The best layouts by the guards, among those as good by the goals before them."""
    best = judged(question, ground, found, stop, report)
    designs = {one.id: one for one in (LayoutDesign.of(question, labels) for labels in best.best)}
    listed = list(islice(sorted(designs.values(), key=lambda one: one.id), max(1, limit)))
    yield from listed
    words = reason(question, ground.faces, found)
    words = f"{words} {guard_words(question, listed[0])}".strip()
    lines = proof(question, ground.faces, found)
    if best.every and found.proved:
        lines = (
            *lines,
            f"All {best.judged:,} layouts left were judged; shifts were compared to five digits.",
        )
        many = len(designs)
        return Closing("best", many, many, "all", f"{words} {_judged_words(best)}", lines)
    early = best.stopped or found.stopped
    ended = f" The search ended early ({early})." if early else ""
    return Closing(
        "partial", len(listed), len(listed), "at least", f"{words} {_judged_words(best)}{ended}", lines, "0"
    )


def _judged_words(best: Judged) -> str:
    many, were = counted(best.judged, "layout"), "was" if best.judged == 1 else "were"
    if best.every:
        all_of = "The one layout" if best.judged == 1 else f"All {many}"
        return f"{all_of} that the goals before leave {were} judged; none is better."
    return f"{capital(many)} {were} judged, the best that a search met; a better one may exist."


def _bound(question: Layout, found: Found) -> str | None:
    """The bound of the first value that is not settled."""
    scale = Scale.of(question.labels)
    for one in found.reached:
        if not one.proved:
            return str(scale.deviation(one.least)) if one.value.sizes else str(one.least)
    return None
