"""Linear algebra with one thread a process: processes share the work, and more threads get into each other's way.

A library that waits for its own threads by turning round and round, as OpenBLAS does, becomes many times slower where
another process has the processor that one of them needs.
"""

from __future__ import annotations

import os

NAMES = ("OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "BLIS_NUM_THREADS", "VECLIB_MAXIMUM_THREADS")
"""What the libraries ask the environment for when they are loaded."""


def one_thread() -> None:
    """Asks for one thread, here and in processes that are started from here, unless the environment says otherwise.

    It must come before numpy is loaded.
    """
    for name in NAMES:
        os.environ.setdefault(name, "1")
