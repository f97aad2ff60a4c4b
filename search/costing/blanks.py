"""The route of stock blanks: bought, marked by laser or engraved, inked."""

from __future__ import annotations

from collections.abc import Iterator

from facewright.search.costing.common import begun, inked, made_over_sold, sent
from facewright.search.costing.job import SetJob
from facewright.search.costing.lines import HOUR, Curve, Ledger
from facewright.search.costing.scenarios import Scenarios

ROUTE = "marked-blanks"


def curves(job: SetJob, rates: Scenarios) -> Iterator[Curve]:
    """The one way of it; none where a solid is not sold as a blank and the maker has none."""
    if lacking(job, rates):
        return
    ledger = Ledger(rates)
    begun(ledger, job)
    made = made_over_sold(ledger, ROUTE)
    ledger.add("fixture", "different dice", job.different, f"{ROUTE}.fixture", per="once")
    ledger.add(
        "further colours",
        "lots",
        job.different * (job.colours - 1),
        f"{ROUTE}.colour_lot",
        per="once",
    )
    cubes = sum(die.count for die in job.dice if die.solid == "cube")
    ledger.add("blank cubes", "dice", made * cubes, f"{ROUTE}.blank_cube")
    ledger.add("other blanks", "dice", made * (job.many - cubes), f"{ROUTE}.blank_other")
    faces = sum(die.count * die.marked for die in job.dice)
    characters = sum(die.count * die.characters for die in job.dice)
    machine = f"{ROUTE}.machine"
    ledger.add("marking", "characters", made * characters, f"{ROUTE}.character", machine, scale=1 / HOUR)
    ledger.add("turning", "faces", made * faces, f"{ROUTE}.turn", machine, scale=1 / HOUR)
    inked(ledger, job, made)
    sent(ledger, job, None)
    yield Curve(ROUTE, "stock blanks", tuple(ledger.lines))


def lacking(job: SetJob, rates: Scenarios) -> tuple[str, ...]:
    """The solids of which there are no blanks."""
    stocked = rates.rates.stocked
    found = (die.solid for die in job.dice if die.solid not in stocked and "blanks" not in die.owned)
    return tuple(dict.fromkeys(found))
