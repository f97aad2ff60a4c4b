"""From the text of a brief to its raw values: TOML, with every broken line reported in plain words.

A text that does not parse is read again statement by statement, so that one broken line hides no other fault.
"""

from __future__ import annotations

import re
import tomllib
from typing import Any

from facewright.constraints.brief.faults import WHOLE, Faults
from facewright.constraints.texts import quoted

DEEPEST = 20
"""How deeply brackets may nest, and how many dots one key may have."""
MOST_STATEMENTS = 200
"""Texts with more statements, or longer ones, are not read statement by statement: it would take too long."""
MOST_CHARACTERS = 20_000

_TOKEN = re.compile(
    r'"""(?:\\.|[^\\])*?"""|'
    r"'''.*?'''|"
    r'"""|'
    r"'''|"
    r'"(?:\\[^\n]|[^"\\\n])*"?|'
    r"'[^'\n]*'?|#[^\n]*|[\[\]{}]|[.]|[=,\n]",
    re.DOTALL,
)
# A text that nothing closes is a token too, up to the end of its line: otherwise its rest would be read again and
# again. One of many lines is the opening marks alone, and whoever meets them stops.
_MANY_LINES = ('"""', "'''")
_START = re.compile(r"""\s*(?:[\w"'.-][\w"'. -]*=|\[{1,2}\s*["'A-Za-z_]|=)|[A-Za-z_][\w.-]*(?:\s|$)""")
_FIRST_WORD = re.compile(r"""[\s\[]*["']?([A-Za-z_]\w*)""")
_PLACE = re.compile(r"at line (\d+), column (\d+)")

_REMEDIES = {
    "overwrite": ("a key that stands in the brief already", "each key once"),
    "twice": ("a table that stands in the brief already", "each table once"),
    "Duplicate": ("a key that stands in the table already", "each key once"),
    "mutate": ("a key added to a table that is closed already", "all keys of a table in one place"),
    "redefine": ("a key that stands in the brief already", "each key once"),
    "Expected '='": ("a key without =", 'a line such as: title = "Harbour dues"'),
    "Unclosed array": ("a list that is not closed", "a list with [ and ], such as [6, 16]"),
    "Unclosed inline": (
        "a table that is not closed",
        "a table with { and } on one line, such as { lowest = 0 }",
    ),
    "Unterminated": ("a text that is not closed", "a text with a quotation mark at each end"),
    "Illegal character '\\n'": ("a text that is not closed", "a text with a quotation mark at each end"),
    "Expected newline": ("more after a complete value", "one `key = value` a line"),
    "Invalid value": ("no value that can be read", "a number, a text in quotation marks, a list or a table"),
}


def load(text: str, faults: Faults) -> dict[str, Any]:
    """The values of a brief; where its text is broken, the faults, and the values of all other lines."""
    faults.text = text = text.replace("\r\n", "\n")
    if (line := _too_deep(text)) is not None:
        faults.add_at(
            line,
            WHOLE,
            f"brackets or dots more than {DEEPEST} deep",
            "a flat brief: tables in tables at most",
        )
        return {}
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as refused:
        error = refused
    lines = text.split("\n")
    if len(text) <= MOST_CHARACTERS and len(starts := _starts(text, lines)) <= MOST_STATEMENTS:
        return _by_statement(lines, starts, faults)
    _report(error, lines, 0 if _PLACE.search(str(error)) else _opened(text), len(lines) - 1, faults)
    faults.lost_keys.add("")
    return {}


def _starts(text: str, lines: list[str]) -> list[int]:
    """The lines, from 0, on which a statement seems to start; never one inside a text of many lines."""
    inside: set[int] = set()
    for token in _TOKEN.finditer(text):
        if token[0].startswith(_MANY_LINES):
            closed = len(token[0]) > len(_MANY_LINES[0])
            first = text.count("\n", 0, token.start())
            inside.update(range(first + 1, first + token[0].count("\n") + 1 if closed else len(lines)))
            if not closed:
                break
    return [n for n, line in enumerate(lines) if n == 0 or (n not in inside and _START.match(line))]


def _by_statement(lines: list[str], starts: list[int], faults: Faults) -> dict[str, Any]:
    """Reads one statement after another onto those before, leaving out what does not parse."""
    kept: list[str] = []
    headless = False
    for start, end in zip(starts, [*starts[1:], len(lines)], strict=True):
        header = lines[start].lstrip().startswith("[")
        if headless and not header:
            kept += [""] * (end - start)
            continue
        headless = False
        statement = lines[start:end]
        if (error := _error([*kept, *statement])) is not None:
            stopped = _report(error, lines, start, end - 1, faults)
            _lose(lines[stopped], faults)
            statement = lines[start:stopped]
            if _error([*kept, *statement]) is not None:
                _lose(lines[start], faults)
                statement = []
            headless = header and not statement
        kept += statement + [""] * (end - start - len(statement))
    faults.text = "\n".join(kept)
    return tomllib.loads(faults.text)


def _report(error: Exception, lines: list[str], start: int, last: int, faults: Faults) -> int:
    """Adds the fault of a statement on lines start … last (from 0); gives the line where reading stopped."""
    place = _PLACE.search(str(error))
    at = min(max(int(place[1]) - 1, start), last) if place else start
    message = str(error)
    found, accepted = next(
        (words for sign, words in _REMEDIES.items() if sign in message),
        ("a line that TOML does not allow", "one `key = value` a line"),
    )
    if "exceeds the limit" in message.lower():
        found, accepted = "a number with thousands of digits", "a shorter number"
    word = _FIRST_WORD.match(lines[at])
    shown = quoted(lines[at].strip())
    faults.add_at(at + 1, word[1] if word else WHOLE, f"{found}: {shown}", accepted)
    return at


def _lose(line: str, faults: Faults) -> None:
    """Remembers which key a broken line seems to have held."""
    word = _FIRST_WORD.match(line)
    if word:
        faults.lost_keys.add(word[1])


def _error(lines: list[str]) -> Exception | None:
    """What tomllib refuses these lines for; None where it reads them."""
    try:
        tomllib.loads("\n".join(lines))
    except (ValueError, RecursionError) as error:
        return error
    return None


def _opened(text: str) -> int:
    """The line, from 0, of a text of many lines or a bracket that nothing closes; else the first line."""
    open_at: list[int] = []
    for token in _TOKEN.finditer(text):
        if token[0] in _MANY_LINES:
            open_at = [token.start()]
            break
        if token[0] in "[{":
            open_at.append(token.start())
        elif token[0] in "]}" and open_at:
            open_at.pop()
    return text.count("\n", 0, open_at[0]) if open_at else 0


def _too_deep(text: str) -> int | None:
    """The line, from 1, where brackets or the dots of one key pass the bound; None where they do not."""
    depth = dots = 0
    for token in _TOKEN.finditer(text):
        if token[0] in _MANY_LINES:
            break
        match token[0]:
            case "[" | "{":
                depth, dots = depth + 1, 0
            case "]" | "}":
                depth, dots = max(depth - 1, 0), 0
            case ".":
                dots += 1
            case "=" | "," | "\n":
                dots = 0
        if depth > DEEPEST or dots > DEEPEST:
            return text.count("\n", 0, token.start()) + 1
    return None
