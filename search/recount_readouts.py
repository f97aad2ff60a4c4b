"""Recounting readouts: every rest worked out from vertices and faces alone, every mark that it shows read off.

Shares no code with the engine, the model, or the construction of rests; of a solid it takes the coordinates, the
faces and the numbering of the edges. Coordinates are floats: what is level is decided with a tolerance, the counts
are whole numbers and every distance is a fraction.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import combinations, product
from typing import TYPE_CHECKING

from facewright.constraints.errors import UsageError
from facewright.constraints.readouts import Label, Readout, Readouts
from facewright.constraints.readouts_design import ReadoutsDesign

if TYPE_CHECKING:
    from facewright.constraints.solids import Solid

LEVEL = 1e-7
"""Inradii: heights that differ by less are equal. Coordinates are good to about 1e-12."""

Point = tuple[float, float, float]


@dataclass(frozen=True)
class Finding:
    """What recounting found; where there are no `faults` the design `agrees`. `distance` is its dependence."""

    agrees: bool
    distance: Fraction
    faults: tuple[str, ...]


def recount_readouts(question: Readouts, design: ReadoutsDesign) -> Finding:
    """Judges a design from the geometry of its solid: every rest, every distribution, every distance.

    A design that is wrong raises nothing: its faults are in the finding.
    """
    if design.solid not in question.solids:
        return _wrong(f"stands on the {design.solid}, which the question does not ask for")
    names = tuple(one.name for one in question.readouts)
    if tuple(name for name, _ in design.sites) != names:
        return _wrong(
            f"has the readouts {', '.join(name for name, _ in design.sites)}, not {', '.join(names)}"
        )
    shown = rests_shown(design.solid)
    faults = list(_site_faults(question, design, shown))
    if faults:
        return Finding(False, Fraction(1), tuple(faults))
    results = [_read(design, rest) for rest in shown]
    bad = next((at for at, one in enumerate(results, 1) if any(len(seen) != 1 for seen in one)), None)
    if bad is not None:
        return _wrong(
            f"rest {bad} shows {[len(seen) for seen in results[bad - 1]]} marks of its readouts, not one each"
        )
    rolled = [tuple(seen[0] for seen in one) for one in results]
    faults += _count_faults(question, design, rolled)
    distance = _dependence(question.readouts, rolled)
    if distance != design.dependence:
        faults.append(f"has the dependence {distance}, not {design.dependence}")
    pairs = tuple(
        _dependence((question.readouts[a], question.readouts[b]), [(one[a], one[b]) for one in rolled])
        for a, b in combinations(range(len(names)), 2)
    )
    if pairs != design.pairs:
        faults.append("has other distances of pairs than it says")
    if question.independent == "exact":
        exact = not any(pairs) if question.measure == "pairs" else not distance
        if not exact:
            faults.append("is not exactly independent")
    return Finding(not faults, distance, tuple(faults))


def _wrong(fault: str) -> Finding:
    return Finding(False, Fraction(1), (fault,))


def _site_faults(
    question: Readouts, design: ReadoutsDesign, shown: Sequence[frozenset[str]]
) -> Iterator[str]:
    """What is wrong with the places of the marks, before anything is read."""
    every = frozenset[str]().union(*shown)
    letters = {"faces": "f", "vertices": "v", "edges": "e"}
    load: dict[str, int] = {}
    marks = cuts = 0
    meeting = _meeting(design.solid)
    for readout, (name, pairs) in zip(question.readouts, design.sites, strict=True):
        sites = [site for site, _ in pairs]
        if len(set(sites)) != len(sites):
            yield f"{name} has two marks on one site"
        for site, label in pairs:
            load[site] = load.get(site, 0) + 1
            if site not in every:
                yield f"{name} stands on {site}, which no rest shows"
            if label not in readout.labels:
                yield f"{name} has the label {label}"
            marks += 1
            cuts += meeting.get(site, 0)
        kinds = {site[0] for site in sites}
        if len({sum(site in rest for rest in shown) for site in sites}) != 1:
            yield f"{name} stands on sites that are not seen equally often"
        if len(kinds) != 1 or (readout.on is not None and kinds != {letters[readout.on]}):
            yield f"{name} does not stand on one kind of site, or not where it should"
        elif sites[0][0] != "f" and set(sites) <= every and not _alike(design.solid, sites):
            yield f"{name} stands on sites that no rotation takes into one another"
    if max(load.values(), default=0) > question.share:
        yield f"more than {question.share} readouts share a site"
    if (marks, cuts) != (design.marks, design.cuts):
        yield f"has {marks} marks and {cuts} cuts, not {design.marks} and {design.cuts}"


def _read(design: ReadoutsDesign, rest: frozenset[str]) -> list[list[Label]]:
    return [[label for site, label in pairs if site in rest] for _, pairs in design.sites]


def _count_faults(
    question: Readouts, design: ReadoutsDesign, rolled: list[tuple[Label, ...]]
) -> Iterator[str]:
    for at, readout in enumerate(question.readouts):
        for label, weight in zip(readout.labels, readout.weights, strict=True):
            times = sum(one[at] == label for one in rolled)
            if Fraction(times, len(rolled)) != Fraction(weight, sum(readout.weights)):
                yield f"{readout.name} shows {label} on {times} of {len(rolled)} rests"
    every = product(*(readout.labels for readout in question.readouts))
    if design.joint != tuple((labels, rolled.count(labels)) for labels in every):
        yield "has other joint counts than it says"


def _dependence(readouts: Sequence[Readout], rolled: Sequence[tuple[Label, ...]]) -> Fraction:
    """Half the sum of |joint chance − product of the chances| over every combination."""
    total = Fraction(0)
    for places in product(*(range(len(one.labels)) for one in readouts)):
        alone = Fraction(1)
        for one, at in zip(readouts, places, strict=True):
            alone *= Fraction(one.weights[at], sum(one.weights))
        labels = tuple(one.labels[at] for one, at in zip(readouts, places, strict=True))
        total += abs(Fraction(sum(one == labels for one in rolled), len(rolled)) - alone)
    return total / 2


@lru_cache(maxsize=64)
def rests_shown(name: str) -> tuple[frozenset[str], ...]:
    """The names of the sites that each rest of a solid shows, worked out from vertices and faces.

    The solid rests on every face that the point under the centre of mass lies in. On top is what is level with the
    highest vertex: a face, an edge or a vertex. Where two rests have the same on top, the face below is read.

    Raises UsageError where faces and edges do not fit together.
    """
    body = _body(name)
    vertices = [(float(x), float(y), float(z)) for x, y, z in body.vertices]
    faces = [tuple(face) for face in body.faces]
    sides = [{frozenset((a, b)) for a, b in zip(face, (*face[1:], face[0]), strict=True)} for face in faces]
    edges = [frozenset(edge) for edge in body.edges]
    if set().union(*sides) != set(edges):
        raise UsageError(f"{name}: found edges that are not those of its faces")
    tops: list[tuple[int, frozenset[int]]] = []
    for below, face in enumerate(faces):
        up = _inward(vertices, face)
        if not _lies_on(vertices, face, up):
            continue
        heights = [_dot(up, vertex) for vertex in vertices]
        highest = max(heights)
        tops.append((below, frozenset(v for v, height in enumerate(heights) if highest - height < LEVEL)))
    from_below = len({top for _, top in tops}) < len(tops)
    shown = []
    for below, top in tops:
        core = frozenset(faces[below]) if from_below else top
        if len(core) > 2:
            seen_faces = [f for f, face in enumerate(faces) if frozenset(face) == core]
            seen_vertices = sorted(core)
            seen_edges = [e for e, edge in enumerate(edges) if any(edge in sides[f] for f in seen_faces)]
        elif len(core) == 2:
            seen_faces = [f for f, side in enumerate(sides) if core in side]
            seen_vertices, seen_edges = sorted(core), [edges.index(core)]
        else:
            seen_faces = [f for f, face in enumerate(faces) if core <= frozenset(face)]
            seen_vertices = sorted(core)
            seen_edges = [e for e, edge in enumerate(edges) if core <= edge]
        parts = (("f", seen_faces), ("v", seen_vertices), ("e", seen_edges))
        shown.append(frozenset(f"{letter}{at + 1}" for letter, part in parts for at in part))
    return tuple(shown)


def _alike(name: str, sites: Sequence[str]) -> bool:
    from facewright.search.recount_turns import same_orbit

    body = _body(name)
    corners = tuple((float(x), float(y), float(z)) for x, y, z in body.vertices)
    return same_orbit(sites, corners, tuple(tuple(face) for face in body.faces), body.edges)


def _meeting(name: str) -> dict[str, int]:
    """Site → how many faces meet there."""
    body = _body(name)
    found = {f"f{at}": 1 for at in range(1, len(body.faces) + 1)}
    found |= {f"e{at}": 2 for at in range(1, len(body.edges) + 1)}
    return found | {f"v{v + 1}": sum(v in face for face in body.faces) for v in range(len(body.vertices))}


def _body(name: str) -> Solid:
    from facewright.constraints.solids import solid

    return solid(name)


def _dot(a: Point, b: Point) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _cross(a: Point, b: Point) -> Point:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def _less(a: Point, b: Point) -> Point:
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def _inward(vertices: Sequence[Point], face: Sequence[int]) -> Point:
    """The unit vector square to a face that points to the inside, where the origin is."""
    a, b, c = (vertices[at] for at in face[:3])
    normal = _cross(_less(b, a), _less(c, a))
    length = _dot(normal, normal) ** 0.5 * (-1 if _dot(normal, a) > 0 else 1)
    return (normal[0] / length, normal[1] / length, normal[2] / length)


def _lies_on(vertices: Sequence[Point], face: Sequence[int], up: Point) -> bool:
    """Whether the foot of the centre of mass, the origin, lies inside a face."""
    away = _dot(up, vertices[face[0]])
    foot = (up[0] * away, up[1] * away, up[2] * away)
    turns = []
    for a, b in zip(face, (*face[1:], face[0]), strict=True):
        side = _less(vertices[b], vertices[a])
        turns.append(_dot(up, _cross(side, _less(foot, vertices[a]))))
    return all(turn > LEVEL for turn in turns) or all(turn < -LEVEL for turn in turns)
