"""A die of a question written down as plain values, and read back."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from facewright.constraints.labels import Die, LabelRules


def die_to_form(die: Die) -> dict[str, Any]:
    """The die as dictionaries, lists, numbers and text."""
    form = asdict(die)
    form["exactly"] = None if die.exactly is None else list(die.exactly)
    form["shape"] = list(die.shape) if isinstance(die.shape, tuple) else die.shape
    rules = form["rules"]
    rules["only"] = None if die.rules.only is None else list(die.rules.only)
    rules["avoid"] = list(die.rules.avoid)
    rules["given"] = sorted(die.rules.given)
    return form


def die_from_form(form: dict[str, Any]) -> Die:
    """The die that `die_to_form` wrote; raises KeyError, TypeError or ValueError for another form."""
    rules = dict(form["rules"])
    for part in ("only", "avoid"):
        rules[part] = None if rules[part] is None else tuple(rules[part])
    rules["given"] = frozenset(rules["given"])
    exactly = None if form["exactly"] is None else tuple(form["exactly"])
    shape = form.get("shape", Die.shape)
    return Die(
        form["faces"],
        form["solid"],
        form["copies"],
        LabelRules(**rules),
        exactly,
        form["name"],
        tuple(shape) if isinstance(shape, list) else shape,
        form.get("place"),
    )


def die_identity(die: Die) -> dict[str, object]:
    """All of a die that tells questions apart."""
    form = asdict(die)
    form["rules"].pop("given")
    if die.shape == Die.shape:
        del form["shape"]
    if die.place is None:
        del form["place"]
    return form
