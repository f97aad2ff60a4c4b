"""What a page and a terminal say of a smooth body: the question, how it lies, its labels, what it compares with."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from facewright.constraints.layout_design import LayoutDesign
from facewright.constraints.smooth import Smooth
from facewright.constraints.smooth_design import SmoothDesign
from facewright.constraints.solids.smooth.symmetries import SYMMETRIES

if TYPE_CHECKING:
    from facewright.search.laying import LaidOut

COMPARED = ("tetrahedron", "cube", "octahedron", "dodecahedron", "icosahedron")
"""Ordinary solids that a body is compared with."""

BALL_MM = 44.45
"""A small ball passes a hole of 1.75 inches, as 16 CFR 1117.2 has it."""

READ = {
    True: "Read the tip on top. The tip itself is too tight to print on: each label stands three times, close below "
    "its tip, with its head towards the tip. Or once, in the middle of the side opposite, and is read from below.",
    False: "Read the tip on top: a label stands on either side of its tip, with its head towards it. Or once, in the "
    "middle of the side opposite, and is read from below.",
}
"""Where labels go: on a body with tips in space, on one with tips around."""

WAYS = {3: "three", 4: "four", 5: "five", 7: "seven"}


def ask(question: Smooth) -> str:
    """The question in a sentence."""
    group = SYMMETRIES[question.symmetry]
    what = {
        "settling": "settles most decisively",
        "flat": "rests on the flattest side",
        "volume": "is smallest",
    }[question.goal]
    around = "" if group.cubic else ", around"
    return (
        f"Which body of constant width, with {WAYS[group.ways]} rests{around}, {what}, if no radius of curvature is "
        f"below {float(question.least_radius):.4g} of its width and its harmonics go up to degree {question.degree}?"
    )


def lines(question: Smooth, design: SmoothDesign) -> list[tuple[str, str]]:
    """What the body comes to: pairs of a short name and words, in millimetres where the brief gives a width."""
    lies, width = design.resting, question.width_mm

    def length(share: float) -> str:
        return (
            f"{share:.4f} of the width"
            if width is None
            else f"{share * width:.2f} mm ({share:.4f} of the width)"
        )

    over = (
        "the lowest way to another rest leads over half the width, proved"
        if lies.over is not None
        else "whether the lowest way to another rest leads over half the width is not proved"
    )
    found = [
        ("width", "the same in every direction" if width is None else f"{width:g} mm in every direction"),
        ("settles by", f"{length(design.settling)}; {over}"),
        (
            "of the bound",
            f"{design.settling / design.bound:.2%}; no body of any degree exceeds {length(design.bound)}",
        ),
        ("least radius", f"{length(design.least_radius)}, proved everywhere"),
        ("at a tip", f"radius {_range(lies.tip, length)}"),
        ("where it rests", f"radius {_range(lies.contact, length)}"),
        (
            "rests",
            f"{WAYS[design.body.group.ways]}, and no other stable ones, proved"
            if lies.alone
            else f"{WAYS[design.body.group.ways]}; that there are no others is not proved",
        ),
        ("centre", f"{length(lies.height)} above the table"),
        ("surface", _measure(design.area, width, 2)),
        ("volume", f"{_measure(design.volume, width, 3)}; {design.volume / BALL:.1%} of the ball as wide"),
    ]
    if width is not None:
        found.append(
            ("rocks", f"about {lies.hertz(width):.1f} times a second, a little, if it rolls without slipping")
        )
        found.append(("after wear", _worn(design, width)))
    found.append(("labels", READ[SYMMETRIES[question.symmetry].cubic]))
    return found


def laid_lines(question: Smooth, design: SmoothDesign, laid: Sequence[LaidOut]) -> list[tuple[str, str]]:
    """What stands at its rests, and how good that is: pairs of a short name and words; nothing without labels.

    Of a layout's guards the order is that of the solid with the same rests, since to first order a flaw moves the
    chances of both in one proportion; how far it moves them on this body no model here says.
    """
    from facewright.search.make.smooth_numerals import carried_by, names_of, readings
    from facewright.search.report.layouts_words import FLAW_WORDS, balance_lines

    if question.marks is None:
        return []
    own = [one for one in laid if one.of == design.id]
    if not own:
        return [("labels", "not placed: the search was stopped")]
    carried = carried_by(own, design.id)
    stands = f"As on the {SYMMETRIES[question.symmetry].solid}, whose faces stand for the rests"
    found = [("how placed", f"{stands}: {own[0].outcome.closing.reason}")]
    if carried:
        told = readings(design.symmetry, carried, names_of(question))
        texts = "; ".join(f"tip {place}: {one.text}" for place, one in enumerate(told, 1))
        found.append(("rests read", texts))
        for part in own[0].found:
            if isinstance(part, LayoutDesign):
                left_out = {"corners", *FLAW_WORDS.values()}
                found += [line for line in balance_lines(part) if line[0] not in left_out]
    return found


WEARS_MM = (0.3, 0.6)
"""Radii that tumbling and play may give to an edge that was sharp, in millimetres."""


def _worn(design: SmoothDesign, width_mm: float) -> str:
    """What wear does, in a model."""
    from facewright.constraints.solids.smooth.wear import worn_body

    told = []
    for wear in WEARS_MM:
        after = worn_body(width_mm, design.least_radius, design.settling, wear)
        told.append(
            f"{after.least_radius_mm:.2f} mm at its sharpest and settling by {after.settling_mm:.2f} mm where a sharp "
            f"edge would be rounded to {wear:g} mm"
        )
    return f"{'; '.join(told)}. A model; all tips and ridges wear alike, so wear favours no rest"


BALL = 0.5235987755982988
"""The volume of a ball of width 1."""


def _range(radii: tuple[float, float], length: object) -> str:
    assert callable(length)
    low, high = radii
    one: str = length(low)
    return one if abs(high - low) < 5e-5 else f"{one} to {length(high)}"


def _measure(value: float, width: float | None, power: int) -> str:
    raised = {2: "squared", 3: "cubed"}[power]
    if width is None:
        return f"{value:.5f} of the width {raised}"
    return f"{value * width**power:,.0f} mm{'²' if power == 2 else '³'}"


def compared(design: SmoothDesign) -> list[tuple[str, float]]:
    """How far the centre must rise to leave a rest, over its height there, beside ordinary solids; most first."""
    from facewright.constraints.solids import solid

    found = [("this body", design.settling / design.resting.height)]
    found += [(name, min(rest.settle for rest in solid(name).rests)) for name in COMPARED]
    return sorted(found, key=lambda one: -one[1])


def cautions(question: Smooth) -> list[str]:
    """What such a body needs besides the usual cautions; flagged, not decided."""
    return rolling(question.width_mm)


def rolling(width_mm: float | None) -> list[str]:
    """The cautions of a body of this width that rolls; None where the width is not known."""
    said = [
        "It rolls farther than other dice: throw it into a tray. How long it rocks, and how even its rests come up on "
        "a real table, only a prototype tells."
    ]
    if width_mm is None or width_mm < BALL_MM:
        said.append(
            "It is near to a ball and smaller than 44.45 mm (1.75 in): whether rules on small balls apply to it, "
            "beside those on small parts, is for a test house to say."
        )
    return said
