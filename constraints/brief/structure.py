"""Checks the structure of a brief: keys, types, bounds; what is sound goes on to have its meaning checked."""

from __future__ import annotations

from typing import Any, TypeVar

from facewright.constraints.brief.describe import describe
from facewright.constraints.brief.faults import Faults, Path, nearest_keys
from facewright.constraints.brief.kinds import NUMBERING, TABLE, Kind, kinds_with
from facewright.constraints.brief.models import (
    ITEMS,
    TABLES,
    NumberingPart,
    Part,
    ReadoutsPart,
    fields_of,
)
from facewright.constraints.brief.models_layout import LAYOUT_ITEMS, LAYOUT_TABLES, LayoutPart
from facewright.constraints.brief.models_product import PRODUCT_ITEMS, PRODUCT_TABLES, ProductPart
from facewright.constraints.brief.models_smooth import SMOOTH_TABLES, SmoothPart
from facewright.constraints.texts import quoted
from pydantic import ValidationError

P = TypeVar("P", bound=Part)


def kind_of(raw: dict[str, Any], faults: Faults) -> Kind:
    """The kind of question that a brief asks; numbering where it does not say, with the fault."""
    deciding = [key for key in raw if any(key in kind.keys for kind in TABLE)]
    if "read" in faults.lost_keys and "read" not in raw:
        deciding = ["read", *deciding]
    if not deciding:
        words = ", ".join(f"`{kind.keys[0]}` ({kind.name})" for kind in TABLE[1:])
        faults.missing("read", f'read = "total" for a numbering; other kinds of brief have {words}')
        return NUMBERING
    kinds = {key: next(kind for kind in TABLE if key in kind.keys) for key in deciding}
    first = deciding[0]
    for key in deciding[1:]:
        alike = kinds[key] is kinds[first]
        faults.add(
            (key,),
            f"`{key}` beside `{first}`"
            if alike
            else f"`{key}` ({kinds[key].name}) beside `{first}` ({kinds[first].name})",
            "one of them: the labels stand in the brief, or come from a run"
            if alike
            else "one of them: a brief asks one question",
        )
    return NUMBERING if "read" in deciding else kinds[first]


def sound_numbering(raw: dict[str, Any], faults: Faults) -> NumberingPart:
    """The sound part of a numbering brief; the rest becomes faults, its paths in `faults.spoilt`."""
    foreign = [key for key in raw if kinds_with(key) and key not in fields_of(NumberingPart)]
    for key in foreign:
        if not any(key in kind.keys for kind in TABLE):
            where = " and ".join(kinds_with(key))
            faults.add((key,), f"a key of {where} briefs", "a numbering brief's own keys")
        del raw[key]
    return _sound(NumberingPart, raw, faults)


def sound_readouts(raw: dict[str, Any], faults: Faults) -> ReadoutsPart:
    """The sound part of a readouts brief; the rest becomes faults, its paths in `faults.spoilt`."""
    return _sound(ReadoutsPart, _of_kind(ReadoutsPart, "a readouts", raw, faults), faults)


def sound_layout(raw: dict[str, Any], faults: Faults) -> LayoutPart:
    """The sound part of a layout brief; the rest becomes faults, its paths in `faults.spoilt`."""
    return _sound(LayoutPart, _of_kind(LayoutPart, "a layout", raw, faults), faults)


def sound_smooth(raw: dict[str, Any], faults: Faults) -> SmoothPart:
    """The sound part of a smooth brief; the rest becomes faults, its paths in `faults.spoilt`."""
    return _sound(SmoothPart, _of_kind(SmoothPart, "a smooth", raw, faults), faults)


def sound_product(raw: dict[str, Any], faults: Faults) -> ProductPart:
    """The sound part of a product brief; the rest becomes faults, its paths in `faults.spoilt`."""
    return _sound(ProductPart, _of_kind(ProductPart, "a product", raw, faults), faults)


def _of_kind(model: type[Part], kind: str, raw: dict[str, Any], faults: Faults) -> dict[str, Any]:
    """The brief without the keys of other kinds, each of which is a fault."""
    own = fields_of(model)
    numbering = fields_of(NumberingPart)
    for key in [key for key in raw if key not in own]:
        deciding = any(key in kind.keys for kind in TABLE)
        if not deciding and (key in numbering or kinds_with(key)):
            where = " and ".join((["numbering"] if key in numbering else []) + list(kinds_with(key)))
            faults.add((key,), f"a key of {where} briefs", f"{kind} brief's own keys")
        if deciding or key in numbering or kinds_with(key):
            del raw[key]
    return raw


def _sound(model: type[P], raw: dict[str, Any], faults: Faults) -> P:
    """The model of all values that keep their types and bounds; `raw` loses the others.

    Taking out a value can bring no new fault, since no key is required: the second look is the last.
    """
    try:
        return model.model_validate(raw)
    except ValidationError as refused:
        errors = refused.errors(include_url=False, include_context=False)
    for error in errors:
        if faults.full:
            break
        path = _path(raw, error["loc"])
        if error["type"] == "extra_forbidden":
            faults.add(path, "an unknown key", nearest_keys(str(path[-1]), _known(model, path)))
        else:
            faults.add(path, _found(error["input"], error["type"]), _accepted(model, path))
    # all paths before anything goes: of a list that is gone none of its items has a path
    for path in [_path(raw, error["loc"]) for error in errors]:
        _take_out(raw, path, faults)
    return model.model_validate(raw)


def _path(raw: dict[str, Any], loc: tuple[int | str, ...]) -> Path:
    """The path in the brief: pydantic's own, without the names of a union's branches."""
    path: Path = ()
    value: Any = raw
    for part in loc:
        inside = (isinstance(value, dict) and part in value) or (
            isinstance(value, list) and isinstance(part, int) and part < len(value)
        )
        if inside:
            value = value[part]
            path = (*path, part)
    return path


def _known(model: type[Part], path: Path) -> list[str]:
    """The keys of the table in which a path's last key stands."""
    owner = _owner(model, path[:-1])
    return list(fields_of(owner)) if owner else []


def _owner(model: type[Part], path: Path) -> type[Part] | None:
    """The model of the table at a path."""
    keys = [part for part in path if isinstance(part, str)]
    own = PRODUCT_TABLES if model is ProductPart else {}
    return (TABLES | LAYOUT_TABLES | SMOOTH_TABLES | own).get(keys[-1]) if keys else model


def _accepted(model: type[Part], path: Path) -> str:
    """What the value at a path accepts, from the field that it belongs to."""
    if isinstance(path[-1], int):
        return (ITEMS | LAYOUT_ITEMS | PRODUCT_ITEMS)[[part for part in path if isinstance(part, str)][-1]]
    if len(path) > 1 and path[-2] == "ways":
        return ITEMS["ways"]
    owner = _owner(model, path[:-1])
    return fields_of(owner)[path[-1]] if owner else ITEMS[str(path[-2])]


def _found(value: object, fault: str) -> str:
    """What was found, in words: a length where that is the fault, a text of the wrong content as it stands."""
    if fault in ("too_long", "string_too_long") and isinstance(value, str | list):
        return f"{len(value):,} {'characters' if isinstance(value, str) else 'items'}"
    if fault == "too_short" and isinstance(value, list) and value:
        return f"{len(value)} item, {describe(value)}" if len(value) == 1 else f"{len(value)} items"
    if isinstance(value, str) and (fault == "literal_error" or fault.startswith("string_")):
        return quoted(value) if value.strip() else "an empty text"
    return describe(value)


def _take_out(raw: dict[str, Any], path: Path, faults: Faults) -> None:
    """Removes the value at a path; of a list of labels the whole list, of a list of dice or rules the item alone."""
    while isinstance(path[-1], int) and path[:-1] not in (("dice",), ("also",)):
        path = path[:-1]
    faults.spoilt.add(path)
    owner: Any = raw
    for part in path[:-1]:
        if isinstance(owner, dict) and part not in owner:
            return
        owner = owner[part]
        if owner is None:
            return
    if isinstance(owner, list):
        owner[int(path[-1])] = None
    else:
        owner.pop(path[-1], None)
