"""How one face that comes up too often moves what is seen of a roll: labels, results, readouts.

The face's own chance grows by the share d, from 1/F to (1 + d)/F; the other F − 1 faces lose it evenly. To first
order every chance moves linearly in d, so that a bias of any size is d times one row of numbers.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from facewright.constraints.layout import Roll
from facewright.constraints.readouts import Label
from facewright.search.rolls.views import Off


def face_off(faces: int) -> Off:
    """How the chances of all faces move, the first being off."""
    if faces == 1:
        return "f1", (0.0,)
    return "a face", (1 / faces, *[-1 / (faces * (faces - 1))] * (faces - 1))


def part_offs(cells: Sequence[str], many: Sequence[int]) -> tuple[Off, ...]:
    """How the chances of cells move that consist of so many faces each; a row a cell of another size.

    Params:
        cells: their names.
        many: the number of faces of each; every face belongs to one.

    Example:
        >>> part_offs(["1", "2"], [2, 2])
        (('a face of 1', (0.16666666666666666, -0.16666666666666666)),)
    """
    faces = sum(many)
    if faces == 1:
        return ()
    found = []
    for size in dict.fromkeys(many):
        at = list(many).index(size)
        row = [-other / (faces * (faces - 1)) for other in many]
        row[at] = (faces - size) / (faces * (faces - 1))
        found.append((f"a face of {cells[at]}", tuple(row)))
    return tuple(found)


def rerolled_offs(
    labels: Sequence[int], shown: Sequence[int], again: Sequence[int], copies: int
) -> tuple[Off, ...]:
    """As `part_offs`, for the labels that a die shows in the end when some labels are rolled again once.

    Params:
        labels: the die's labels.
        shown: the labels that count in the end, in the order of the cells.
        again: the labels that are rolled again.
        copies: how many faces carry each label of the list.
    """
    counts = Counter(labels)
    own = list(counts)
    chance = {label: count / len(labels) for label, count in counts.items()}
    rolled = sum(chance.get(label, 0.0) for label in again)
    found = []
    for name, row in part_offs([str(one) for one in own], [copies * counts[one] for one in own]):
        moves = dict(zip(own, row, strict=True))
        more = sum(moves.get(label, 0.0) for label in again)
        last = tuple(((one not in again) + rolled) * moves[one] + more * chance[one] for one in shown)
        found.append((name, last))
    return tuple(found)


def result_offs(
    labels: Sequence[Label], roll: Roll, copies: int, results: Sequence[str], die: str
) -> Iterable[Off]:
    """How the chances of results move when a face of one die is off, a row a label of it.

    Params:
        labels: the labels of that die.
        roll: the roll, with the other dice.
        copies: how many faces carry each label of the list.
        results: the results in the order of the cells, as text.
        die: the die in words, "die 2"; nothing for the only one.
    """
    from facewright.constraints.roll_chances import chances_given

    given = chances_given(labels, roll)
    counts = Counter(labels)
    faces = copies * len(labels)
    if faces == 1:
        return
    for label in given:
        total = dict.fromkeys(results, 0.0)
        for other, chances in given.items():
            many = copies * counts[other]
            move = ((faces - many) if other == label else -many) / (faces * (faces - 1))
            for result, chance in chances.items():
                total[str(result)] += move * float(chance)
        yield f"a face of {label}{f' on {die}' if die else ''}", tuple(total.values())
