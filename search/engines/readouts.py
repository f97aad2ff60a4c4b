"""The engine `readouts`: marks for several results from one roll, as near independent as a solid allows."""

from __future__ import annotations

from collections.abc import Generator
from fractions import Fraction

from facewright.constraints.grammar import capital, counted
from facewright.constraints.readouts import Readouts
from facewright.constraints.readouts_design import Marks, ReadoutsDesign, canonical
from facewright.constraints.solids import solid
from facewright.constraints.views import Views, views_of
from facewright.search.answer import Answering, Closing, Verdict
from facewright.search.engines.readouts_elsewhere import elsewhere
from facewright.search.engines.readouts_search import Found, bounds_of, every, least
from facewright.search.engines.readouts_words import (
    deviation_words,
    distance_words,
    independent_words,
    largest_deviation,
    no_place,
    obstacle,
)
from facewright.search.progress import Progress
from facewright.search.stop import Stop, Stopped

VERSION = 1
"""Rises with every change that could change an answer: answers kept from an older version are not used."""

Stream = Generator[ReadoutsDesign, None, Closing]


class Marking:
    """Answers every question of readouts about one solid."""

    name = "readouts"

    def accepts(self, question: object) -> bool:
        """Every question of readouts."""
        return isinstance(question, Readouts)

    def answer(
        self,
        question: Readouts,
        limit: int,
        stop: Stop,
        seed: int,
        report: Progress,
        *,
        alone: bool = True,
    ) -> Answering:
        """Streams one proved optimum, or up to `limit` designs that are as good; see `Engine`.

        Args:
            question: a question about one solid.
            limit: how many designs to list; more than one, or none, makes the engine look for all of them.
            stop: asked whether to stop early.
            seed: of the solver's choices.
            report: told of the progress.
            alone: whether to say on which other solids the readouts would be exact.
        """
        return Answering(self.name, _stream(question, limit, stop, seed, report, alone))


def _stream(question: Readouts, limit: int, stop: Stop, seed: int, report: Progress, alone: bool) -> Stream:
    views = views_of(solid(question.solid))
    missing = no_place(question, views)
    if missing:
        return Closing("none", 0, 0, "all", f"{missing}.", ("By the numbers of sites alone.",))
    bounds = bounds_of(question, views.rests)
    exact = question.independent == "exact"
    if exact and bounds[0]:
        reason = f"{capital(obstacle(question, views.rests))}."
        return Closing(
            "none", 0, 0, "all", reason + _other(question, stop, seed, report, alone), _bound(bounds)
        )
    found = least(question, views, stop, seed, report)
    if found.marks is None or found.distances is None:
        return _without(question, views, found)
    design = ReadoutsDesign.of(question, views, canonical(question, views, found.marks)[0])
    other = _other(question, stop, seed, report, alone) if found.distances[0] else ""
    if found.stopped:
        yield design
        reason = (
            f"{_reached(question, design, found.distances[0])} The search ended early ({found.stopped}); a better "
            "marking may exist."
        )
        low = (found.open_bound or bounds)[0]
        return Closing("partial", 1, 1, "at least", reason, _proof(found, views), str(low))
    reason = _reason(question, views, design, found) + other
    if limit == 1:
        yield design
        return Closing("best", 1, 1, "at least", reason, _proof(found, views))
    return (yield from _all(question, views, found, reason, limit, stop, seed, report))


def _all(
    question: Readouts,
    views: Views,
    found: Found,
    reason: str,
    limit: int,
    stop: Stop,
    seed: int,
    report: Progress,
) -> Stream:
    """Every design as good as the best, up to the limit; each class of designs that a symmetry joins once."""
    assert found.distances is not None
    known: set[Marks] = set()
    labelled, proof = 0, _proof(found, views)
    try:
        for marks in every(question, views, found.distances, stop, seed):
            form, images = canonical(question, views, marks)
            if form in known:
                continue
            known.add(form)
            labelled += images
            report("designs found", len(known), None)
            if len(known) <= limit:
                yield ReadoutsDesign.of(question, views, form)
            if len(known) == limit:
                more = f"{reason} {capital(counted(limit, 'design'))} are listed, as many as were asked for."
                return Closing("best", limit, limit, "at least", more, proof)
    except Stopped as asked:
        some = f"{reason} {capital(counted(len(known), 'design'))} found before the search ended early ({asked})."
        return Closing("best", len(known), len(known), "at least", some, proof)
    joined = "rotation and reflection" if question.same_under == "reflection" else "rotation"
    renamed = ", and up to new names for equally likely labels" if question.rename else ""
    every_one = (
        f"{reason} There {'is' if len(known) == 1 else 'are'} {counted(len(known), 'such design')} up to "
        f"{joined}{renamed}: {labelled:,} when every position counts."
    )
    verdict: Verdict = "best" if found.distances[0] else "complete"
    return Closing(verdict, len(known), len(known), "all", every_one, proof)


def _without(question: Readouts, views: Views, found: Found) -> Closing:
    if found.stopped:
        words = f"No marking was found before the search ended early ({found.stopped})."
        low = (found.open_bound or found.bounds)[0]
        return Closing("partial", 0, 0, "at least", words, _proof(found, views), str(low))
    if not found.placings:
        reason = (
            f"Each readout alone finds a place on the {views.solid}, but not all of them together: there are too few "
            f"kinds of site for them where {counted(question.share, 'readout')} may share a site."
        )
    elif question.independent == "exact":
        reason = (
            f"On the {views.solid} no marking makes them exactly independent, although {views.rests} rests would "
            "allow it: every place for the marks was ruled out."
        )
    else:
        reason = (
            f"On the {views.solid} no marking shows exactly one mark of every readout on every rest: every place for "
            "the marks was ruled out."
        )
    return Closing("none", 0, 0, "all", reason, _proof(found, views))


def _reason(question: Readouts, views: Views, design: ReadoutsDesign, found: Found) -> str:
    assert found.distances is not None
    distance = found.distances[0]
    if not distance:
        return independent_words(question, views.rests)
    why = obstacle(question, views.rests)
    start = f"{why}; " if why else ""
    proved = (
        "and this marking reaches it"
        if found.by_bound
        else "by a search through every place for the marks, and this marking reaches it"
    )
    deviation = largest_deviation(question, design)
    end = f": {deviation_words(deviation)}" if deviation else ""
    return f"{capital(start + distance_words(question, distance))}, {proved}{end}."


def _reached(question: Readouts, design: ReadoutsDesign, distance: Fraction) -> str:
    deviation = largest_deviation(question, design)
    end = f": {deviation_words(deviation)}" if deviation else ""
    return f"This marking has a dependence of {distance}{end}."


def _other(question: Readouts, stop: Stop, seed: int, report: Progress, alone: bool) -> str:
    return f" {elsewhere(question, question.solid, stop, seed, report).words}" if alone else ""


def _bound(bounds: tuple[Fraction, ...]) -> tuple[str, ...]:
    return (
        f"Whole counts n_c with Σ n_c = N and Σ|n_c/N − p_c|/2 least give {bounds[0]}: for K equally likely "
        "combinations r(K − r)/(NK) with r = N mod K; a part of the readouts is never further off than all of them.",
    )


def _proof(found: Found, views: Views) -> tuple[str, ...]:
    """How it was proved, a sentence a line."""
    lines = list(_bound(found.bounds))
    lines.append(
        f"{capital(counted(len(found.placings), 'way'))} to give each readout a kind of site, on {views.rests} rests."
    )
    lines.append(
        "x[i, s, l]: readout i has label l on site s; z[rest, c]: exactly one combination a rest; the z with a label "
        "sum to the x over the sites seen. A readout with a site of its own at every rest enters by its counts alone."
    )
    if not found.placings:
        return tuple(lines[1:2])
    if found.by_bound:
        lines.append("The marking reaches the bound, so that nothing better exists.")
    elif found.distances is not None or not found.stopped:
        lines.append(
            f"CP-SAT ruled out everything better in {found.tried:,} runs of up to {found.variables:,} variables each."
        )
    return tuple(lines)
