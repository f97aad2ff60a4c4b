"""Every layout within given limits, each design once, or their number without listing them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from facewright.constraints.layout import Layout
from facewright.constraints.layout_design import canonical, group_of
from facewright.constraints.model.symmetry import first_number
from facewright.constraints.model.units import NO_LIMIT, Limits, on_units
from facewright.constraints.readouts import Label
from facewright.search.engines.laying.attempts import SLICE, Ground
from facewright.search.engines.laying.counts import count_layouts
from facewright.search.engines.laying.walk import Walk
from facewright.search.progress import Progress
from facewright.search.stop import Stop, Stopped

Labels = tuple[Label, ...]


@dataclass
class Tally:
    """How many designs were met so far, and whether every one was."""

    designs: int = 0
    whole: bool = False


def every_layout(
    question: Layout, ground: Ground, limits: Limits, tally: Tally, listed: int, stop: Stop, report: Progress
) -> Iterator[Labels]:
    """The canonical labels of every design within limits, each once; the `tally` goes on counting past `listed`.

    Args:
        question: says which symmetries join designs.
        ground: its faces and labels.
        limits: what a layout must keep.
        tally: told how many there are.
        listed: past so many, designs are only counted, where that can be done without telling them apart.
        stop: asked whether to stop.
        report: told of the progress.

    Raises:
        Stopped: `stop` asked for it.
    """
    variant = ground.variants(limits)[0]
    units, faces = variant.units, ground.faces
    walk = Walk(units, variant.arrays, limits)
    # with labels all different a walk meets each design once up to the whole group
    alone = first_number(units) is not None and len(set(ground.labels)) == faces.faces
    sides = (*faces.turns, *faces.mirrors)
    copies = len(set(sides)) // len(set(group_of(question, faces)))
    known: set[Labels] = set()
    while True:
        asked = stop()
        if asked is not None:
            raise Stopped(asked)
        ended = walk.on(SLICE)
        report("layouts walked through", walk.nodes, None)
        if ended == Walk.OVER:
            tally.whole = True
            return
        if ended == Walk.PAUSED:
            continue
        if alone and tally.designs >= listed and not question.rename:
            tally.designs += copies
            continue
        labels = units.labels(walk.found)
        for form in sorted(_images(question, ground, labels), key=str):
            if form not in known:
                known.add(form)
                tally.designs += 1
                yield form


def _images(question: Layout, ground: Ground, labels: Labels) -> set[Labels]:
    """The designs that a layout and its mirror images are."""
    from facewright.constraints.face_map import moved

    faces = ground.faces
    if not faces.mirrors or question.same_under == "reflection":
        return {canonical(question, faces, labels)}
    return {canonical(question, faces, one) for one in (labels, moved(labels, faces.mirrors[0]))}


def counted_by_symmetry(question: Layout, ground: Ground, limits: Limits) -> int | None:
    """How many designs there are, without a search; None where more is asked than a sum of opposite faces."""
    asked = (limits.vertices, limits.across, limits.corner, limits.consecutive)
    free = limits.opposite >= NO_LIMIT or not ground.faces.opposite
    constant = limits.opposite == 0 and not free
    if any(one < NO_LIMIT for one in asked) or question.rename or not (free or constant):
        return None
    units = ground.variants(limits)[0].units
    if constant and not units.paired:
        return None
    group = [on_units(units.faces, one, units.many) for one in group_of(question, ground.faces)]
    return count_layouts(units, group)
