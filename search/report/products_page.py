"""The report of a product brief: one page, a function of the stored answer alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from facewright.constraints.grammar import capital, number
from facewright.constraints.product import CRITERIA, ROUTES
from facewright.search.costing.quote import Offer, Quantity, Quote
from facewright.search.products.answer import ProductAnswer
from facewright.search.products.export import evidence
from facewright.search.products.ranking import RankedProduct
from facewright.search.products.reading import numbered, solids_of
from facewright.search.report.contents import CAUTIONS
from facewright.search.report.figures_costs import costs_figure, share_bar
from facewright.search.report.products_text import (
    ROUTE_WORDS,
    crossing_words,
    lead,
    money,
    quantity_words,
    value_words,
)
from facewright.search.report.shell import VERDICTS, day, policy, styles, template

SHOWN = 12
"""How many products are told in full."""

STYLES = ("page.css", "print.css", "readouts.css", "products.css")

WORDS = {
    "cost": "cost", "legible": "legible", "familiar": "familiar", "exactness": "exactness", "guards": "against flaws",
    "settling": "settles", "novelty": "unlike ordinary", "tooling": "solids to tool",
}  # fmt: skip
"""Criteria as the page names them."""

MONEY_CAUTIONS = (
    "Costs rest on rates that you put in. Those that come with the program are invented: ask for quotes.",
    "Resin and tumbling dust need gloves, air and care. What is for sale needs a test house; local rules come first.",
)


def write_products_report(answer: ProductAnswer, ranked: Sequence[RankedProduct], folder: Path) -> Path:
    """Writes report.html and the sheets of the best products; raises RunError where they cannot be written."""
    from functools import partial

    from facewright.search.products.sheets import write_best_sheets
    from facewright.search.report.frame import write_page

    links = write_best_sheets(ranked, answer.question.make.compare_at, folder)
    return write_page(partial(products_page, sheets=links), answer, ranked, folder)


def products_page(
    answer: ProductAnswer,
    ranked: Sequence[RankedProduct],
    *,
    run: str = "",
    written: str = "",
    provenance: dict[str, Any] | None = None,
    sheets: Mapping[str, str] | None = None,
) -> str:
    """The whole page: its name and date from the run, links to sheets by id, all else from the answer."""
    from markupsafe import Markup

    question = answer.question
    names = [name for name in CRITERIA if any(one.criteria[name].value is not None for one in ranked)]
    made = {**(provenance or {}), "seed": answer.seed, "seconds": round(answer.seconds, 3)}
    return template("products.html").render(
        policy=policy(()),
        css=Markup(styles(STYLES)),
        run=run,
        written=day(written),
        title=question.title,
        ask=_ask(answer),
        note=question.note,
        verdict=answer.verdict,
        verdict_word="Compared" if answer.verdict == "complete" else VERDICTS["partial"],
        sentence=_sentence(ranked),
        reason=lead(answer, ranked),
        evidence=_evidence(answer),
        names=[WORDS[name] for name in names],
        rows=[_row(one, names) for one in ranked],
        sets=[f"{one:,}" for one in question.make.sets],
        currency=question.rates.currency,
        whys=[one.above for one in ranked if one.above],
        weights=", ".join(f"{name} {weight}" for name, weight in question.rank if weight),
        products=[
            {**_product(answer, one), "sheet": (sheets or {}).get(one.id, "")} for one in ranked[:SHOWN]
        ],
        more=f"{len(ranked) - SHOWN} more products are in the run." if len(ranked) > SHOWN else "",
        rates=_rates(answer, ranked),
        cautions=(*MONEY_CAUTIONS, *CAUTIONS),
        provenance=[(name.replace("_", " "), value) for name, value in made.items()],
    )


def _evidence(answer: ProductAnswer) -> str:
    recounted = evidence(answer)["recounted"]
    some = "The one design recounted" if recounted == 1 else f"Each of the {recounted} designs recounted"
    return f"{some}; costs are estimates with ranges, and nothing is proved."


def _ask(answer: ProductAnswer) -> str:
    make = answer.question.make
    by = ", ".join(ROUTE_WORDS[route] for route in make.by)
    sets = ", ".join(f"{one:,}" for one in make.sets)
    colours = f"{make.colours} colours" if make.colours > 1 else "one colour"
    inks = f"{make.inks} inks" if make.inks > 1 else "one ink"
    return f"Which of these designs to make: {by}; {sets} sets, {colours}, {inks}."


def _sentence(ranked: Sequence[RankedProduct]) -> str:
    front = [one for one in ranked if one.front]
    if not front:
        return "None of these can be made by the routes named."
    if len(front) == 1:
        return (
            f"{front[0].name} comes first, and nothing here betters it in anything."
            if len(ranked) > 1
            else (f"{front[0].name} alone: there is nothing to compare it with.")
        )
    some = (
        f"All {number(len(front))}"
        if len(front) == len(ranked)
        else f"{capital(number(len(front)))} of {len(ranked)}"
    )
    return f"{some} are worth a choice; by these weights {front[0].name} comes first."


def _row(one: RankedProduct, names: Sequence[str]) -> dict[str, Any]:
    from markupsafe import Markup

    return {
        "place": f"{one.position}{'=' if one.tied else ''}",
        "name": one.name,
        "id": one.id,
        "title": one.candidate.title,
        "front": one.front,
        "overall": one.overall if one.quote is not None else "–",
        "values": [
            {
                "value": value_words(one, name),
                "bar": Markup(share_bar(one.shares[name] / 100)) if name in one.shares else "",
            }
            for name in names
        ],
    }


def _product(answer: ProductAnswer, one: RankedProduct) -> dict[str, Any]:
    from markupsafe import Markup

    make = answer.question.make
    return {
        "name": one.name,
        "id": one.id,
        "front": one.front,
        "title": one.candidate.title,
        "solids": solids_of(one.design.dice),
        "dice": _dice(one),
        "sizes": [_size(die) for die in one.design.dice],
        "criteria": [
            {
                "name": WORDS[name],
                "words": one.criteria[name].words,
                "parts": [
                    {"name": part.name, "words": part.words, "bar": Markup(share_bar(part.share))}
                    for part in one.criteria[name].parts
                ],
            }
            for name in CRITERIA
        ],
        "bettered": ", ".join(one.bettered_by),
        "figure": Markup(costs_figure(one.quote, make.compare_at)) if one.quote else "",
        "crossings": list(crossing_words(one.quote)) if one.quote else [],
        "quantities": [_quantity(quantity, one.quote) for quantity in one.quote.quantities]
        if one.quote
        else [],
        "checks": list(_checks(one.quote.at(make.compare_at))) if one.quote else [],
        "lines": _lines(one.quote.at(make.compare_at).best, one.quote) if one.quote else None,
    }


def _dice(one: RankedProduct) -> list[str]:
    """The labels of every die, sorted; of readouts those of each readout."""
    design = numbered(one.candidate)
    if design is None:
        sites = getattr(one.candidate.design, "sites", None)
        if sites is None:
            return [" ".join(str(label) for label in one.candidate.design.labels)]
        return [
            f"{name}: {' '.join(dict.fromkeys(str(label) for _, label in pairs))}" for name, pairs in sites
        ]
    return [" ".join(map(str, die.labels)) for die in design.dice]


def _size(die: Any) -> str:
    from facewright.constraints.solids.sizes import both_units
    from facewright.search.make.sizing import measured

    many = f"{die.count} × " if die.count > 1 else ""
    return f"{many}{die.solid}, {both_units(die.size_mm)} {measured(die.size_is)}, {die.marks} marks"


def _quantity(one: Quantity, quote: Quote) -> dict[str, Any]:
    return {
        "sets": f"{one.sets:,}",
        "offers": [
            {
                "route": ROUTE_WORDS[offer.route],
                "number": ROUTES.index(offer.route) + 1,
                "unit": money(offer.unit),
                "way": offer.curve.way,
                "tie": offer.route in one.ties,
            }
            for offer in one.offers
        ],
        "words": list(quantity_words(one, quote)),
    }


def _checks(one: Quantity) -> Iterator[str]:
    """What should be looked at, route by route."""
    for offer in one.offers:
        for line in offer.curve.remarks:
            yield f"{capital(ROUTE_WORDS[offer.route])}, {offer.curve.way}. {line}"


def _lines(offer: Offer, quote: Quote) -> dict[str, Any]:
    known = quote.rates.rates.by_key
    rows = []
    for line, amount in offer.lines:
        quantity = float(line.count[0]) * float(line.times(offer.sets)[0])
        rows.append(
            {
                "name": line.name,
                "quantity": f"{quantity:,.6g} {line.what}",
                "rates": [
                    {
                        "value": f"{known[key].likely:g} {known[key].unit}",
                        "key": key,
                        "source": known[key].source,
                    }
                    for key in line.keys
                ],
                "amount": f"{amount.likely:,.2f}",
                "range": f"{amount.low:,.0f} to {amount.high:,.0f}",
            }
        )
    total = offer.curve.total(offer.sets)
    return {
        "sets": f"{offer.sets:,}",
        "way": f"{ROUTE_WORDS[offer.route]}, {offer.curve.way}",
        "rows": rows,
        "total": f"{float(total[0]):,.2f}",
        "unit": f"{float(total[0]) / offer.sets:,.2f}",
    }


def _rates(answer: ProductAnswer, ranked: Sequence[RankedProduct]) -> list[dict[str, str]]:
    """Every rate of the routes that were tried, with its source."""
    tables = {"general", *answer.question.make.by}
    return [
        {
            "key": key,
            "low": f"{rate.low:g}",
            "likely": f"{rate.likely:g}",
            "high": f"{rate.high:g}",
            "unit": rate.unit,
            "source": rate.source,
        }
        for key, rate in answer.question.rates.rates
        if key.partition(".")[0] in tables and ranked
    ]
