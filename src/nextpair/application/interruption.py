"""Ctrl+C comes at a moment that does no harm, and is never lost."""

from __future__ import annotations

import signal
import sys
import threading
from _thread import interrupt_main
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Any

AGAIN_S = 0.05


@contextmanager
def unbroken() -> Iterator[None]:
    """Put off Ctrl+C until what is within is done; other threads than the first never hear it."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    asked: list[tuple[int, FrameType | None]] = []
    before = signal.signal(signal.SIGINT, lambda *told: asked.append(told))
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
    if asked and callable(before):
        before(*asked[0])


def interrupt_again(lost: Any) -> None:
    """A `sys.unraisablehook`: Ctrl+C that met code which bears no exceptions, as the compiler's
    when it loads what is kept, comes again a moment later. Anything else is told as usual."""
    if lost.exc_type is KeyboardInterrupt:
        later = threading.Timer(AGAIN_S, _interrupt)
        later.daemon = True
        later.start()
    else:
        sys.__unraisablehook__(lost)


def _interrupt() -> None:
    """Ctrl+C for the first thread, which may be waiting for something."""
    first = threading.main_thread().ident
    if first is not None and hasattr(signal, "pthread_kill"):
        signal.pthread_kill(first, signal.SIGINT)
    else:
        interrupt_main()
