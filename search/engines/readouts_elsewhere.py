"""Where the same readouts would be exactly independent: the smallest solids of the catalogue, tried one by one."""

from __future__ import annotations

from dataclasses import dataclass, replace

from facewright.constraints.grammar import counted, series
from facewright.constraints.readouts import Readouts
from facewright.constraints.solids import solid
from facewright.constraints.solids.catalogue import listed
from facewright.constraints.views import views_of
from facewright.search.engines.readouts_placing import placings
from facewright.search.engines.readouts_search import at_bound
from facewright.search.engines.readouts_words import whole_rests
from facewright.search.progress import Progress
from facewright.search.stop import Stop

MOST_TRIED = 24
"""How many solids are tried."""
PLACINGS_TRIED = 6
"""How many placings of the marks on each."""

SHOWN = 4
"""How many solids a sentence names."""


@dataclass(frozen=True)
class Elsewhere:
    """The smallest solids that serve, with their number of rests; empty where none was found among those tried.

    `divisor` must divide the number of rests; `possible` are the numbers of rests of solids that it divides. `how` says
    where only pairs are asked to be independent.
    """

    divisor: int
    rests: int
    solids: tuple[str, ...]
    possible: tuple[int, ...]
    how: str = ""

    @property
    def words(self) -> str:
        """A sentence for a designer."""
        if self.solids:
            shown = [f"the {name}" for name in self.solids[:SHOWN]]
            left = len(self.solids) - len(shown)
            some = series([*shown, f"{counted(left, 'other')}"] if left else shown, "and")
            return f"Marks that are exactly independent{self.how} exist on {some} ({self.rests} rests)."
        needed = f"Exact independence{self.how} needs a number of rests that {self.divisor} divides"
        if not self.possible:
            return f"{needed}; no solid of the catalogue has one."
        some = series((str(one) for one in self.possible[:3]), "or")
        return f"{needed}; solids with {some} rests may do, which was not settled here."


def elsewhere(question: Readouts, but: str, stop: Stop, seed: int, report: Progress) -> Elsewhere:
    """The smallest solids of the catalogue on which the readouts are exactly independent, with a little effort each."""
    divisor = whole_rests(question)
    found: list[str] = []
    rests = 0
    candidates = [(name, len(solid(name).rests)) for name in listed() if name != but]
    fitting = sorted((many, name) for name, many in candidates if many % divisor == 0)
    for tried, (many, name) in enumerate(fitting[:MOST_TRIED], 1):
        if (found and many != rests) or stop():
            break
        report("solids that would be exact", tried, None)
        views = views_of(solid(name))
        one = replace(question, solids=(name,), independent="exact")
        if at_bound(one, views, placings(one, views)[:PLACINGS_TRIED], stop, seed):
            found.append(name)
            rests = many
    how = " pair by pair" if question.measure == "pairs" and len(question.readouts) > 2 else ""
    return Elsewhere(divisor, rests, tuple(found), tuple(dict.fromkeys(many for many, _ in fitting)), how)
