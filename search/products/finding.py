"""From a product brief to its answer: each design measured after another, and kept."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence

from facewright.constraints.errors import UsageError
from facewright.constraints.product import Product
from facewright.search.answer import Closing
from facewright.search.products.answer import ENGINE, FoundProduct, ProductAnswer
from facewright.search.products.measuring import measured
from facewright.search.progress import Progress, silent
from facewright.search.readouts_answer import SolidOutcome
from facewright.search.stop import Stop

Keep = Callable[[Sequence[FoundProduct], SolidOutcome | None], None]
"""Told of each design with its outcome."""


def answer_product(
    question: Product,
    *,
    seed: int,
    stop: Stop,
    report: Progress = silent,
    done: Sequence[SolidOutcome] = (),
    earlier: Sequence[FoundProduct] = (),
    keep: Keep = lambda _shard, _outcome: None,
    limit: int | None = None,
) -> ProductAnswer:
    """Answers a product brief, from the start or from where a stopped run ended.

    Args:
        question: the question.
        seed: of the searches for layouts.
        stop: asked whether to stop early.
        report: told of the progress.
        done: outcomes of the first designs, from an earlier run.
        earlier: those designs.
        keep: told of each design with its outcome.
        limit: how many designs to measure; without it all.

    Raises:
        UsageError: a design cannot be laid out or drawn.
        RecountError: the recount disagrees with the run of a design.
    """
    outcomes, found = list(done), list(earlier)
    for position in range(len(done), len(question.candidates)):
        report("designs measured", position, len(question.candidates))
        if stop() or (limit is not None and len(found) >= limit):
            break
        candidate, started = question.candidates[position], time.perf_counter()
        try:
            design = measured(candidate, question.make.by, seed=seed, stop=stop, report=report)
        except UsageError as refused:
            if stop():
                break
            raise UsageError(f"{candidate.name}: {refused}") from refused
        one = FoundProduct(design, position, design.inexact)
        closing = Closing("complete", 1, 1, "all", "Measured.")
        outcome = SolidOutcome(candidate.name, ENGINE, closing, 1, time.perf_counter() - started)
        keep((one,), outcome)
        found.append(one)
        outcomes.append(outcome)
    return ProductAnswer(question, tuple(outcomes), tuple(found), seed)
