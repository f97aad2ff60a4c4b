"""The route of injection moulding: one tool for a whole set, or a tool a die; with a core moulded first, if wished."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from facewright.search.costing.common import KG, begun, grams, inked, made_over_sold, sent, tumbled
from facewright.search.costing.cooling import ball_s, body_s, skin_s, theta
from facewright.search.costing.job import DieJob, SetJob, named
from facewright.search.costing.lines import HOUR, Curve, Ledger
from facewright.search.costing.scenarios import Range, Scenarios, range_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Figures = NDArray[np.float64]

ROUTE = "mould"

SETS_A_SHOT = (1, 2, 4)
"""How many sets' worth of cavities a tool may have."""

NEWTON = 1e-3
"""Kilonewtons in a MPa·mm²."""


@dataclass(frozen=True)
class Tool:
    """One tool: its kinds of dice, and for how many sets it has cavities; `own`: the maker has the mould already."""

    dice: tuple[DieJob, ...]
    sets: int
    own: bool = False

    @property
    def cavities(self) -> int:
        """How many dice come out of one shot."""
        return self.sets * sum(die.count for die in self.dice)


def curves(job: SetJob, rates: Scenarios) -> Iterator[Curve]:
    """Every way that is tried: family mould or a tool a die, one set a shot or more, with a core or without."""
    for sets in SETS_A_SHOT:
        for core in (False, True) if job.core else (False,):
            owned = any("mould" in die.owned for die in job.dice)
            tools = tuple(Tool((die,), sets, "mould" in die.owned) for die in job.dice)
            if job.different == 1 or owned:
                yield _curve(job, rates, tools, "one tool" if job.different == 1 else "a tool a die", core)
            if job.different > 1:
                yield _curve(job, rates, (Tool(job.dice, sets),), "family mould", core)
                if not owned:
                    yield _curve(job, rates, tools, "a tool a die", core)


def _curve(job: SetJob, rates: Scenarios, tools: Sequence[Tool], layout: str, core: bool) -> Curve:
    ledger = Ledger(rates)
    begun(ledger, job)
    ledger.add("first article approval", "different dice", job.different, "mould.approval", per="once")
    made = made_over_sold(ledger, ROUTE)
    for tool in tools:
        _tool(ledger, tool, made / tool.sets, core)
    starts = len(tools) * (2 if core else 1)
    ledger.add("setting up", "tools", starts, "mould.set_up", per="once")
    ledger.add("colour changes", "changes", starts * (job.colours - 1), "mould.colour_change", per="once")
    shot = grams(ledger, job, "mould.density") * made / (1 - rates["mould.waste"])
    ledger.add("resin", "g", shot, "mould.resin", scale=KG)
    ledger.add("trimming", "dice", made * job.many, "mould.trim", "general.labour", scale=1 / HOUR)
    tumbled(ledger, job, made)
    inked(ledger, job, made)
    sent(ledger, job, "mould.density")
    cavities = "; ".join(f"{tool.cavities}" for tool in tools)
    many = "1 cavity" if cavities == "1" else f"{cavities} cavities"
    way = f"{layout}, {many}{', core overmoulded' if core else ''}"
    return Curve(ROUTE, way, tuple(ledger.lines), tuple(_checks(tools, rates)))


def _tool(ledger: Ledger, tool: Tool, shots_a_set: Figures, core: bool) -> None:
    """The lines of one tool: what it costs and wears, and the time of its shots."""
    rates, of = ledger.rates, named(tool.dice)
    life = rates["mould.tool_life"] / shots_a_set
    alike = rates["mould.alike"]
    each = [(die, float(tool.sets * die.count) ** alike) for die in tool.dice]
    if not tool.own:
        ledger.add(f"mould base, {of}", "tool", 1, "mould.base", per="renewed", life=life)
        for die, cavities in each:
            ledger.add(
                f"cavities, {die.solid}", "cavities, equal ones cheaper", cavities, "mould.cavity",
                per="renewed", life=life,
            )  # fmt: skip
            ledger.add(
                f"faces of cavities, {die.solid}", "faces", cavities * die.faces, "mould.facet",
                per="renewed", life=life,
            )  # fmt: skip
            ledger.add(
                f"slides, {die.solid}",
                "slides",
                cavities * die.slides,
                "mould.slide",
                per="renewed",
                life=life,
            )
    for die, cavities in each:
        ledger.add(
            f"engraving, {die.solid}", "characters", cavities * die.characters, "mould.glyph",
            per="renewed", life=life,
        )  # fmt: skip
    seconds = _seconds(rates, tool.dice, core)
    ledger.add(
        f"moulding, {of}",
        "s of cooling and handling",
        shots_a_set * (seconds + rates["mould.handling"]),
        "mould.machine",
        scale=1 / HOUR,
    )
    if core:
        many = sum(cavities for _, cavities in each)
        ledger.add(f"core tool, {of}", "tool", 1, "mould.core_base", per="renewed", life=life)
        ledger.add(
            f"core cavities, {of}", "cavities, equal ones cheaper", many, "mould.core_cavity",
            per="renewed", life=life,
        )  # fmt: skip
        inner = _core_seconds(rates, tool.dice)
        ledger.add(
            f"moulding cores, {of}",
            "s of cooling and handling",
            shots_a_set * (inner + rates["mould.core_handling"]),
            "mould.machine",
            scale=1 / HOUR,
        )


def cooling_s(rates: Scenarios, die: DieJob) -> Figures:
    """Seconds until the middle of a die is firm, over the scenarios."""
    return body_s(
        die.solid,
        die.inradius_mm,
        die.volume_mm3,
        rates["mould.between"],
        rates["mould.diffusivity"],
        _over(rates),
    )


def _over(rates: Scenarios) -> Figures:
    return theta(rates["mould.melt"], rates["mould.wall"], rates["mould.eject"])


def _seconds(rates: Scenarios, dice: Sequence[DieJob], core: bool) -> Figures:
    """What the slowest die of a shot stays in the mould; over a core only the skin must cool."""
    if core:
        skin = 1 - rates["mould.core"]
        each = [skin_s(die.inradius_mm * skin, rates["mould.diffusivity"], _over(rates)) for die in dice]
        return _slowest(each)
    return _slowest([cooling_s(rates, die) for die in dice]) * rates["mould.in_mould"]


def _core_seconds(rates: Scenarios, dice: Sequence[DieJob]) -> Figures:
    """What the slowest core stays in its mould: a ball so wide."""
    width, diffusivity = rates["mould.core"], rates["mould.diffusivity"]
    each = [ball_s(2 * die.inradius_mm * width, diffusivity, _over(rates)) for die in dice]
    return _slowest(each) * rates["mould.in_mould"]


def _slowest(each: Sequence[Figures]) -> Figures:
    found: Figures = np.max(np.stack(list(each)), axis=0)
    return found


def clamp_kn(rates: Scenarios, tool: Tool) -> Range:
    """The force that holds a tool closed: area seen along the draw × pressure, in kN."""
    area = tool.sets * sum(die.count * die.area_mm2 for die in tool.dice)
    return range_of(area * rates["mould.pressure"] * NEWTON)


def _checks(tools: Sequence[Tool], rates: Scenarios) -> Iterator[str]:
    """Whether the press holds each tool closed: a check, which changes no cost."""
    press = float(rates["mould.press"][0])
    for tool in tools:
        force = clamp_kn(rates, tool)
        words = (
            f"Clamp, {named(tool.dice)}: about {force.likely:.0f} kN ({force.low:.0f} to {force.high:.0f})"
        )
        if force.high <= press:
            yield f"{words}, within the {press:.0f} kN of the press."
        elif force.low > press:
            yield f"{words}, more than the {press:.0f} kN of the press: take a larger press or fewer cavities."
        else:
            yield f"{words}, at the limit of the {press:.0f} kN of the press: ask."
