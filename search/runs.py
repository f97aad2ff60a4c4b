"""Runs: a question answered in a folder, anew, from where it ended, or from the store; and what it was made with."""

from __future__ import annotations

import json
import platform
from collections import Counter
from collections.abc import Sequence
from contextlib import ExitStack
from dataclasses import replace
from datetime import UTC, datetime
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import TYPE_CHECKING, Any

from facewright.constraints.contest import Contest
from facewright.constraints.errors import FacewrightError, RunError
from facewright.constraints.question import Numbering
from facewright.constraints.question_form import Question, any_to_form
from facewright.constraints.texts import quoted
from facewright.search.finding import answered
from facewright.search.folders import BRIEF, PROVENANCE, STORE, forget, locked, prepare, write_text
from facewright.search.kinds import kind_of
from facewright.search.laying import with_layouts
from facewright.search.progress import Progress
from facewright.search.stop import Stop
from facewright.search.store import NotBegun, Store
from facewright.search.words import stopped

if TYPE_CHECKING:
    from facewright.search.report.scores import Settings

PACKAGES = ("facewright", "python-flint", "ortools", "numpy", "pydantic")
"""Packages whose versions a run notes."""


def perform(
    question: Question,
    brief: str,
    folder: Path,
    *,
    seed: int,
    stop: Stop,
    report: Progress,
    again: bool = False,
    workers: int = 1,
    limit: int | None = None,
    settings: Settings | None = None,
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
        limit: how many designs to list; without it the brief's own limit, or the usual one of its kind.
        settings: for the scores that say which design is laid out; the usual ones without it.

    Returns:
        The answer, and what was done: "answered", "resumed" or "known".

    Raises:
        RunError: the folder holds another question, belongs to another process, cannot be written, or is full.
    """
    prepare(folder)
    with locked(folder):
        if again:
            forget(folder)
        with _store(folder, question) as store:
            most = limit if limit is not None else question.stop.designs or question.listed
            known = _known(store, question, most, settings)
            if known is not None:
                _refresh(store, folder, question, brief)
                whole = _laid_out(store, known, settings, seed, stop, report)
                return whole, "known" if whole.layouts == known.layouts else "resumed"
            fresh = store.noted("started") is None
            done = _settled(store, question, most)
            _begin(store, folder, question, most, brief, seed)
            whole = _go_on(store, question, done, seed, stop, report, most, workers, settings)
            whole = _laid_out(store, whole, settings, seed, stop, report)
            store.note("ended", _now())
            _write_provenance(store, folder, whole)
            return whole, "answered" if fresh else "resumed"


def _store(folder: Path, question: Question) -> Store:
    path = folder / STORE
    if not path.exists():
        return Store.create(path, question)
    try:
        store = Store.open(path, write=True)
    except NotBegun:
        forget(folder)
        return Store.create(path, question)
    with ExitStack() as held:
        held.enter_context(store)
        kept = store.question
        if kept.fingerprint() != question.fingerprint():
            raise RunError(
                f"{folder}: found the run of another question there, {quoted(kept.title)}; --replace forgets it, --out "
                "names another folder",
                exit_status=2,
            )
        held.pop_all()
    return store


def _known(store: Store, question: Question, most: int, settings: Settings | None) -> Any | None:
    """The stored answer, where nothing is left to do for so many designs."""
    settled = _settled(store, question, most)
    if not store.noted("ended") or len(settled) < len(question.sets):
        return None
    if isinstance(question, Numbering | Contest) and question.stop.designs:
        from facewright.search.selecting.select import to_select

        if to_select(question, settled, most, settings):
            return None
    return _cut(store.answer(), question, most)


def _settled(store: Store, question: Question, most: int) -> tuple[Any, ...]:
    """Outcomes that need not be worked out again: those no stop cut short, with as many designs as are wanted now."""
    enough = (store.noted("limit") or 0) >= most
    settled = []
    for outcome in store.outcomes():
        if outcome.closing.verdict == "partial" or not (enough or outcome.listed == outcome.closing.count):
            break
        settled.append(outcome)
    return tuple(settled)


def _cut(answer: Any, question: Question, most: int) -> Any:
    """The answer with so many designs at most (of readouts: so many a solid), worded as the question is worded now."""
    found = kind_of(question).cut(question, answer.found, most)
    listed = Counter(one.set for one in found)
    outcomes = tuple(replace(one, listed=listed[place]) for place, one in enumerate(answer.outcomes))
    return replace(answer, question=question, outcomes=outcomes, found=found)


def _laid_out(
    store: Store, whole: Any, settings: Settings | None, seed: int, stop: Stop, report: Progress
) -> Any:
    """The answer with its best design laid out, which the store then keeps."""
    known = store.layouts()
    laid = with_layouts(whole, settings, seed=seed, stop=stop, report=report, known=known)
    if laid.layouts != known:
        store.note("layouts", [one.to_form() for one in laid.layouts])
    return laid


def _refresh(store: Store, folder: Path, question: Question, brief: str) -> None:
    """Keeps the wording, the limits and the weights that the brief has now."""
    form = json.loads(json.dumps(any_to_form(question)))
    if store.noted("question") != form:
        store.note("question", form)
        write_text(folder / BRIEF, brief)


def _begin(store: Store, folder: Path, question: Question, limit: int, brief: str, seed: int) -> None:
    store.note("question", any_to_form(question))
    store.note("limit", limit)
    store.note("seed", seed)
    store.note("started", store.noted("started") or _now())
    store.note("ended", None)
    store.note("provenance", provenance())
    write_text(folder / BRIEF, brief)


def _go_on(
    store: Store,
    question: Question,
    done: Sequence[Any],
    seed: int,
    stop: Stop,
    report: Progress,
    limit: int,
    workers: int,
    settings: Settings | None,
) -> Any:
    position = len(done)
    earlier = [one for one in store.designs() if one.set < len(done)]
    optimal = kind_of(question).optimal(question)
    ids: set[str] = set()

    def keep(shard: Sequence[Any], outcome: Any) -> None:
        nonlocal position
        ids.update(one.design.id for one in shard)
        if outcome is not None and outcome.closing.verdict == "partial":
            store.append(shard, None, position)
            shard, outcome = (), _with_earlier(outcome, store.size(position), stop)
        elif outcome is not None and optimal:
            store.drop_others(ids, position)
        store.append(shard, outcome, position)
        if outcome is not None:
            position += 1
            ids.clear()

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
        settings=settings,
        **({"renew": store.renew} if isinstance(question, Numbering | Contest) else {}),
    )
    return _cut(store.answer(), question, limit)


def _with_earlier(outcome: Any, kept: int, stop: Stop) -> Any:
    """An outcome that a stop cut short, where an earlier try had found designs that this one did not reach again."""
    if kept <= outcome.closing.count:
        return outcome
    reason = stopped(kept, stop() or "cut short")
    return replace(outcome, listed=kept, closing=replace(outcome.closing, count=kept, reason=reason))


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
        known = json.loads((folder / PROVENANCE).read_text(encoding="utf-8"))
        return {"made_with": {}, **known}
    except (OSError, ValueError, TypeError):
        return {"made_with": provenance()}


def about_run(folder: Path) -> dict[str, Any]:
    """A run in a line: its name, title, verdict, count, and when it ended; a damaged one says so."""
    try:
        with Store.open(folder / STORE) as store:
            outline = store.outline()
            size = store.size()
            ended = store.noted("ended") or ""
    except FacewrightError as wrong:
        begun = not isinstance(wrong, NotBegun)
        return {
            "run": folder.name,
            "title": str(wrong) if begun else "",
            "verdict": "damaged" if begun else "unfinished",
            "count": None,
            "count_is": "at least",
            "ended": "",
        }
    return {
        "run": folder.name,
        "title": outline.question.title,
        "verdict": outline.verdict if ended else "unfinished",
        "count": max(outline.count, size),
        "count_is": outline.count_is,
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


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="seconds")
