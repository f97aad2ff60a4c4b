"""The route of resin, cast in silicone moulds that are worn out after some dozens of pulls."""

from __future__ import annotations

from collections.abc import Iterator

from facewright.search.costing.common import CM3, KG, begun, grams, inked, made_over_sold, sent, tumbled
from facewright.search.costing.job import SetJob
from facewright.search.costing.lines import HOUR, Curve, Ledger
from facewright.search.costing.scenarios import Scenarios

ROUTE = "cast"

CM3_A_LITRE = 1000.0


def curves(job: SetJob, rates: Scenarios) -> Iterator[Curve]:
    """The one way of it. The first mould of each die is paid whole, later ones in proportion to their pulls."""
    ledger = Ledger(rates)
    begun(ledger, job)
    made = made_over_sold(ledger, ROUTE)
    cavities, pulls = rates["cast.cavities"], rates["cast.pulls"]
    without = sum("master" not in die.owned for die in job.dice)
    ledger.add("masters", "different dice", without, "cast.master", per="once")
    for die in job.dice:
        life = cavities * pulls / (made * die.count)
        silicone = cavities * die.volume_mm3 * CM3 * rates["cast.silicone_per_die"]
        ledger.add(
            f"silicone, {die.solid}",
            "cm³",
            silicone,
            "cast.silicone",
            per="renewed",
            scale=1 / CM3_A_LITRE,
            life=life,
        )
        ledger.add(
            f"making silicone moulds, {die.solid}",
            "mould",
            1,
            "cast.mould_work",
            "general.labour",
            per="renewed",
            life=life,
        )
    ledger.add(
        "further colours",
        "fillings",
        job.colours - 1,
        "cast.pour",
        "general.labour",
        per="once",
        scale=1 / HOUR,
    )
    poured = grams(ledger, job, "cast.density") * made / (1 - rates["cast.waste"])
    ledger.add("resin", "g", poured, "cast.resin", scale=KG)
    ledger.add(
        "pouring", "fillings", made * job.many / cavities, "cast.pour", "general.labour", scale=1 / HOUR
    )
    ledger.add("finishing", "dice", made * job.many, "cast.finish", "general.labour", scale=1 / HOUR)
    tumbled(ledger, job, made)
    inked(ledger, job, made)
    sent(ledger, job, "cast.density")
    yield Curve(ROUTE, "resin in silicone", tuple(ledger.lines))
