"""What a worker does: it answers questions one by one, each within its limits, and gives results as plain data."""

from __future__ import annotations

import os
import resource
import signal
import threading
import time
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import Any

Job = tuple[str, str]
"""The key of a question and its brief."""

GRACE = 5.0
"""Seconds beyond its limit after which a question that does not hear it is ended with its process."""

WARM_UP = 'title = "t"\nread = "total"\nlike = "2d2"\ndice = [2, 2]\n'

POLL = 0.5
"""Seconds between two looks whether the parent is still there."""

SCORES = ("legible", "familiar", "readability", "cost", "overall")


def prepare(parent: int, memory_mb: int) -> None:
    """Makes a process a worker: deaf to Ctrl-C, gone with its parent, bounded in memory."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGALRM, signal.SIG_DFL)
    threading.Thread(target=_leave_with, args=(parent,), daemon=True).start()
    with suppress(Exception):  # what is loaded now is not counted as time or memory of the first question
        _answered(WARM_UP, GRACE, 1)
    bound_memory(memory_mb)


def bound_memory(memory_mb: int) -> None:
    """Bounds the memory of this process to so much beyond what it has now."""
    try:
        status = Path("/proc/self/status").read_text(encoding="ascii")
        now = int(status.partition("VmData:")[2].split()[0]) * 1024
        _, hard = resource.getrlimit(resource.RLIMIT_DATA)
        resource.setrlimit(resource.RLIMIT_DATA, (now + memory_mb * 2**20, hard))
    except (
        OSError,
        ValueError,
        IndexError,
    ):  # no such bound on this system: the question's time still is one
        return


def engines_version() -> str:
    """What tells the engines of this version from those of another."""
    from importlib.metadata import version

    return version("facewright")


def answer_some(jobs: Sequence[Job], seconds: float, designs: int) -> list[dict[str, Any]]:
    """The answers of some questions, or why there is none, in their order."""
    return [answer_one(key, brief, seconds, designs) for key, brief in jobs]


def answer_one(key: str, brief: str, seconds: float, designs: int) -> dict[str, Any]:
    """One answer as data: `status` is answered, failed or out of memory."""
    from facewright.constraints.errors import FacewrightError

    started = time.perf_counter()
    if hasattr(signal, "setitimer") and threading.current_thread() is threading.main_thread():
        signal.setitimer(signal.ITIMER_REAL, 1.5 * seconds + GRACE)
    try:
        told = _answered(brief, seconds, designs)
    except MemoryError:
        told = {"status": "out of memory", "reason": "it took more memory than a question may have"}
    except FacewrightError as wrong:
        told = {"status": "failed", "reason": str(wrong)}
    except Exception as wrong:  # errors are data: a batch goes on
        told = {"status": "failed", "reason": f"a fault of this program ({type(wrong).__name__}: {wrong})"}
    finally:
        if hasattr(signal, "setitimer") and threading.current_thread() is threading.main_thread():
            signal.setitimer(signal.ITIMER_REAL, 0)
    return {"key": key, "seconds": round(time.perf_counter() - started, 4), **told}


def died(key: str, how: str, seconds: float) -> dict[str, Any]:
    """What is told of a question whose process died twice; `how` names the signal that ended it, if one did."""
    status, reason = "failed", f"its process died, twice ({how})"
    if "SIGALRM" in how:
        status, reason = "hung", "it did not hear its limit of time and was ended with its process, twice"
    elif "SIGKILL" in how:
        reason = "its process was killed, twice: by somebody, or by the system for want of memory"
    elif "SIGSEGV" in how or "SIGABRT" in how:
        reason = "its process crashed, twice, perhaps for want of memory"
    return {"key": key, "seconds": round(seconds, 4), "status": status, "reason": reason, "tries": 2}


def _answered(brief: str, seconds: float, designs: int) -> dict[str, Any]:
    from facewright.constraints.brief import parse
    from facewright.constraints.question import Numbering
    from facewright.search.cli.kinds import shown
    from facewright.search.earlier import die_of
    from facewright.search.finding import answered
    from facewright.search.laying import with_layouts
    from facewright.search.report.scores import load_scores
    from facewright.search.stop import Limits

    question = parse(brief, "plan", die_of)
    limits, settings = Limits(seconds), load_scores(None)
    if isinstance(question, Numbering) and question.accept == "exact" and not question.stop.designs:
        # the best of all are to be kept
        question = replace(question, stop=replace(question.stop, designs=designs))
    answer = answered(question, seed=0, stop=limits, limit=designs)
    answer = with_layouts(answer, settings, seed=0, stop=limits)
    kind = shown(answer)
    ranked = kind.ranked(answer, settings)[:designs]
    forms = kind.form(answer, ranked)["designs"]
    return {
        "status": "answered",
        "kind": question.kind,
        "verdict": answer.verdict,
        "count": str(answer.count),
        "count_up_to_shift": str(getattr(answer, "count_up_to_shift", answer.count)),
        "count_is": answer.count_is,
        "engine": answer.engine,
        "reason": answer.reason,
        "bound": None if answer.bound is None else str(answer.bound),
        "designs": [_design(form) for form in forms],
    }


def _design(form: dict[str, Any]) -> dict[str, Any]:
    """A design as the store keeps it: its scores beside its form, the geometry of solids left out."""
    scores = form.get("scores") or {}
    kept = {name: value for name, value in form.items() if name not in ("geometry", "scores", "rank", "tied")}
    return {
        "id": form["id"],
        "rank": form.get("rank"),
        "distance": form.get("distance", form.get("dependence")),
        "ordinary": bool(form.get("ordinary", False)),
        "scores": {name: scores.get(name) for name in SCORES},
        "form": kept,
    }


def _leave_with(parent: int) -> None:
    """Ends this process once its parent is gone: nobody would read what it finds."""
    while os.getppid() == parent:
        time.sleep(POLL)
    os._exit(1)
