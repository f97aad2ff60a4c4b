"""The command `facewright`: a thin face of the library, one module a group of commands.

Results go to standard output, all else to standard error. Heavy packages are loaded by the commands that need them.
"""

from __future__ import annotations

import io
import os
import signal
import sys
from types import FrameType

from facewright.search.threads import one_thread

LAST_STANDARD = 2
"""The number of the last of the streams that every process has."""


def main(arguments: list[str] | None = None) -> None:
    """Runs the command and ends the process with the contract's exit status; no traceback reaches the user."""
    # while the command is still being loaded, an interrupt ends the process without a word
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    _open_streams()
    one_thread()
    try:
        status = _run(arguments)
    except KeyboardInterrupt:
        status = 1
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, signal.SIG_IGN)
    sys.exit(status)


def status_of(arguments: list[str] | None = None) -> int:
    """Runs the command and gives its exit status."""
    from facewright.search.cli.command import status_of as status

    return status(arguments)


def _run(arguments: list[str] | None) -> int:
    from facewright.search.cli.command import status_of as status

    signal.signal(signal.SIGINT, _interrupt)
    signal.signal(signal.SIGTERM, _interrupt)
    return status(arguments)


def _interrupt(_signal: int, _frame: FrameType | None) -> None:
    raise KeyboardInterrupt


def _open_streams() -> None:
    """Gives the command streams where it was started without, and none that fails at a name it cannot show."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            stream = open(os.devnull, mode, encoding="utf-8")  # noqa: PTH123, SIM115 - open to the end
            if stream.fileno() <= LAST_STANDARD:
                os.set_inheritable(stream.fileno(), True)  # workers need streams, too
            setattr(sys, name, stream)
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(errors="backslashreplace")
