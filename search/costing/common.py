"""Lines that every route has: what a product costs once, inking, packing, freight."""

from __future__ import annotations

from typing import TYPE_CHECKING

from facewright.search.costing.job import DieJob, SetJob
from facewright.search.costing.lines import HOUR, Ledger

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Figures = NDArray[np.float64]

CM3 = 1e-3
"""Cubic centimetres in a cubic millimetre."""

KG = 1e-3
"""Kilograms in a gram."""


def made_over_sold(ledger: Ledger, route: str) -> Figures:
    """How many dice are made for one that is sold: spares on top, rejects gone."""
    rates = ledger.rates
    return (1 + rates["general.spares"]) / (1 - rates[f"{route}.rejects"])


def begun(ledger: Ledger, job: SetJob) -> None:
    """What a product costs once, whichever route it takes."""
    ledger.add("artwork", "different dice", job.different, "general.artwork", per="once")
    ledger.add("test house", "product", 1, "general.test_house", per="once")
    ledger.add("dispatch", "order", 1, "general.dispatch", per="once")


def inked(ledger: Ledger, job: SetJob, made: Figures) -> None:
    """One ink flooded and wiped face by face; each further ink on its share of the marks, by hand."""
    faces = sum(die.count * die.marked for die in job.dice)
    marks = sum(die.count * die.marks for die in job.dice)
    ledger.add("inking", "faces", made * faces, "general.ink", "general.labour", scale=1 / HOUR)
    if job.inks > 1:
        more = marks * (job.inks - 1) / job.inks
        ledger.add("further inks", "marks", made * more, "general.ink_more", "general.labour", scale=1 / HOUR)


def tumbled(ledger: Ledger, job: SetJob, made: Figures) -> None:
    """Tumbling, by the die."""
    ledger.add("tumbling", "dice", made * job.many, "general.tumble")


def sent(ledger: Ledger, job: SetJob, density: str | None) -> None:
    """Packing and freight; without a density, blanks are taken to weigh what moulded dice do."""
    ledger.add("packing", "set", 1, "general.packing")
    weight = grams(ledger, job, density or "mould.density") * (1 + ledger.rates["general.spares"])
    ledger.add("freight", "g", weight, "general.freight", scale=KG)


def grams(ledger: Ledger, job: SetJob, density: str) -> Figures:
    """What the dice of one set weigh, in grams."""
    return job.volume_mm3 * CM3 * ledger.rates[density]


def grams_of(ledger: Ledger, die: DieJob, density: str) -> Figures:
    """What one die weighs, in grams."""
    return die.volume_mm3 * CM3 * ledger.rates[density]
