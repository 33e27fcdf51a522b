"""A process that computes for another: it leaves keys to that one, and ends when that one is gone,
however that ends."""

from __future__ import annotations

import os
import signal
from multiprocessing import parent_process
from multiprocessing.connection import wait
from threading import Thread


def serve_parent() -> None:
    """Ignore Ctrl+C, which the parent answers, and end with the parent."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = parent_process()
    if parent is not None:
        wait([parent.sentinel])
    os._exit(1)
