"""Runs of CP-SAT over a model of readouts: to the least objective, within an effort, or through every solution."""

from __future__ import annotations

import queue
import threading
from collections.abc import Generator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from facewright.search.stop import Stop, Stopped

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

POLL_SECONDS = 0.02
"""How long a run goes on before it asks again whether to stop."""
WAITING = 1_000
"""Solutions that may wait to be fetched."""

Values = tuple[int, ...]
"""A solution: the values of the variables that were asked for, in their order."""


def load() -> None:
    """Loads the solver's package, which takes about a second the first time, so that no answer is charged with it."""
    from ortools.sat.python import cp_model  # noqa: F401


@dataclass(frozen=True)
class Result:
    """How a run ended.

    `status` is best (the least objective, or any solution of a model without one), found (a solution, perhaps not
    the least), none (proved), or open (the effort was used up). `objective` belongs to the solution, `bound` is a
    number that no solution's objective is below, `stopped` the reason where the run was stopped early.
    """

    status: Literal["best", "found", "none", "open"]
    values: Values = ()
    objective: int = 0
    bound: int = 0
    stopped: str | None = None


def solved(
    cp: cp_model.CpModel,
    wanted: Sequence[cp_model.IntVar],
    *,
    seed: int,
    stop: Stop,
    effort: float | None = None,
) -> Result:
    """Solves a model on one thread, so that a seed always gives the same.

    Args:
        cp: the model.
        wanted: the variables whose values are asked for.
        seed: of the solver's choices.
        stop: asked again and again whether to stop.
        effort: the solver's own measure of work, about a second a unit; None: no limit.
    """
    from ortools.sat.python import cp_model

    asked = stop()
    if asked is not None:
        return Result("open", stopped=asked)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    # else the solver takes Ctrl-C for itself, and leaves it deadly for what follows
    solver.parameters.catch_sigint_signal = False
    solver.parameters.random_seed = seed % 2**31
    if effort is not None:
        solver.parameters.max_deterministic_time = effort
    statuses: list[cp_model.CpSolverStatus] = []
    worker = threading.Thread(target=lambda: statuses.append(solver.solve(cp)), daemon=True)
    worker.start()
    while worker.is_alive():
        worker.join(POLL_SECONDS)
        asked = asked or stop()
        if asked is not None:
            # asked again and again, since a run that is only about to begin does not hear it
            solver.stop_search()
    if not statuses or statuses[0] == cp_model.MODEL_INVALID:
        raise RuntimeError(f"solver: a sound model was expected, found: {cp.validate()}")
    status = statuses[0]
    if status == cp_model.INFEASIBLE:
        return Result("none")
    # whole numbers of the solver's own, not its rounded floats
    bound = solver.response_proto.inner_objective_lower_bound if cp.has_objective() else 0
    if status == cp_model.UNKNOWN:
        return Result("open", bound=bound, stopped=asked)
    values = tuple(solver.value(one) for one in wanted)
    objective = round(solver.objective_value) if cp.has_objective() else 0
    known: Literal["best", "found"] = "best" if status == cp_model.OPTIMAL else "found"
    return Result(known, values, objective, bound, asked if known == "found" else None)


def every_solution(
    cp: cp_model.CpModel, wanted: Sequence[cp_model.IntVar], *, seed: int, stop: Stop
) -> Generator[Values]:
    """Every solution of a model, each once.

    Raises:
        Stopped: `stop` asked for it.
    """
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    # else the solver takes Ctrl-C for itself, and leaves it deadly for what follows
    solver.parameters.catch_sigint_signal = False
    solver.parameters.random_seed = seed % 2**31
    solver.parameters.enumerate_all_solutions = True
    found: queue.Queue[Values | None] = queue.Queue(WAITING)
    over = threading.Event()

    def put(values: Values | None) -> bool:
        while not over.is_set():
            try:
                found.put(values, timeout=POLL_SECONDS)
            except queue.Full:
                continue
            return True
        return False

    class Listener(cp_model.CpSolverSolutionCallback):
        def on_solution_callback(self) -> None:
            if not put(tuple(self.value(one) for one in wanted)):
                self.stop_search()

    def work() -> None:
        solver.solve(cp, Listener())
        put(None)

    worker = threading.Thread(target=work, daemon=True)
    worker.start()
    try:
        while True:
            try:
                values = found.get(timeout=POLL_SECONDS)
            except queue.Empty:
                if (asked := stop()) is not None:
                    raise Stopped(asked) from None
                continue
            if values is None:
                return
            yield values
            if (asked := stop()) is not None:
                raise Stopped(asked)
    finally:
        over.set()
        while worker.is_alive():
            solver.stop_search()
            worker.join(POLL_SECONDS)
