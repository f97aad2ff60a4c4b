"""Maker's files on disk: written whole or not at all."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING

from facewright.constraints.errors import RunError

if TYPE_CHECKING:
    from pathlib import Path


def write_whole(path: Path, content: bytes) -> None:
    """Writes a file whole or not at all, its folder too where there is none.

    Raises: RunError where it cannot be written.
    """
    draft = path.with_name(path.name + ".draft")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        draft.write_bytes(content)
        draft.replace(path)
    except OSError as wrong:
        with suppress(OSError):
            draft.unlink()
        raise RunError(
            f"{path}: cannot be written ({wrong.strerror}); make room there or name another folder"
        ) from wrong


def read_whole(path: Path) -> bytes:
    """The content of a file; raises RunError where it cannot be read."""
    try:
        return path.read_bytes()
    except OSError as wrong:
        raise RunError(f"{path}: cannot be read ({wrong.strerror})") from wrong
