"""What a product brief means: from its sound part to the question, with the faults of meaning."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from facewright.constraints.brief.describe import describe
from facewright.constraints.brief.earlier import Designs, NotThere
from facewright.constraints.brief.faults import Faults
from facewright.constraints.brief.models_product import DESIGN_FORM, MakePart, ProductPart, ProductRankPart
from facewright.constraints.brief.rates import rates_in
from facewright.constraints.brief.toml import load
from facewright.constraints.product import HAS, ROUTES, USUAL_SETS, WEIGHTS, Candidate, Make, Product
from facewright.constraints.question import StopRule
from facewright.constraints.rates import Rates, shipped
from facewright.constraints.solids.names import solid_named
from facewright.constraints.texts import TextError, quoted

MOST_BYTES = 1_000_000
"""How large a file of rates or solids may be."""

HAS_FORM = 'a list of what you have, some of "mould", "master", "blanks"'


def question_of_product(
    brief: ProductPart, faults: Faults, designs: Designs | None, folder: Path
) -> Product | None:
    """The question that a product brief asks; None, with every fault, where it asks none.

    Params:
        brief: the sound part.
        faults: takes the faults, those of the files that the brief names too.
        designs: finds designs of runs; without it a brief that names one is refused.
        folder: where those files lie.
    """
    if brief.title is None:
        faults.missing("title", 'a title, such as title = "What to make for the spring fair"')
    rates = _rates(brief.rates, folder, faults)
    owned = _owned(brief.owned, folder, faults)
    make = _make(brief.make or MakePart.model_validate({}), rates, faults)
    rank = _rank(brief.rank, faults)
    candidates = _candidates(brief.product or [], faults, designs)
    if faults or not candidates:
        return None
    return Product(
        candidates=candidates,
        make=make,
        rates=rates,
        owned=owned,
        title=brief.title or "",
        note=brief.note or "",
        stop=StopRule(brief.stop.seconds, brief.stop.designs) if brief.stop else StopRule(),
        rank=rank,
    )


def _candidates(names: Sequence[str], faults: Faults, designs: Designs | None) -> tuple[Candidate, ...]:
    """The designs that a list names; a fault for each that is not there or stands there twice."""
    if names and designs is None:
        faults.add(("product",), "designs of runs", "no such brief here: no runs are read")
        return ()
    found: dict[str, Candidate] = {}
    for at, name in enumerate(names):
        run, _, design = name.strip().rpartition("/")
        if not run or not design:
            faults.add(("product", at), quoted(name), DESIGN_FORM)
            continue
        assert designs is not None
        try:
            one = designs(run, design)
        except NotThere as missing:
            faults.add(("product", at), missing.found, missing.accepted)
            continue
        if one.id in found:
            first = found[one.id].name
            same = f"the same dice as {first}" if first != one.name else f"{first} for the second time"
            faults.add(("product", at), f"{quoted(name)}, {same}", "each design once")
        found.setdefault(one.id, one)
    return tuple(found.values())


def _make(part: MakePart, rates: Rates, faults: Faults) -> Make:
    """How it is to be made, every default filled in."""
    by = tuple(dict.fromkeys(part.by or ROUTES))
    sets = tuple(sorted(set(part.sets or USUAL_SETS)))
    if part.currency is not None and part.currency != rates.currency and not faults:
        accepted = f'"{rates.currency}", the currency of the rates: nothing is converted here'
        faults.add(("make", "currency"), quoted(part.currency), accepted)
    if part.core and "mould" not in by:
        faults.add(("make", "core"), 'true, where "mould" is no route', 'false, or "mould" among make.by')
    usual = Make()
    return Make(
        by=by,
        sets=sets,
        compare_at=part.compare_at or sets[(len(sets) - 1) // 2],
        colours=part.colours or 1,
        inks=part.inks or 1,
        core=bool(part.core),
        body=(part.body or usual.body).lower(),
        ink=(part.ink or usual.ink).lower(),
    )


def _rank(rank: ProductRankPart | None, faults: Faults) -> tuple[tuple[str, int], ...]:
    if rank is None:
        return WEIGHTS
    weights = tuple((name, weight) for name, weight in rank.model_dump().items() if weight is not None)
    if not any(weight for _, weight in weights) and not any(path[:1] == ("rank",) for path in faults.spoilt):
        faults.add(("rank",), "no weight above 0", "at least one weight above 0, such as { cost = 1 }")
    return weights


def _rates(name: str | None, folder: Path, faults: Faults) -> Rates:
    """The rates of a file over the shipped ones; the shipped ones, with the faults, where it is not sound."""
    if name is None:
        return shipped()
    inside = Faults()
    text = _text(name, folder, "rates", faults)
    if text is None:
        return shipped()
    rates = rates_in(text, inside)
    _passed_on(inside, name, "rates", faults)
    return rates


def _owned(name: str | None, folder: Path, faults: Faults) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """What the maker has for each solid; nothing, with the faults, where the file is not sound."""
    text = None if name is None else _text(name, folder, "owned", faults)
    if name is None or text is None:
        return ()
    inside = Faults()
    found: dict[str, tuple[str, ...]] = {}
    for solid, has in load(text.removeprefix("\ufeff"), inside).items():
        items = _items(solid, has, inside)
        try:
            name_of_it = solid_named(solid)[0]
        except TextError as unknown:
            inside.add((solid,), unknown.found, unknown.accepted)
            continue
        if items:
            found[name_of_it] = tuple(dict.fromkeys((*found.get(name_of_it, ()), *items)))
    _passed_on(inside, name, "owned", faults)
    return tuple(found.items())


def _items(solid: str, has: Any, faults: Faults) -> list[str]:
    if not isinstance(has, list) or not has:
        faults.add((solid,), describe(has), HAS_FORM)
        return []
    for at, one in enumerate(has):
        if one not in HAS:
            faults.add((solid, at), describe(one), HAS_FORM)
    return [one for one in has if one in HAS]


def _text(name: str, folder: Path, key: str, faults: Faults) -> str | None:
    """The text of a file beside the brief; None, with the fault, where it cannot be read."""
    path = folder / name
    accepted = (
        "the name of a file of rates beside the brief"
        if key == "rates"
        else "the name of a file beside the brief"
    )
    try:
        data = path.read_bytes()[: MOST_BYTES + 1]
        if len(data) > MOST_BYTES:
            faults.add((key,), f"{quoted(name)}, a file of more than {MOST_BYTES:,} bytes", accepted)
            return None
        return data.decode("utf-8")
    except UnicodeDecodeError:
        faults.add((key,), f"{quoted(name)}, a file that is no UTF-8 text", accepted)
    except (OSError, ValueError) as wrong:
        reason = getattr(wrong, "strerror", None) or str(wrong)
        faults.add((key,), f"{quoted(name)}, which cannot be read ({reason})", accepted)
    return None


def _passed_on(inside: Faults, name: str, key: str, faults: Faults) -> None:
    """The faults of a file that a brief names become faults of the brief, each with its own place."""
    for one in sorted(inside.located() if inside else ()):
        where = f"{name}, line {one.line}" if one.line else name
        faults.add((key,), f"{where}, {one.key}: {one.found}", one.accepted)
