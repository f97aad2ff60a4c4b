"""Run folders as files: their names, what lies in them, who works in them."""

from __future__ import annotations

import errno
import hashlib
import os
import re
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from facewright.constraints.errors import RunError

STORE, BRIEF, PROVENANCE, REPORT, LOCK = (
    "run.sqlite",
    "brief.toml",
    "provenance.json",
    "report.html",
    "run.lock",
)
"""The files of a run folder."""

BATCH = "batch.sqlite"
"""The store of a batch, in its folder."""

RUNS = Path("runs")
"""Where runs are kept unless another folder is named."""

LONGEST_SLUG = 60
"""Characters of a folder name made of a title."""


def slug(title: str) -> str:
    """A title as a folder name: plain letters and figures, joined by hyphens.

    A title without any (in another script, say) gives a name made of its hash, so that two of them do not meet.

    Example:
        >>> slug("Harbour dues, at dawn"), slug("../../Wächter")
        ('harbour-dues-at-dawn', 'wachter')
    """
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().lower()
    name = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:LONGEST_SLUG].rstrip("-")
    return name or f"run-{hashlib.sha256(title.encode()).hexdigest()[:8]}"


def folder_of(name: str) -> Path:
    """The run folder that a name or a path means; raises RunError where there is none."""
    for folder in (Path(name), RUNS / name):
        if (folder / STORE).is_file():
            return folder
    runs = run_folders(RUNS)
    near = ", ".join(folder.name for folder in runs[:8]) + (", …" if len(runs) > 8 else "")
    raise RunError(f"{name}: found no run of that name; runs here: {near or 'none yet'}", exit_status=2)


def batch_of(name: str) -> Path | None:
    """The folder of the batch that a name or a path means; None where there is none."""
    return next((one for one in (Path(name), RUNS / name) if (one / BATCH).is_file()), None)


def run_folders(where: Path) -> list[Path]:
    """The run folders in a folder, by name."""
    return sorted(path.parent for path in where.glob(f"*/{STORE}"))


def batch_folders(where: Path) -> list[Path]:
    """The folders of batches in a folder, by name."""
    return sorted(path.parent for path in where.glob(f"*/{BATCH}"))


def prepare(folder: Path) -> None:
    """Makes a run folder, or accepts one that is there.

    Raises:
        RunError: it cannot be made, or holds files of these names that no run wrote.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as wrong:
        raise _refused(folder, "made", wrong) from wrong
    if (folder / STORE).exists():
        return
    strange = [name for name in (BRIEF, PROVENANCE, REPORT) if (folder / name).exists()]
    if strange:
        raise RunError(
            f"{folder}: found {' and '.join(strange)} there, but no run; a run would overwrite that. Use --out to name "
            "another folder",
            exit_status=2,
        )


@contextmanager
def locked(folder: Path) -> Iterator[None]:
    """Holds a run folder for one process; raises RunError where another holds it."""
    import fcntl

    try:
        handle = os.open(folder / LOCK, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o644)
    except OSError as wrong:
        raise _refused(folder, "written", wrong) from wrong
    try:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as wrong:
            raise RunError(
                f"{folder}: another process is working in this run folder; wait for it, or use --out to name another"
            ) from wrong
        yield
    finally:
        os.close(handle)


def _refused(folder: Path, done: str, wrong: OSError) -> RunError:
    """The error of a folder in which nothing can begin; a full disk is no wrong use."""
    full = wrong.errno in (errno.ENOSPC, errno.EDQUOT)
    text = f"{folder}: the folder cannot be {done} ({wrong.strerror}); use --out to name another"
    return RunError(text, exit_status=1 if full else 2)


def forget(folder: Path) -> None:
    """Removes a run from its folder, the store last: until then the folder counts as a run's.

    Raises:
        RunError: a file cannot be removed.
    """
    for name in (REPORT, PROVENANCE, BRIEF, f"{STORE}-wal", f"{STORE}-shm", f"{STORE}-journal", STORE):
        path = folder / name
        try:
            path.unlink(missing_ok=True)
        except OSError as wrong:
            raise RunError(f"{path}: cannot be removed ({wrong.strerror})", exit_status=2) from wrong


def write_text(path: Path, text: str) -> None:
    """Writes a file whole or not at all; raises RunError where it cannot be written."""
    draft = path.with_name(path.name + ".draft")
    try:
        draft.write_text(text, encoding="utf-8")
        draft.replace(path)
    except OSError as wrong:
        with suppress(OSError):
            draft.unlink()
        raise RunError(
            f"{path}: cannot be written ({wrong.strerror}). The designs found are kept; make room and give the same "
            "command again"
        ) from wrong
