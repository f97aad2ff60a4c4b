"""Where readouts can stand: the kinds of site that a solid leaves to each, and every way to place them all."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import product

from facewright.constraints.model.readouts import Placing
from facewright.constraints.readouts import Readout, Readouts
from facewright.constraints.views import SiteKind, Views

LARGE = 60
"""Past so many rests placings with many marks are tried first."""


def fitting(readout: Readout, views: Views) -> tuple[SiteKind, ...]:
    """The kinds of site on which a readout can stand alone: the right place, whole numbers of marks, sites there."""
    return tuple(
        kind
        for kind in views.kinds
        if readout.on in (None, kind.place)
        and whole(readout, kind)
        and next(kind.choices(), None) is not None
    )


def whole(readout: Readout, kind: SiteKind) -> bool:
    """Whether each label gets a whole number of marks on a kind of site.

    A site that d of N rests show counts for d of them, so that N/d sites carry the marks and the sum of the
    weights must divide that number.
    """
    return kind.marks > 0 and kind.marks % readout.ways == 0


def placings(question: Readouts, views: Views, *, alike: bool = False) -> list[Placing]:
    """Every way to give each readout a kind of site, the most promising first.

    Args:
        question: the question.
        views: what the rests of the solid show.
        alike: whether to keep those that differ only by an exchange of equal readouts.
    """
    kinds = [fitting(readout, views) for readout in question.readouts]
    found = [Placing(one) for one in product(*kinds) if _room(one, question.share)]
    if not alike:
        found = list(_apart(question, found))
    return sorted(found, key=lambda placing: _promise(question, placing))


def _room(kinds: tuple[SiteKind, ...], share: int) -> bool:
    times = Counter(kind.first for kind in kinds)
    return all(times[kind.first] * kind.marks <= share * len(kind.sites) for kind in kinds)


def _apart(question: Readouts, found: list[Placing]) -> Iterator[Placing]:
    seen = set()
    for placing in found:
        pairs = zip(question.readouts, placing.kinds, strict=True)
        form = tuple(sorted((one.weights, one.on or "", kind.first) for one, kind in pairs))
        if form not in seen:
            seen.add(form)
            yield placing


def _promise(question: Readouts, placing: Placing) -> tuple[int, ...]:
    """What sorts placings: the most labels free first, then the fewest readouts on one kind, the fewest marks.

    On a large solid the search for marks takes time, and more of them leave more freedom: there the most come first.
    """
    labels = sum(len(question.readouts[at].labels) for at in placing.free)
    crowd = len(placing.kinds) - len({kind.first for kind in placing.kinds})
    marks = sum(kind.marks for kind in placing.kinds)
    large = len(placing.kinds[0].seen) > LARGE
    return -labels, crowd, -marks if large else marks
