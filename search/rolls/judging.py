"""All tests of counted rolls, and how many errors they may make together.

The tests of all rolls are one family, those by cavity, batch and die another; where both are there each has half of
the level. Within a family p is adjusted by Holm's method (S. Holm, Scandinavian Journal of Statistics 6 (1979) 65–70,
from memory), so that the chance of any false alarm among all of them is at most the level, however they depend on one
another. A die with distinct labels has one test whether its faces or its labels were noted: it counts once.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import exp, log

from facewright.search.rolls.chi_square import ChiSquare, alike, chi_square
from facewright.search.rolls.deviation import Largest, largest
from facewright.search.rolls.evidence import log_e_values
from facewright.search.rolls.power import certainty, hardest, seen_share
from facewright.search.rolls.tally import Tally
from facewright.search.rolls.views import View

LEVEL = 0.05
"""The chance of a false alarm that is accepted, unless another is asked for."""

MOST_LOG = 700.0
"""The logarithm of the greatest number that is written in full."""


@dataclass(frozen=True)
class Test:
    """One test: of what, its counts, and what they say.

    `group` is the column and the entry of a test of some rolls alone; a test whether groups are alike has the column
    and nothing. `p_adjusted` heeds all tests of the family. `log_e` is the natural logarithm of the e-value,
    `log_highest` of the highest reached, after `highest_at` rolls; None where there is none, or the order of the rolls
    is lost.
    `same_as` names the test that this one repeats.
    """

    of: str
    view: View
    counts: tuple[int, ...]
    chi: ChiSquare
    most: Largest | None = None
    group: tuple[str, str | None] | None = None
    p_adjusted: float = 1.0
    log_e: float | None = None
    log_highest: float | None = None
    highest_at: int | None = None
    path: tuple[tuple[int, float], ...] = ()
    same_as: str | None = None

    @property
    def rolls(self) -> int:
        """Rolls that were tested."""
        return sum(self.counts)

    @property
    def e_value(self) -> float | None:
        """The e-value."""
        return None if self.log_e is None else exp(min(self.log_e, MOST_LOG))

    @property
    def top(self) -> float | None:
        """The logarithm of the highest e-value that may be used: the one at the end where the order is lost."""
        return self.log_e if self.log_highest is None else self.log_highest

    @property
    def highest(self) -> float | None:
        """The highest e-value reached."""
        return None if self.log_highest is None else exp(min(self.log_highest, MOST_LOG))


@dataclass(frozen=True)
class Seen:
    """What the first test could see: a face off by the share `off` with this certainty; off by `share` with `wanted`.

    `named` is the face that is hardest to see.
    """

    off: float
    certainty: float
    share: float
    wanted: float
    named: str


@dataclass(frozen=True)
class Judged:
    """All tests of all rolls (`whole`) and of groups (`parts`), and what was not tested.

    `own_level` is the level of each test of the first family on its own, at which `seen` is worked out.
    """

    whole: tuple[Test, ...]
    parts: tuple[Test, ...]
    untested: tuple[str, ...]
    level: float
    own_level: float
    seen: Seen | None

    @property
    def unusual(self) -> list[Test]:
        """The tests that found something, whole ones first."""
        return [one for one in (*self.whole, *self.parts) if one.p_adjusted <= self.level and not one.same_as]

    @property
    def alarms(self) -> list[Test]:
        """The tests whose e-value once reached the limit."""
        return [one for one in self.whole if (one.top or 0.0) >= log(self.limit) and not one.same_as]

    @property
    def limit(self) -> float:
        """The e-value that counts as unusual: one over the level, times the number of tests of all rolls."""
        return max(1, sum(not one.same_as for one in self.whole)) / self.level


def judged(
    tally: Tally,
    untested: Iterable[str],
    *,
    level: float = LEVEL,
    off: float = 0.2,
    wanted: float = 0.9,
    seed: int = 0,
) -> Judged:
    """Tests counted rolls.

    Params:
        tally: the rolls.
        untested: what is known not to be tested.
        level: the chance of any false alarm that is accepted.
        off, wanted: the bias and the certainty that the first test is judged by.
        seed: of simulated p values.
    """
    told = list(untested)
    whole = [_whole(tally, view, seed) for view in tally.views if _enough(tally, view, told)]
    whole = [_marked(one, whole[:place]) for place, one in enumerate(whole)]
    parts = [] if not whole else list(_parts(tally, whole[0].view, seed, told))
    for column in tally.crowded:
        told.append(f"{column} has very many different entries: not tested by {column}")
    shared = 2 if parts else 1
    fresh = [one for one in whole if not one.same_as]
    adjusted = iter(_holm([one.chi.p for one in fresh], shared))
    whole = [one if one.same_as else replace(one, p_adjusted=next(adjusted)) for one in whole]
    by_name = {one.of: one for one in whole}
    whole = [
        replace(one, p_adjusted=by_name[one.same_as].p_adjusted) if one.same_as else one for one in whole
    ]
    parts = [
        replace(one, p_adjusted=p)
        for one, p in zip(parts, _holm([one.chi.p for one in parts], shared), strict=True)
    ]
    own_level = level / shared / max(1, len(fresh))
    seen = _seen(whole[0], own_level, off, wanted) if whole else None
    return Judged(tuple(whole), tuple(parts), tuple(told), level, own_level, seen)


def _enough(tally: Tally, view: View, told: list[str]) -> bool:
    """Whether a view can be tested; says why not."""
    if not tally.evidence[view.name].rolls:
        told.append(f"{view.name}: no roll that could be read tells it: not tested")
        return False
    if len(view.cells) < 2:
        told.append(f"{view.name}: only {view.cells[0]} can come up: nothing to test")
        return False
    return True


def _whole(tally: Tally, view: View, seed: int) -> Test:
    found = tally.evidence[view.name]
    ordered = tally.ordered
    counts = tuple(int(one) for one in found.counts)
    return Test(
        view.name,
        view,
        counts,
        chi_square(counts, view.ways, seed),
        largest(counts, view.ways),
        log_e=found.log_value,
        log_highest=found.log_highest if ordered else None,
        highest_at=found.highest_at if ordered else None,
        path=tuple(found.path) if ordered else (),
    )


def _marked(one: Test, before: Sequence[Test]) -> Test:
    """The test, marked where an earlier one has the same counts in cells of the same chances."""
    for other in before:
        same = sorted(zip(other.counts, other.view.ways, strict=True)) == sorted(
            zip(one.counts, one.view.ways, strict=True)
        )
        # the labels of a die repeat its faces, two dice do not repeat one another
        related = {"face", "die"} == {other.view.kind, one.view.kind} and (
            one.of in ("result", "die 1")
            if other.of == "face"
            else other.of.removeprefix("faces of ") == one.of
        )
        if same and related:
            return replace(one, same_as=other.of)
    return one


def _parts(tally: Tally, view: View, seed: int, told: list[str]) -> Iterable[Test]:
    import numpy as np

    for column, groups in tally.groups.items():
        held = {
            entry: counts[view.name] for entry, counts in sorted(groups.items()) if counts[view.name].sum()
        }
        if len(held) < 2:
            if held:
                told.append(f"{column}: all rolls are of {next(iter(held))}: nothing to compare")
            continue
        together = alike([[int(one) for one in counts] for counts in held.values()], seed)
        if together is not None:
            sums = tuple(int(one) for one in np.sum(list(held.values()), axis=0))
            yield Test(f"{view.name}, {column} against {column}", view, sums, together, group=(column, None))
        logs = log_e_values(np.array(list(held.values())), view.ways)
        for (entry, array), log_e in zip(held.items(), logs, strict=True):
            counts = tuple(int(one) for one in array)
            found = chi_square(counts, view.ways, seed)
            yield Test(
                f"{view.name}, {column} {entry}",
                view,
                counts,
                found,
                largest(counts, view.ways),
                (column, entry),
                log_e=float(log_e),
            )


def _holm(p_values: Sequence[float], times: int) -> list[float]:
    """Each p adjusted for all of them, by Holm's method, times a factor.

    Example:
        >>> _holm([0.03, 0.01], 1)
        [0.03, 0.02]
    """
    order = sorted(range(len(p_values)), key=lambda place: p_values[place])
    adjusted, most = [1.0] * len(p_values), 0.0
    for rank, place in enumerate(order):
        most = max(most, (len(p_values) - rank) * p_values[place] * times)
        adjusted[place] = min(1.0, most)
    return adjusted


def _seen(test: Test, level: float, off: float, wanted: float) -> Seen | None:
    worst = hardest(test.view)
    if worst is None:
        return None
    degrees = test.chi.degrees
    return Seen(
        off,
        certainty(test.rolls, worst.effect * off**2, degrees, level),
        seen_share(test.rolls, worst.effect, degrees, level, wanted),
        wanted,
        worst.name,
    )
