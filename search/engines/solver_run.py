"""One run of the CP-SAT solver over a model of label counts: solutions as they arrive, stopped when asked."""

from __future__ import annotations

import queue
import threading
from collections.abc import Generator
from typing import TYPE_CHECKING

from facewright.constraints.model.counts import CountModel

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

from facewright.search.stop import Stop, Stopped

POLL_SECONDS = 0.05
"""How long the wait for a solution lasts before the run asks again whether to stop."""

WAITING = 1_000
"""Solutions that may wait to be fetched; the solver pauses at more, so that a slow reader costs no memory."""

Labels = list[list[int]]
"""The labels of every die, sorted."""


class SolverRun:
    """Solves a model in a thread of its own and hands over each solution as labels.

    Args:
        model: the model; with an objective the run improves on each solution, without one it lists all.
        seed: of the solver's choices; one thread solves, so that a seed always gives the same order.
    """

    def __init__(self, model: CountModel, seed: int) -> None:
        from ortools.sat.python import cp_model

        self._model = model
        self._solver = cp_model.CpSolver()
        self._solver.parameters.num_workers = 1
        # else the solver takes Ctrl-C for itself, and leaves it deadly for what follows
        self._solver.parameters.catch_sigint_signal = False
        self._solver.parameters.random_seed = seed % 2**31
        if model.cp.has_objective():
            self._solver.parameters.linearization_level = 2
        else:
            self._list_all()
        self._status: cp_model.CpSolverStatus | None = None
        self._failure: BaseException | None = None
        self._found: queue.Queue[Labels | None] = queue.Queue(WAITING)
        self._over = threading.Event()

    def _list_all(self) -> None:
        """Branches label by label from the least up, all dice together.

        The ways of the least totals then follow one from the other like the coefficients of a quotient of
        power series, each choice settling the next; linear relaxations only slow that down.
        """
        from ortools.sat.python import cp_model

        self._solver.parameters.enumerate_all_solutions = True
        self._solver.parameters.linearization_level = 0
        self._solver.parameters.search_branching = cp_model.FIXED_SEARCH
        counts = [list(self._model.counts(die).values()) for die in range(len(self._model.dice))]
        longest = max((len(one) for one in counts), default=0)
        ordered = [one[place].value for place in range(longest) for one in counts if place < len(one)]
        variables = [value for value in ordered if not isinstance(value, int)]
        self._model.cp.add_decision_strategy(variables, cp_model.CHOOSE_FIRST, cp_model.SELECT_MAX_VALUE)

    def solutions(self, stop: Stop) -> Generator[Labels]:
        """Each solution as it is found.

        Raises:
            Stopped: `stop` asked for it.
            RuntimeError: the solver refused the model.
        """
        _ask(stop)
        worker = threading.Thread(target=self._work, daemon=True)
        worker.start()
        try:
            while True:
                try:
                    found = self._found.get(timeout=POLL_SECONDS)
                except queue.Empty:
                    _ask(stop)
                    continue
                if found is None:
                    break
                yield found
                _ask(stop)
        finally:
            self._over.set()
            worker.join(POLL_SECONDS)
            while worker.is_alive():
                # asked again and again, since a run that is only about to begin does not hear it
                self._solver.stop_search()
                worker.join(POLL_SECONDS)
        if self._failure is not None:
            raise self._failure
        self._check()

    @property
    def bound(self) -> int | None:
        """No objective can be greater than this, as far as the run got; None before it got anywhere."""
        from ortools.sat.python import cp_model

        if self._status is None:
            return None
        # the solver minimises the objective with its sign changed; this number of it is whole, not a float
        least = self._solver.response_proto.inner_objective_lower_bound
        # it stands at 0 as long as no bound is known
        return None if self._status == cp_model.UNKNOWN and not least else -least

    def _work(self) -> None:
        try:
            self._status = self._solver.solve(self._model.cp, self._listener())
        except BaseException as failure:  # handed over to the thread that asked
            self._failure = failure
        self._put(None)

    def _put(self, found: Labels | None) -> bool:
        """Hands a solution over; False where nobody wants it any more."""
        while not self._over.is_set():
            try:
                self._found.put(found, timeout=POLL_SECONDS)
            except queue.Full:
                continue
            return True
        return False

    def _listener(self) -> cp_model.CpSolverSolutionCallback:
        from ortools.sat.python import cp_model

        run = self
        dice = [self._model.counts(die) for die in range(len(self._model.dice))]

        class Listener(cp_model.CpSolverSolutionCallback):
            def on_solution_callback(self) -> None:
                labels: Labels = []
                for counts in dice:
                    one: list[int] = []
                    for label, count in counts.items():
                        value = count.value
                        one += [label] * (value if isinstance(value, int) else self.value(value))
                    labels.append(one)
                if not run._put(labels):
                    self.stop_search()

        return Listener()

    def _check(self) -> None:
        from ortools.sat.python import cp_model

        if self._status not in (cp_model.OPTIMAL, cp_model.INFEASIBLE):
            name = self._solver.status_name(self._status)
            raise RuntimeError(f"solver: a run to its end was expected, found the status {name}")


def _ask(stop: Stop) -> None:
    """Raises Stopped where there is a reason to stop now."""
    asked = stop()
    if asked is not None:
        raise Stopped(asked)
