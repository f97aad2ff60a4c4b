"""The engine `sifting`: designs of the question without its further rules, of which those that keep them are left."""

from __future__ import annotations

from dataclasses import replace

from facewright.constraints.design import NumberingDesign
from facewright.constraints.further import keeps
from facewright.constraints.question import Numbering, StopRule
from facewright.search.answer import Answering, Closing, Stream
from facewright.search.engines.base import Engine
from facewright.search.engines.exact.classes import Classes
from facewright.search.engines.exact.division import barred_by_division
from facewright.search.engines.exact.mirrored import Mirrored
from facewright.search.engines.exact.products import Products
from facewright.search.engines.exact.ranks import Ranks
from facewright.search.engines.exact.side_by_side import SideBySide
from facewright.search.engines.factors import Factors
from facewright.search.engines.solver import Solver, shape
from facewright.search.progress import Progress
from facewright.search.stop import Stop
from facewright.search.words import completed, conditions, stopped

BENEATH: tuple[Engine, ...] = (Factors(), Ranks(), Mirrored(), Products(), SideBySide(), Classes())
"""Engines that list designs fast; they know nothing of further rules."""

MOST = 50_000
"""Up to so many designs are sifted; where there are more, the solver is asked with the rules in its model."""


class Sifting:
    """Complete for exact questions with further rules, where an engine for them without these rules is fast."""

    name = "sifting"

    def accepts(self, question: Numbering) -> bool:
        """Exact questions with further rules that another engine answers without them, and the solver with them."""
        return bool(question.also) and _beneath(question) is not None and Solver().accepts(question)

    def answer(self, question: Numbering, limit: int, stop: Stop, seed: int, report: Progress) -> Answering:
        """Streams the designs, each once; see `Engine`."""
        return Answering(self.name, _stream(question, limit, stop, seed, report))


def _bare(question: Numbering) -> Numbering:
    return replace(question, also=(), stop=StopRule(question.stop.seconds, None))


def _beneath(question: Numbering) -> Engine | None:
    bare = _bare(question)
    return next((engine for engine in BENEATH if engine.accepts(bare)), None)


def _stream(question: Numbering, limit: int, stop: Stop, seed: int, report: Progress) -> Stream:
    barred = barred_by_division(question)
    if barred is not None:
        return barred
    engine = _beneath(question)
    if engine is None:
        raise ValueError("question: one that an engine answers without its further rules is needed")
    answering = engine.answer(_bare(question), MOST, stop, seed, report)
    kept: list[NumberingDesign] = []
    seen = 0
    for design in answering:
        seen += 1
        if all(keeps(rule, [die.labels for die in design.dice], question.again) for rule in question.also):
            kept.append(design)
    closing = answering.closing
    if closing.verdict == "complete" and closing.count > seen:
        return (yield from Solver().answer(question, limit, stop, seed, report).stream)
    yield from kept[:limit]
    shapes = len({shape(question, design) for design in kept})
    if closing.verdict == "partial":
        asked = closing.reason.partition("(")[2].partition(")")[0]
        return Closing("partial", len(kept), shapes, "at least", stopped(len(kept), asked))
    proof = (*closing.proof, f"Of the {seen:,} designs {len(kept):,} keep the further rules; each was tried.")
    if kept:
        reason = completed(question, len(kept), min(limit, len(kept)))
        return Closing("complete", len(kept), shapes, "all", reason, proof)
    if not seen:
        return Closing("none", 0, 0, "all", closing.reason, proof, cause=closing.cause)
    reason = (
        f"{conditions(question)} no numbering does it: of {seen:,} without further rules none keeps them all."
    )
    return Closing("none", 0, 0, "all", reason, proof, cause="search")
