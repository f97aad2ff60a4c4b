"""Factoring over the integers; what may take long is done in a process of its own, which can be stopped."""

from __future__ import annotations

import ctypes
import json
import signal
import subprocess
import sys

import flint
from facewright.search.stop import Stop, Stopped

AT_ONCE = 400
"""Up to this degree FLINT is asked directly: it needs well under a second, less than a process takes to start."""

POLL_SECONDS = 0.05
"""How long the wait for the process lasts before `stop` is asked again."""

MOST_KNOWN = 16
"""How many results are kept: the sets of a choice, and the search for a reason, factor the same again and again."""

Pairs = list[tuple[flint.fmpz_poly, int]]

_known: dict[tuple[int, ...], Pairs] = {}


def irreducible_factors(poly: flint.fmpz_poly, stop: Stop) -> tuple[int, Pairs]:
    """The content, and each irreducible factor with its power, in no particular order.

    Raises:
        Stopped: `stop` asked for it, or the process that factored was lost.
    """
    if poly.degree() <= AT_ONCE:
        constant, pairs = poly.factor()
        return int(constant), [(factor, int(power)) for factor, power in pairs]
    content = int(poly.content())
    key = tuple(int(c) // content for c in poly.coeffs())
    if key not in _known:
        if len(_known) >= MOST_KNOWN:
            _known.clear()
        _known[key] = _apart(key, stop)
    return content, _known[key]


def _apart(coefficients: tuple[int, ...], stop: Stop) -> Pairs:
    """The factors, found by another process: FLINT itself hears neither a stop nor an interrupt."""
    command = [sys.executable, "-m", __name__]
    given: str | None = json.dumps([str(c) for c in coefficients])
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    ) as child:
        try:
            while True:
                if reason := stop():
                    raise Stopped(reason)
                try:
                    found, _ = child.communicate(given, timeout=POLL_SECONDS)
                    break
                except subprocess.TimeoutExpired:
                    given = None
        finally:
            child.kill()
    if child.returncode != 0:
        raise Stopped(stop() or "the process that takes the target's pattern apart was lost")
    return [(flint.fmpz_poly([int(c) for c in factor]), power) for factor, power in json.loads(found)]


def _work() -> None:
    """What that process does: coefficients in, factors out, numbers as text."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if sys.platform == "linux":
        # PR_SET_PDEATHSIG: where the search is killed, this ends too
        ctypes.CDLL(None).prctl(1, signal.SIGKILL)
    poly = flint.fmpz_poly([int(c) for c in json.load(sys.stdin)])
    _, pairs = poly.factor()
    json.dump([[[str(c) for c in factor.coeffs()], int(power)] for factor, power in pairs], sys.stdout)


if __name__ == "__main__":
    _work()
