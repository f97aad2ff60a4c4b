"""Gathers the faults of a brief by the path of the key; finds lines only when there is one to report."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from typing import NoReturn

from facewright.constraints.errors import BriefRefused, Fault
from facewright.constraints.texts import quoted

Path = tuple[str | int, ...]
"""Where a value stands: keys, and positions in lists counted from 0."""

WHOLE = "the brief"
"""The key of a fault that concerns no single key."""
MOST_FAULTS = 1000
"""How many faults are reported; a file with more is not a brief gone wrong but another kind of file."""

_BARE = re.compile(r"[A-Za-z0-9_-]+")


class Faults:
    """The faults of one brief."""

    def __init__(self) -> None:
        self._by_path: dict[tuple[Path, str, str], None] = {}
        self._placed: list[Fault] = []
        self.spoilt: set[Path] = set()
        self.lost_keys: set[str] = set()
        self.text = ""

    def __bool__(self) -> bool:
        """Whether there is any fault."""
        return bool(self._by_path or self._placed)

    @property
    def many(self) -> int:
        """How many there are."""
        return len(self._by_path) + len(self._placed)

    @property
    def full(self) -> bool:
        """Whether no further fault is taken in."""
        return len(self._by_path) >= MOST_FAULTS

    def add(self, path: Path, found: str, accepted: str) -> None:
        """A fault of the value at a path; the same one twice counts once."""
        if not self.full:
            self._by_path[path, found, accepted] = None

    def add_at(self, line: int, key: str, found: str, accepted: str) -> None:
        """A fault whose line is known."""
        self._placed.append(Fault(line, key, found, accepted))

    def missing(self, key: str, accepted: str) -> None:
        """A key that the brief must have and has not; passed over where a broken line may have held it."""
        if key not in self.lost_keys and "" not in self.lost_keys and (key,) not in self.spoilt:
            self.add((key,), "nothing: the key is missing", accepted)

    def taken_from(self, other: Faults, inside: str, keys: Collection[str]) -> None:
        """Takes over the faults of a part that was read by itself; those keys of it stand in a table of this brief."""
        for path, found, accepted in other._by_path:
            self.add((inside, *path) if path[:1] and path[0] in keys else path, found, accepted)

    def refuse(self, name: str) -> NoReturn:
        """Raises BriefRefused with every fault, each with its line."""
        raise BriefRefused(name, self.located())

    def located(self) -> tuple[Fault, ...]:
        """Every fault with its line."""
        from facewright.constraints.brief.locate import lines_of

        paths = [path for path, _, _ in self._by_path]
        lines = lines_of(self.text, paths) if paths else {}
        located = (Fault(_line(lines, path), dotted(path), f, a) for path, f, a in self._by_path)
        return (*self._placed, *located)


def dotted(path: Path) -> str:
    """The path as a person reads it, positions in lists counted from 1.

    Example:
        >>> dotted(("dice", 0, "labels", "lowest"))
        'dice[1].labels.lowest'
    """
    if not path:
        return WHOLE
    text = ""
    for part in path:
        if isinstance(part, int):
            text += f"[{part + 1}]"
        else:
            text += ("." if text else "") + (
                part if _BARE.fullmatch(part) and len(part) < 60 else quoted(part)
            )
    return text


def nearest_keys(key: str, known: Iterable[str]) -> str:
    """What stands in place of an unknown key: the nearest known keys, or all where none is near."""
    from difflib import get_close_matches

    known = list(known)
    near = get_close_matches(key.lower()[:60], known, n=3, cutoff=0.65)
    if near:
        return (
            "the nearest known key is " + near[0]
            if len(near) == 1
            else "the nearest known keys are " + ", ".join(near)
        )
    return "the known keys are " + ", ".join(known)


def _line(lines: dict[Path, int], path: Path) -> int:
    """The line of a path, or of the closest thing around it; 0 where nothing of it stands in the file."""
    while path and path not in lines:
        path = path[:-1]
    return lines.get(path, 0)
