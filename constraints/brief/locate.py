"""The lines of keys and list items of a TOML text; used only to say where a fault stands.

A tolerant syntax tree gives the lines, since tomllib keeps none; it is walked without recursion.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from typing import TYPE_CHECKING

from facewright.constraints.brief.faults import Path

if TYPE_CHECKING:
    from tree_sitter import Node


def lines_of(text: str, wanted: Iterable[Path]) -> dict[Path, int]:
    """Path → line, counted from 1, of the wanted paths of a text that tomllib reads, and of what is around them.

    List items count from 0. What stands nowhere in the text is left out.

    Example:
        >>> lines_of("a = 1\\nb = [\\n 2, { c = 3 },\\n]", [("b", 1, "c")])
        {('b',): 2, ('b', 1): 3, ('b', 1, 'c'): 3}
    """
    from tree_sitter import Language, Parser
    from tree_sitter_toml import language

    walk = _Walk(wanted)
    for node in Parser(Language(language())).parse(text.encode()).root_node.named_children:
        walk.statement(node)
    return walk.lines


class _Walk:
    def __init__(self, wanted: Iterable[Path]) -> None:
        self.lines: dict[Path, int] = {}
        self._wanted = set(wanted)
        self._around = {path[:length] for path in self._wanted for length in range(len(path))}
        self._tables: dict[Path, int] = {}

    def statement(self, node: Node) -> None:
        """A line `key = value`, or a table with all of its lines."""
        if node.type == "pair":
            self._values(node, ())
        elif node.type in ("table", "table_array_element"):
            header, *pairs = (n for n in node.named_children if n.type != "comment")
            base = self._base(header, node.type == "table_array_element")
            for pair in pairs:
                self._values(pair, base)

    def _base(self, header: Node, repeated: bool) -> Path:
        """The path of a table's header, with the position in every list of tables that it goes through."""
        base: Path = ()
        parts = _parts(header)
        for part in parts[:-1]:
            base = self._entered((*base, part))
        last: Path = (*base, parts[-1])
        self._mark(last, header)
        if repeated:
            self._tables[last] = self._tables.get(last, -1) + 1
            self._mark(self._entered(last), header)
        return self._entered(last)

    def _entered(self, path: Path) -> Path:
        return (*path, self._tables[path]) if path in self._tables else path

    def _values(self, pair: Node, base: Path) -> None:
        """Marks a pair and what is inside it, as far as any of that is wanted."""
        waiting = [(pair, base)]
        while waiting:
            node, path = waiting.pop()
            if path not in self._around:
                continue
            inside = [n for n in node.named_children if n.type not in ("comment", "ERROR")]
            if node.type == "pair" and inside:
                key, *value = inside
                for part in _parts(key):
                    path = (*path, part)
                    self._mark(path, key)
                waiting.extend((v, path) for v in value)
            elif node.type == "inline_table":
                waiting.extend((one, path) for one in inside)
            elif node.type == "array":
                for position, item in enumerate(inside):
                    self._mark((*path, position), item)
                    waiting.append((item, (*path, position)))

    def _mark(self, path: Path, node: Node) -> None:
        """The first place wins: a table's header, not a later key of the same table."""
        if path in self._wanted or path in self._around:
            line = node.start_point[0] + 1
            self.lines[path] = min(line, self.lines.get(path, line))


def _parts(key: Node) -> tuple[str, ...]:
    """The parts of a key, quotation marks and escapes undone; dotted keys nest in the tree."""
    parts: list[str] = []
    waiting = [key]
    while waiting:
        node = waiting.pop()
        if node.type == "dotted_key":
            waiting.extend(reversed(node.named_children))
            continue
        text = (node.text or b"").decode()
        parts.append(next(iter(tomllib.loads(f"{text} = 0"))) if node.type == "quoted_key" else text)
    return tuple(parts)
