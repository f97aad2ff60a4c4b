"""Proved answers about single solids, kept between runs so that a catalogue is worked through only once.

One file an answer, named by the question's fingerprint and the engine's version, written whole or not at all under
a lock that other processes respect. What comes out is recounted like anything else; a damaged file counts as none.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

FOLDER = "FACEWRIGHT_CACHE"
"""The environment variable that names another folder; an empty one keeps nothing."""


def cache_folder() -> Path | None:
    """Where answers are kept; None where nothing is to be kept."""
    named = os.environ.get(FOLDER)
    if named is not None:
        return Path(named) if named else None
    base = os.environ.get("XDG_CACHE_HOME")
    return (Path(base) if base else Path.home() / ".cache") / "facewright"


def key_of(*parts: object) -> str:
    """The name of an answer: a hash of what tells it apart."""
    return hashlib.sha256(json.dumps(parts).encode()).hexdigest()[:40]


def kept(key: str) -> dict[str, Any] | None:
    """The answer kept under a name; None where there is none that can be read."""
    folder = cache_folder()
    if folder is None:
        return None
    try:
        data = json.loads((folder / f"{key}.json").read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    return data if isinstance(data, dict) else None


def keep(key: str, data: dict[str, Any]) -> None:
    """Keeps an answer under a name; where the folder cannot be written nothing is kept."""
    folder = cache_folder()
    if folder is None:
        return
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with _locked(folder):
            draft = folder / f"{key}.draft"
            draft.write_text(json.dumps(data, ensure_ascii=False), encoding="utf-8")
            draft.replace(folder / f"{key}.json")
    except OSError:
        return


@contextmanager
def _locked(folder: Path) -> Iterator[None]:
    """Lets one process after the other write."""
    import fcntl

    handle = os.open(folder / "lock", os.O_RDWR | os.O_CREAT, 0o644)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)
