"""Product answers written for others: the contract's JSON, and rows for a table."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from facewright.constraints.product import CRITERIA
from facewright.search.costing.quote import Offer, Quantity, Quote, line_rows
from facewright.search.costing.scenarios import Range
from facewright.search.products.answer import ProductAnswer
from facewright.search.products.ranking import RankedProduct

SCHEMA = 1

DIGITS = 4
"""Decimals of money in JSON."""


def as_json(answer: ProductAnswer, ranked: Sequence[RankedProduct]) -> dict[str, Any]:
    """The answer as the contract writes it, the products best first; "question" lets others recount it."""
    return {
        "schema": SCHEMA,
        "title": answer.question.title,
        "kind": answer.question.kind,
        "verdict": answer.verdict,
        "count": answer.count,
        "count_up_to_shift": answer.count,
        "count_is": answer.count_is,
        "reason": answer.reason,
        "evidence": evidence(answer),
        "front": [one.id for one in ranked if one.front],
        "designs": [product_json(one) for one in ranked],
        "question": answer.question.to_form(),
    }


def evidence(answer: ProductAnswer) -> dict[str, Any]:
    """What backs the comparison: every design recounted; nothing is proved."""
    return {
        "engine": answer.engine,
        "proved": False,
        "recounted": len(answer.found),
        "seconds": round(answer.seconds, 4),
        "bound": None,
    }


def product_json(one: RankedProduct) -> dict[str, Any]:
    """One product: what was measured, its criteria, its costs by quantity, and where it stands."""
    criteria = one.criteria
    cost = criteria["cost"].value
    scores = {
        name: criteria[name].value for name in ("legible", "familiar") if criteria[name].value is not None
    }
    return {
        **one.design.as_json(),
        "name": one.name,
        "title": one.candidate.title,
        "design": one.candidate.design.as_json(),
        "rank": one.position,
        "tied": one.tied,
        "front": one.front,
        "bettered_by": list(one.bettered_by),
        "above": one.above,
        "scores": {**scores, "cost": None if cost is None else round(cost, 2), "overall": one.overall},
        "criteria": {
            name: {
                "value": criteria[name].value,
                "words": criteria[name].words,
                "parts": [
                    {
                        "name": part.name,
                        "share": round(part.share, 4),
                        "words": part.words,
                        "counts": round(part.counts, 2),
                    }
                    for part in criteria[name].parts
                ],
            }
            for name in CRITERIA
        },
        "published": None
        if one.judged.published is None
        else {"says": one.judged.published.says, "source": one.judged.published.source},
        **({} if one.quote is None else quote_json(one.quote)),
    }


def quote_json(quote: Quote) -> dict[str, Any]:
    """What a product costs, by quantity, with its crossovers."""
    return {
        "currency": quote.currency,
        "quantities": [_quantity_json(one, quote) for one in quote.quantities],
        "crossovers": [
            {"sets": one.sets, "of": one.of, "to": one.to, "no_real_difference": list(one.unsure)}
            for one in quote.crossings
        ],
        "closed": [{"route": route, "reason": reason} for route, reason in quote.closed],
    }


def _quantity_json(one: Quantity, quote: Quote) -> dict[str, Any]:
    return {
        "sets": one.sets,
        "best": one.best.route,
        "no_real_difference": list(one.ties),
        "price": _money(one.price),
        "break_even": one.break_even,
        "moved_most_by": [
            {
                "rate": mover.key,
                "at_low": round(mover.at_low, DIGITS),
                "at_high": round(mover.at_high, DIGITS),
            }
            for mover in one.movers
        ],
        "routes": [_offer_json(offer, quote) for offer in one.offers],
    }


def _offer_json(offer: Offer, quote: Quote) -> dict[str, Any]:
    return {
        "route": offer.route,
        "way": offer.curve.way,
        "unit": _money(offer.unit),
        "remarks": list(offer.curve.remarks),
        "lines": line_rows(offer, quote.rates),
    }


def _money(money: Range) -> dict[str, float]:
    return {name: round(value, DIGITS) for name, value in money.as_json().items()}


def rows(answer: ProductAnswer, ranked: Sequence[RankedProduct]) -> list[dict[str, Any]]:
    """One flat row a product, for CSV and pandas: its place, its criteria, its cost by quantity."""
    table = []
    for one in ranked:
        row: dict[str, Any] = {
            "rank": one.position,
            "tied": one.tied,
            "id": one.id,
            "run": one.design.run,
            "front": one.front,
            "overall": one.overall,
        }
        row |= {name: one.criteria[name].value for name in CRITERIA}
        for sets in answer.question.make.sets:
            at = None if one.quote is None else one.quote.at(sets)
            row[f"route_{sets}"] = None if at is None else at.best.route
            row |= {
                f"{name}_{sets}": None if at is None else round(value, DIGITS)
                for name, value in (
                    at.best.unit.as_json() if at else {"low": 0, "likely": 0, "high": 0}
                ).items()
            }
        table.append(row)
    return table
