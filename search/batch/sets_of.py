"""What a plan states as a rule in place of long lists: every set of so many values, but those that cannot do it."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from facewright.constraints.brief.faults import Faults, Path, nearest_keys

if TYPE_CHECKING:
    from facewright.constraints.question_form import Question

KEYS = ("sets_of", "from", "named")
MOST_TOGETHER = 6
"""Values of a set at most."""
MOST_SETS = 1_000_000


def every_set(table: Mapping[str, Any], where: Path, faults: Faults) -> tuple[Any, ...] | None:
    """Every set of so many of these values, repeats allowed, the smaller sets first; None where something is wrong.

    `sets_of` says how many values a set has, a number or a list of them; `from` lists the values. A set is a list of
    values, or with `named` a table of them under these names, in order.

    Example:
        >>> every_set({"sets_of": 2, "from": [4, 6]}, (), Faults())
        ([4, 4], [4, 6], [6, 6])
        >>> every_set({"sets_of": [1, 2], "from": [2], "named": ["wind", "rain"]}, (), Faults())
        ({'wind': 2}, {'wind': 2, 'rain': 2})
    """
    before = faults.many
    for key in table:
        if key not in KEYS:
            faults.add((*where, key), "an unknown key", nearest_keys(key, KEYS))
    many = table.get("sets_of")
    sizes = many if isinstance(many, list) else [many]
    if not sizes or not all(type(one) is int and 1 <= one <= MOST_TOGETHER for one in sizes):
        accepted = f"a whole number from 1 to {MOST_TOGETHER}, or a list of them"
        faults.add((*where, "sets_of") if "sets_of" in table else where, _found(table, "sets_of"), accepted)
    values = table.get("from")
    if not isinstance(values, list) or not values:
        accepted = "a list with at least one value"
        faults.add((*where, "from") if "from" in table else where, _found(table, "from"), accepted)
    names = table.get("named")
    if names is not None and not (
        isinstance(names, list)
        and all(isinstance(one, str) for one in names)
        and len(set(names)) == len(names)
        and not any(type(size) is int and size > len(names) for size in sizes)
    ):
        faults.add(
            (*where, "named"),
            _found(table, "named"),
            "a list of different names, one for each value of a set",
        )
    if faults.many > before or not isinstance(values, list):
        return None
    size = sum(math.comb(len(values) + one - 1, one) for one in map(int, sizes))
    if size > MOST_SETS:
        faults.add(where, f"{size:,} sets", f"{MOST_SETS:,} at most")
        return None
    sets = (
        list(one) for size in map(int, sizes) for one in itertools.combinations_with_replacement(values, size)
    )
    if names is None:
        return tuple(sets)
    return tuple(dict(zip(names, one, strict=False)) for one in sets)


def _found(table: Mapping[str, Any], key: str) -> str:
    return repr(table[key]) if key in table else f"no {key!r}"


def divisible(question: Question) -> bool:
    """Whether a division leaves an exact numbering a chance; true of every other question.

    Dice with n1 … nk faces that give a target exactly give each result in n1…nk times its chance ways, a whole number.
    """
    from facewright.constraints.division import failing_division
    from facewright.constraints.question import Numbering

    if not isinstance(question, Numbering) or question.accept != "exact":
        return True
    return any(failing_division(question.target, question.chances(dice)) is None for dice in question.sets)


def uneven(brief: Mapping[str, Any]) -> bool:
    """Whether a readout has more labels than fit its solid evenly; false where either is not given plainly.

    n equally likely labels need a number of rests that n divides.

    Example:
        >>> uneven({"solid": "cube", "readouts": {"wind": 3, "rain": 4}}), uneven({"solid": 12, "readouts": {"a": 4}})
        (True, False)
    """
    from facewright.constraints.solids.names import solid_named

    solid, readouts = brief.get("solid"), brief.get("readouts")
    if not isinstance(readouts, Mapping):
        return False
    try:
        rests = solid_named(solid)[1] if isinstance(solid, str) else solid
    except ValueError:
        return False
    return type(rests) is int and any(
        type(one) is int and one > 0 and rests % one for one in readouts.values()
    )
