"""What all pages of a report share: letters, styles, templates, and the policy under which a browser runs them."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections.abc import Sequence
from datetime import date
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from jinja2 import Template

HERE = Path(__file__).parent
FONTS = (("Facewright Serif", "source-serif-4", "200 900"), ("Facewright Sans", "inter", "100 900"))
MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
VERDICTS = {
    "complete": "Complete",
    "none": "Proved: there is none",
    "best": "Proved: nothing better exists",
    "partial": "Stopped early: an answer, not yet a proof",
}


@cache
def text(name: str) -> str:
    """A file of the report's folder."""
    return (HERE / name).read_text(encoding="utf-8")


@cache
def styles(names: tuple[str, ...]) -> str:
    """The letters, then these sheets of the template folder, in order."""
    faces = "".join(
        f'@font-face{{font-family:"{family}";font-weight:{weights};font-display:swap;'
        f"src:url(data:font/woff2;base64,{base64.b64encode((HERE / f'vendor/{file}.woff2').read_bytes()).decode()})"
        f' format("woff2")}}\n'
        for family, file, weights in FONTS
    )
    return faces + "\n".join(text(f"template/{name}") for name in names)


@cache
def scripts(libraries: tuple[str, ...], own: tuple[str, ...]) -> tuple[str, ...]:
    """Libraries, each under its licence, then our own scripts of the template folder as one."""
    licensed = [
        f"/*\n{text(f'vendor/{name}.LICENSE.txt').strip()}\n*/\n{text(f'vendor/{name}.min.js').strip()}"
        for name in libraries
    ]
    ours = "\n".join(text(f"template/{name}") for name in own)
    return *licensed, f'(() => {{\n"use strict";\n{ours}\n}})();'


def script_json(value: Any) -> str:
    """JSON that may stand inside a script element: no text in it can end the element or open another."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    for character in "<>&\u2028\u2029":
        text = text.replace(character, f"\\u{ord(character):04x}")
    return text


def policy(run: Sequence[str]) -> str:
    """A policy under which the browser runs these scripts alone and asks no network for anything."""
    hashes = " ".join(
        f"'sha256-{base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()}'" for script in run
    )
    allowed = f"script-src {hashes}; " if run else ""
    return f"default-src 'none'; {allowed}style-src 'unsafe-inline'; font-src data:; img-src data:"


@cache
def template(name: str) -> Template:
    """A template of the template folder; every text in it is escaped unless it is Markup."""
    from jinja2 import Environment, FunctionLoader, StrictUndefined

    environment = Environment(
        loader=FunctionLoader(lambda part: text(f"template/{part}")),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["mathematics"] = mathematics
    return environment.get_template(name)


def mathematics(line: str) -> Any:
    """A line of a proof with its powers raised: `x^2` becomes x², in HTML, all else escaped."""
    from markupsafe import Markup, escape

    raised = re.sub(r"\^\{?(-?[0-9a-z]+)\}?", r"<sup>\1</sup>", str(escape(line)))
    return Markup(raised)


def day(written: str | None) -> str:
    """A date as a reader writes it; nothing for none."""
    if not written:
        return ""
    found = date.fromisoformat(written[:10])
    return f"{found.day} {MONTHS[found.month - 1]} {found.year}"


def inline_svg(svg: str) -> Any:
    """SVG text for use within HTML, where no namespace is stated; it must be our own."""
    from markupsafe import Markup

    return Markup(re.sub(r' xmlns="[^"]*"', "", svg))
