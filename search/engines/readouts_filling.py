"""From a solution of the model to the marks: the readouts that were left out of it are filled in."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from facewright.constraints.model.readouts import Combination, Placing, ReadoutsModel
from facewright.constraints.readouts_design import Marks
from facewright.search.engines.readouts_solver import Values


def first_filling(model: ReadoutsModel, values: Values) -> Marks:
    """One set of marks that a solution stands for."""
    return next(fillings(model, values))


def fillings(model: ReadoutsModel, values: Values) -> Iterator[Marks]:
    """Every set of marks that a solution stands for, each once.

    Rests that show the same of the other readouts are alike to a readout that gives each rest a site of its own: its
    labels go to them in every order.
    """
    marked = dict(zip(model.x, values, strict=False))
    counts = dict(zip(model.counts, values[len(model.x) :], strict=True))
    fixed: dict[int, list[tuple[int, int]]] = {at: [] for at in model.placing.fixed}
    for (readout, site, label), value in marked.items():
        if value:
            fixed[readout].append((site, label))
    groups = _rests_by_combination(model, fixed)
    for labels in _filled(counts, model.placing, list(groups.items())):
        yield _marks(model, fixed, labels)


def _filled(
    counts: Mapping[Combination, int],
    placing: Placing,
    groups: Sequence[tuple[Combination, Sequence[int]]],
) -> Iterator[dict[int, Combination]]:
    """Rest → labels of the free readouts, group by group: each order of one with each of the others."""
    if not groups:
        yield {}
        return
    shown, rests = groups[0]
    for order in _orders(counts, placing, shown, rests):
        for others in _filled(counts, placing, groups[1:]):
            yield {**others, **dict(zip(rests, order, strict=True))}


def _rests_by_combination(
    model: ReadoutsModel, fixed: Mapping[int, Sequence[tuple[int, int]]]
) -> dict[Combination, list[int]]:
    """What the rests show of the readouts on chosen sites → those rests."""
    groups: dict[Combination, list[int]] = {}
    tables = {readout: dict(pairs) for readout, pairs in fixed.items()}
    for rest in range(model.views.rests):
        shown = tuple(
            next(table[site] for site in model.placing.kinds[readout].seen[rest] if site in table)
            for readout, table in tables.items()
        )
        groups.setdefault(shown, []).append(rest)
    return groups


def _orders(
    counts: Mapping[Combination, int], placing: Placing, shown: Combination, rests: Sequence[int]
) -> Iterator[tuple[Combination, ...]]:
    """Every order of the free readouts' labels on some rests, as often as the counts say."""
    wanted: Counter[Combination] = Counter()
    for combination, count in counts.items():
        if count and tuple(combination[at] for at in placing.fixed) == shown:
            wanted[tuple(combination[at] for at in placing.free)] += count
    if placing.free:
        return _arranged(wanted, len(rests))
    return iter([((),) * len(rests)])


def _arranged(wanted: Counter[Combination], places: int) -> Iterator[tuple[Combination, ...]]:
    """Every distinct order of a multiset."""
    if not places:
        yield ()
        return
    for one in [one for one, count in wanted.items() if count]:
        wanted[one] -= 1
        for rest in _arranged(wanted, places - 1):
            yield (one, *rest)
        wanted[one] += 1


def _marks(
    model: ReadoutsModel, fixed: Mapping[int, Sequence[tuple[int, int]]], labels: Mapping[int, Combination]
) -> Marks:
    marks: list[tuple[tuple[int, int], ...]] = []
    for readout, kind in enumerate(model.placing.kinds):
        if readout in fixed:
            marks.append(tuple(sorted(fixed[readout])))
            continue
        place = model.placing.free.index(readout)
        marks.append(tuple(sorted((kind.seen[rest][0], labels[rest][place]) for rest in labels)))
    return tuple(marks)
