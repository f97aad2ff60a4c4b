"""Products for a terminal: the ranking with its front, why, and one product with its routes and lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from facewright.constraints.grammar import capital, number
from facewright.constraints.product import CRITERIA
from facewright.search.costing.quote import Offer, Quantity, Quote
from facewright.search.costing.scenarios import Range
from facewright.search.products.answer import ProductAnswer
from facewright.search.products.ranking import RankedProduct
from facewright.search.products.reading import solids_of
from facewright.search.report.layouts_text import named_lines
from facewright.search.report.readouts_text import columns
from facewright.search.report.terminal import NARROWEST, clean, wrapped

ROUTE_WORDS = {"marked-blanks": "marked blanks", "cast": "cast", "mould": "moulded"}
"""Routes, in words."""


def summary(answer: ProductAnswer, ranked: Sequence[RankedProduct], width: int, rows: int | None) -> str:
    """The ranking as a table, the front first; then costs by quantity, and why each stands where it does."""
    width = max(width, NARROWEST)
    make = answer.question.make
    parts = [clean(answer.question.title), "\n".join(wrapped(lead(answer, ranked), width))]
    shown = ranked[:rows]
    if shown:
        parts.append("\n".join(_table(shown)))
        parts.append("\n".join(_costs(shown, make.sets, answer.question.rates.currency)))
        parts.append("\n".join(line for one in shown if one.above for line in wrapped(one.above, width)))
    if rows is not None and len(ranked) > rows:
        parts.append(f"{len(ranked) - rows} more in the run; `facewright show RUN --all` prints them all.")
    return "\n\n".join(part for part in parts if part)


def lead(answer: ProductAnswer, ranked: Sequence[RankedProduct]) -> str:
    """The result in a sentence or two."""
    front = [one for one in ranked if one.front]
    make = answer.question.make
    said = [answer.reason]
    if len(front) == 1 and len(ranked) > 1:
        said.append(f"{front[0].name} is at least as good as every other in everything that is compared.")
    elif front:
        some = "Each of them" if len(front) == len(ranked) else f"{capital(number(len(front)))} of them"
        said.append(
            f"{some} stand{'s' * (some[0] == 'E')} on the front: no other is at least as good in everything that is "
            "compared and better in something."
        )
    said.append(f"Costs are compared at {make.compare_at:,} sets.")
    lacking = [one.name for one in ranked if one.quote is None]
    if lacking:
        said.append(f"No route is open to {', '.join(lacking)}.")
    left_out = _left_out(ranked)
    if left_out:
        said.append(f"Not compared, since it cannot be judged of all: {', '.join(left_out)}.")
    return " ".join(said)


def _left_out(ranked: Sequence[RankedProduct]) -> list[str]:
    able = [one for one in ranked if one.quote is not None]
    return [name for name in CRITERIA if able and name not in able[0].shares]


def _table(ranked: Sequence[RankedProduct]) -> list[str]:
    head = ("rank", "product", "front", "overall", *CRITERIA)
    body = [
        (
            f"{one.position}{'=' if one.tied else ''}",
            one.name,
            "yes" if one.front else "",
            str(one.overall) if one.quote is not None else "–",
            *(value_words(one, name) for name in CRITERIA),
        )
        for one in ranked
    ]
    return columns([head, *body])


def value_words(one: RankedProduct, name: str) -> str:
    """The value of a criterion, as a table shows it."""
    value = one.criteria[name].value
    if value is None:
        return "–"
    if name == "cost":
        return f"{value:.2f}"
    if name == "exactness":
        return "exact" if not one.design.inexact else f"off {value:.4f}"
    if name == "guards":
        return f"{100 * value:g} %"
    return f"{value:.3f}" if name == "settling" else f"{value:g}"


def _costs(ranked: Sequence[RankedProduct], sets: Sequence[int], currency: str) -> list[str]:
    head = (f"{currency} a set", *(f"{one:,} sets" for one in sets))
    body = [
        (one.name, *(_cell(one.quote.at(many)) for many in sets)) for one in ranked if one.quote is not None
    ]
    return columns([head, *body]) if body else []


def _cell(one: Quantity) -> str:
    tie = "=" if one.ties else ""
    unit = one.best.unit
    return f"{money(unit)} {ROUTE_WORDS[one.best.route]}{tie}"


def money(unit: Range) -> str:
    """A cost with its range: "3.3 (2.6–4.6)", no digit more than the range bears."""
    digits = digits_of(unit)
    return f"{unit.likely:,.{digits}f} ({unit.low:,.{digits}f}–{unit.high:,.{digits}f})"


def digits_of(unit: Range) -> int:
    """How many decimals a range bears: two where it is narrower than a fifth of a coin, else fewer."""
    wide = unit.high - unit.low
    return 2 if wide < 1 else 1 if wide < 20 else 0


def details(answer: ProductAnswer, one: RankedProduct, width: int) -> str:
    """A product in full: what it is, its criteria, its costs by quantity, and the lines of its best route."""
    width = max(width, NARROWEST)
    lines = [f"{one.name}: {clean(one.candidate.title)}", f"  {solids_of(one.design.dice)}", ""]
    lines += named_lines([(name, one.criteria[name].words) for name in CRITERIA], width)
    if one.quote is None:
        return "\n".join([*lines, "", *(f"{route}: {reason}" for route, reason in _closed(one))])
    for quantity in one.quote.quantities:
        lines += ["", *_quantity(quantity, one.quote, width)]
    lines += ["", *(line for text in crossing_words(one.quote) for line in wrapped(text, width))]
    at = one.quote.at(answer.question.make.compare_at)
    lines += ["", f"Lines, {at.sets:,} sets, {ROUTE_WORDS[at.best.route]} ({at.best.curve.way}):"]
    lines += line_table(at.best, one.quote)
    return "\n".join(lines)


def _closed(one: RankedProduct) -> Iterator[tuple[str, str]]:
    yield ROUTE_WORDS["marked-blanks"], "a solid of it is not sold as a blank"


def _quantity(one: Quantity, quote: Quote, width: int) -> Iterator[str]:
    yield f"{one.sets:,} sets, {quote.currency} a set:"
    yield from (
        f"  {line}"
        for line in columns(
            [(ROUTE_WORDS[offer.route], money(offer.unit), offer.curve.way) for offer in one.offers]
        )
    )
    for text in quantity_words(one, quote):
        yield from (f"  {line}" for line in wrapped(text, width - 2))


def quantity_words(one: Quantity, quote: Quote) -> Iterator[str]:
    """What follows from a number of sets: ties, price, break-even, what moves the cost most."""
    if one.ties:
        others = " and ".join(ROUTE_WORDS[route] for route in one.ties)
        yield f"No real difference between {ROUTE_WORDS[one.best.route]} and {others}."
    yield (
        f"Shelf price before tax: {money(one.price)} {quote.currency}. "
        + (
            f"At that price {one.break_even:,} sets cover their costs."
            if one.break_even is not None
            else "At that price the costs are never covered."
        )
    )
    known = quote.rates.rates.by_key
    parts = [
        f"{mover.key} ({known[mover.key].low:g} to {known[mover.key].high:g} {known[mover.key].unit}: "
        f"{mover.at_low:.2f} to {mover.at_high:.2f})"
        for mover in one.movers
    ]
    yield f"Moved most by {'; '.join(parts)}."


def crossing_words(quote: Quote) -> Iterator[str]:
    """Where one route becomes cheaper than another, and where that cannot be told."""
    for one in quote.crossings:
        low, high = one.unsure
        near = "" if low == high else f"; between about {low:,} and {high:,} sets there is no real difference"
        if low == 1 and high == quote.reach:
            near = ", at the likely rates only: there is no real difference at any quantity"
        yield f"From {one.sets:,} sets on {ROUTE_WORDS[one.to]} is cheaper than {ROUTE_WORDS[one.of]}{near}."
    if not quote.crossings:
        best = ROUTE_WORDS[quote.quantities[0].best.route]
        yield f"Up to {quote.reach:,} sets {best} stays the cheapest."
    for route, reason in quote.closed:
        yield f"Not open: {ROUTE_WORDS[route]}; {reason}."


def line_table(offer: Offer, quote: Quote) -> list[str]:
    """Every line: quantity × rates = amount."""
    known = quote.rates.rates.by_key
    body = []
    for line, amount in offer.lines:
        quantity = float(line.count[0]) * float(line.times(offer.sets)[0])
        factors = " × ".join(f"{known[key].likely:g} {known[key].unit}" for key in line.keys)
        body.append((line.name, f"{quantity:,.6g} {line.what}", f"× {factors}", f"{amount.likely:,.2f}"))
    total = float(offer.curve.total(offer.sets)[0])
    body.append(("in all", "", "", f"{total:,.2f}"))
    return [f"  {line}" for line in columns(body)]
