"""What each rest of a solid shows, sorted into kinds of site that can carry a readout."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from facewright.constraints.solids.solid import Solid

PLACES: tuple[Literal["faces", "vertices", "edges"], ...] = ("faces", "vertices", "edges")
"""Where a mark can stand, in the order in which the sites of a solid are numbered."""

Permutation = tuple[int, ...]
"""Site → the site to which a symmetry takes it, as numbers over all sites of the solid."""


@dataclass(frozen=True)
class SiteKind:
    """Sites that a solid's rotations take into one another: one kind of place for the marks of a readout.

    `sites` are numbers over all sites of the solid; `seen[rest]` are those that a rest shows; `cuts` says how many
    faces meet at such a site, so how often a mark there is cut. Each site is seen from `seen_from` rests.

    All faces together are one kind where every rest shows one of them, although the rotations alone may make two
    kinds of them, left-handed and right-handed: no part of them would be seen from every rest.
    """

    place: str
    sites: tuple[int, ...]
    seen: tuple[tuple[int, ...], ...]
    cuts: int

    @property
    def first(self) -> int:
        """The first of the sites; no other kind has it."""
        return self.sites[0]

    @cached_property
    def seen_from(self) -> int:
        """From how many rests each of the sites is seen."""
        return sum(self.first in shown for shown in self.seen)

    @cached_property
    def marks(self) -> int:
        """How many sites of this kind carry the marks of one readout; 0 where no number does."""
        rests = len(self.seen)
        whole = self.seen_from > 0 and rests % self.seen_from == 0 and all(self.seen)
        return rests // self.seen_from if whole else 0

    @property
    def own(self) -> bool:
        """Whether every rest shows one site that no other rest shows: any labels at all can then stand there."""
        return self.seen_from == 1 and len(self.sites) == len(self.seen)

    def choices(self) -> Iterator[frozenset[int]]:
        """Every choice of sites of which each rest shows exactly one: the exact hitting sets of the rests."""
        if self.marks:
            yield from _choices(self.seen, {site: self._rests(site) for site in self.sites})

    def _rests(self, site: int) -> frozenset[int]:
        return frozenset(rest for rest, shown in enumerate(self.seen) if site in shown)


@dataclass(frozen=True)
class Views:
    """The rests of a solid and what each shows, its kinds of site, and its symmetries as permutations of sites.

    Sites are numbered from 0: faces, then vertices, then edges; `names` gives f1…, v1…, e1….
    """

    solid: str
    names: tuple[str, ...]
    rests: int
    kinds: tuple[SiteKind, ...]
    rotations: tuple[Permutation, ...]
    symmetries: tuple[Permutation, ...]

    @cached_property
    def number(self) -> dict[str, int]:
        """Name of a site → its number."""
        return {name: site for site, name in enumerate(self.names)}

    @cached_property
    def kind_of(self) -> dict[int, SiteKind]:
        """Number of a site → its kind."""
        return {site: kind for kind in self.kinds for site in kind.sites}


def views_of(solid: Solid) -> Views:
    """What the rests of a solid show."""
    sizes = (len(solid.faces), len(solid.vertices), len(solid.edges))
    meeting = [0] * sizes[1]
    for face in solid.faces:
        for vertex in face:
            meeting[vertex] += 1
    shown = [
        tuple(tuple(int(site) for site in rest.shows[place]) for place in PLACES) for rest in solid.rests
    ]
    rotations = [(tuple(a.faces), tuple(a.vertices), tuple(a.edges)) for a in solid.rotations]
    symmetries = [(tuple(a.faces), tuple(a.vertices), tuple(a.edges)) for a in solid.symmetry]
    return make_views(solid.name, sizes, shown, rotations, symmetries, meeting)


def make_views(
    name: str,
    sizes: tuple[int, int, int],
    shown: Sequence[tuple[tuple[int, ...], ...]],
    rotations: Sequence[tuple[tuple[int, ...], ...]],
    symmetries: Sequence[tuple[tuple[int, ...], ...]],
    meeting: Sequence[int],
) -> Views:
    """The views of a solid from plain incidence.

    Args:
        name: the solid's name.
        sizes: how many faces, vertices and edges it has.
        shown: for each rest the faces, vertices and edges shown, each numbered from 0.
        rotations: each as permutations of faces, vertices and edges.
        symmetries: all symmetries, likewise, rotations included.
        meeting: for each vertex how many faces meet there.
    """
    starts = (0, sizes[0], sizes[0] + sizes[1])
    names = tuple(f"{letter}{n + 1}" for letter, size in zip("fve", sizes, strict=True) for n in range(size))
    joined = [_joined(one, starts) for one in rotations]
    views = [tuple(start + site for site in part) for rest in shown for part, start in _parts(rest, starts)]
    by_place = [views[place::3] for place in range(3)]
    kinds: list[SiteKind] = []
    for place, (start, size) in enumerate(zip(starts, sizes, strict=True)):
        seen = by_place[place]
        orbits = _orbits(range(start, start + size), joined)
        tops = sorted({site for one in seen for site in one})
        if place == 0 and len(tops) == len(seen) and all(len(one) == 1 for one in seen):
            orbits = [tuple(tops)]
        for orbit in orbits:
            inside = set(orbit)
            cuts = (1, meeting[orbit[0] - start] if place == 1 else 0, 2)[place]
            part = tuple(tuple(s for s in one if s in inside) for one in seen)
            kinds.append(SiteKind(PLACES[place], orbit, part, cuts))
    all_symmetries = tuple(_joined(one, starts) for one in symmetries)
    return Views(name, names, len(shown), tuple(kinds), tuple(joined), all_symmetries)


def _parts(
    rest: tuple[tuple[int, ...], ...], starts: tuple[int, ...]
) -> Iterator[tuple[tuple[int, ...], int]]:
    yield from zip(rest, starts, strict=True)


def _joined(parts: tuple[tuple[int, ...], ...], starts: tuple[int, ...]) -> Permutation:
    """One permutation of all sites from those of faces, vertices and edges."""
    return tuple(start + int(to) for part, start in zip(parts, starts, strict=True) for to in part)


def _orbits(sites: range, group: Sequence[Permutation]) -> list[tuple[int, ...]]:
    left, orbits = set(sites), []
    for site in sites:
        if site in left:
            orbit = {one[site] for one in group} | {site}
            orbits.append(tuple(sorted(orbit)))
            left -= orbit
    return orbits


def _choices(seen: Sequence[tuple[int, ...]], rests: dict[int, frozenset[int]]) -> Iterator[frozenset[int]]:
    """Depth first: the rest with the fewest sites left takes each of them in turn."""

    def extend(
        chosen: tuple[int, ...], open_rests: frozenset[int], left: set[int]
    ) -> Iterator[frozenset[int]]:
        if not open_rests:
            yield frozenset(chosen)
            return
        rest = min(sorted(open_rests), key=lambda one: sum(site in left for site in seen[one]))
        for site in [site for site in seen[rest] if site in left]:
            left.discard(site)
            still = open_rests - rests[site]
            yield from extend((*chosen, site), still, {other for other in left if rests[other] <= still})

    yield from extend((), frozenset(range(len(seen))), set(rests))
