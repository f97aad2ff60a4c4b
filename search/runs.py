"""Run folders: the brief, the store, the provenance and the report of one question."""

from __future__ import annotations

import json
import os
import platform
import re
import shutil
import unicodedata
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any

from facewright.constraints.errors import FacewrightError, RunError
from facewright.constraints.question import Numbering
from facewright.constraints.readouts import Readouts
from facewright.search.finding import answered
from facewright.search.progress import Progress
from facewright.search.stop import Stop
from facewright.search.store import Store

STORE, BRIEF, PROVENANCE, REPORT, LOCK = (
    "run.sqlite",
    "brief.toml",
    "provenance.json",
    "report.html",
    "run.lock",
)
"""The files of a run folder."""

RUNS = Path("runs")
"""Where runs are kept unless another folder is named."""

PACKAGES = ("facewright", "python-flint", "ortools", "numpy", "pydantic")
"""Packages whose versions a run notes."""


def slug(title: str) -> str:
    """A title as a folder name: plain letters and figures, joined by hyphens.

    Example:
        >>> slug("Harbour dues, at dawn")
        'harbour-dues-at-dawn'
    """
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:60] or "untitled"


def folder_of(name: str) -> Path:
    """The run folder that a name or a path means; raises RunError where there is none."""
    for folder in (Path(name), RUNS / name):
        if (folder / STORE).is_file():
            return folder
    near = ", ".join(folder.name for folder in run_folders(RUNS)[:8]) or "none yet"
    raise RunError(f"{name}: found no run of that name; runs here: {near}")


def run_folders(where: Path) -> list[Path]:
    """The run folders in a folder, by name."""
    return sorted(path.parent for path in where.glob(f"*/{STORE}"))


@contextmanager
def locked(folder: Path) -> Iterator[None]:
    """Holds a run folder for one process; raises RunError where another holds it."""
    import fcntl

    try:
        handle = os.open(folder / LOCK, os.O_RDWR | os.O_CREAT, 0o644)
    except OSError as wrong:
        raise RunError(
            f"{folder}: the folder cannot be written ({wrong.strerror}); use --out to name another"
        ) from wrong
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


def perform(
    question: Numbering | Readouts,
    brief: str,
    folder: Path,
    *,
    seed: int,
    stop: Stop,
    report: Progress,
    again: bool = False,
    workers: int = 1,
    limit: int | None = None,
) -> tuple[Any, str]:
    """Answers a question in a run folder: anew, from where an earlier run ended, or from the store if all is known.

    Args:
        question: the question.
        brief: the text of the brief, kept beside the answer.
        folder: the run folder; made if need be.
        seed: for engines that use chance.
        stop: asked whether to stop early.
        report: told of the progress.
        again: forget what the folder holds.
        workers: processes that share the sets of dice of a choice.
        limit: how many designs to list; without it the brief's own limit, or the usual one of the kind.

    Returns:
        The answer (`Answer`, for readouts `ReadoutsAnswer`), and what was done: "answered", "resumed" or "known".

    Raises:
        RunError: the folder holds another question, belongs to another process, cannot be written, or is full.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as wrong:
        raise RunError(
            f"{folder}: the folder cannot be made ({wrong.strerror}); use --out to name another"
        ) from wrong
    with locked(folder):
        if again:
            _clear(folder)
        with _store(folder, question) as store:
            most = limit if limit is not None else question.stop.designs or question.listed
            done = _settled(store, most)
            if done is not None and len(done) == len(question.sets) and store.noted("ended"):
                return replace(store.answer(), question=question), "known"
            fresh = store.noted("started") is None
            _begin(store, folder, most, brief, seed)
            whole = _go_on(store, question, done or (), seed, stop, report, most, workers)
            store.note("ended", _now())
            _write_provenance(store, folder, whole)
            return whole, "answered" if fresh else "resumed"


def _store(folder: Path, question: Numbering | Readouts) -> Store:
    path = folder / STORE
    if not path.exists():
        return Store.create(path, question)
    store = Store.open(path)
    kept = store.noted("question")
    if kept is None:
        # killed between making the tables and noting the question: nothing can be lost
        store.__exit__()
        _clear(folder)
        return Store.create(path, question)
    if store.question.fingerprint() != question.fingerprint():
        title = store.question.title
        store.__exit__()
        raise RunError(
            f"{folder}: found the run of another question there ({title!r}); --replace forgets it, --out names another "
            "folder",
            exit_status=2,
        )
    return store


def _settled(store: Store, limit: int) -> tuple[Any, ...] | None:
    """Outcomes that need not be worked out again: those no stop cut short, with as many designs as are wanted now."""
    if store.noted("limit") != limit:
        return None
    outcomes = store.outcomes()
    settled = []
    for outcome in outcomes:
        if outcome.closing.verdict == "partial":
            break
        settled.append(outcome)
    return tuple(settled)


def _begin(store: Store, folder: Path, limit: int, brief: str, seed: int) -> None:
    store.note("limit", limit)
    store.note("seed", seed)
    store.note("started", store.noted("started") or _now())
    store.note("provenance", provenance())
    write_text(folder / BRIEF, brief)


def _go_on(
    store: Store,
    question: Numbering | Readouts,
    done: Sequence[Any],
    seed: int,
    stop: Stop,
    report: Progress,
    limit: int,
    workers: int,
) -> Any:
    position = len(done)
    earlier = [one for one in store.designs() if one.set < len(done)]

    def keep(shard: Sequence[Any], outcome: Any) -> None:
        nonlocal position
        store.append(shard, outcome, position)
        position += outcome is not None

    answered(
        question,
        seed=seed,
        stop=stop,
        report=report,
        done=done,
        earlier=earlier,
        keep=keep,
        limit=limit,
        workers=workers,
    )
    return replace(store.answer(), question=question)


def provenance() -> dict[str, Any]:
    """What a run was made with: versions of the packages, of Python and of the system."""
    versions: dict[str, Any] = {
        "python": platform.python_version(),
        "system": f"{platform.system()} {platform.machine()}",
    }
    for name in PACKAGES:
        try:
            versions[name] = version(name)
        except PackageNotFoundError:
            continue
    return versions


def provenance_of(folder: Path) -> dict[str, Any]:
    """What was noted of a run in its provenance file, or what would be noted now."""
    try:
        known: dict[str, Any] = json.loads((folder / PROVENANCE).read_text(encoding="utf-8"))
        return {"made_with": {}, **known}
    except (OSError, ValueError):
        return {"made_with": provenance()}


def about_run(folder: Path) -> dict[str, Any]:
    """A run in a line: its name, title, verdict, count, and when it ended; a damaged one says so."""
    try:
        with Store.open(folder / STORE) as store:
            answer = store.answer()
            ended = store.noted("ended") or ""
    except FacewrightError as wrong:
        return {
            "run": folder.name,
            "title": str(wrong),
            "verdict": "damaged",
            "count": None,
            "count_is": "at least",
            "ended": "",
        }
    return {
        "run": folder.name,
        "title": answer.question.title,
        "verdict": answer.verdict if ended else "unfinished",
        "count": answer.count,
        "count_is": answer.count_is,
        "ended": ended[:16].replace("T", " "),
    }


def _write_provenance(store: Store, folder: Path, whole: Any) -> None:
    about = {
        "started": store.noted("started"),
        "ended": store.noted("ended"),
        "seconds": round(whole.seconds, 3),
        "seed": whole.seed,
        "verdict": whole.verdict,
        "engine": whole.engine,
        "count": whole.count,
        "count_is": whole.count_is,
        "fingerprint": whole.question.fingerprint(),
        "made_with": store.noted("provenance"),
    }
    write_text(folder / PROVENANCE, json.dumps(about, indent=2, ensure_ascii=False) + "\n")


def write_text(path: Path, text: str) -> None:
    """Writes a file whole or not at all; raises RunError where it cannot be written."""
    draft = path.with_name(path.name + ".draft")
    try:
        draft.write_text(text, encoding="utf-8")
        draft.replace(path)
    except OSError as wrong:
        draft.unlink(missing_ok=True)
        raise RunError(
            f"{path}: cannot be written ({wrong.strerror}). The designs found are kept; make room and give the same "
            "command again"
        ) from wrong


def _clear(folder: Path) -> None:
    for name in (STORE, STORE + "-wal", STORE + "-shm", BRIEF, PROVENANCE, REPORT):
        path = folder / name
        if path.is_dir():
            shutil.rmtree(path)
        path.unlink(missing_ok=True)


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="seconds")
