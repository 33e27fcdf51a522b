"""Memory that a sheet gives back and takes again stays with the process while it is made.

Dask starts its workers with MALLOC_TRIM_THRESHOLD_=65536. The C library then hands every freed
array back to the system and lets it be cleared again for the next one: half a million pages and a
fifth of the time of a small sheet. Elsewhere than with glibc nothing is done.

Source: mallopt(3), M_TRIM_THRESHOLD and M_MMAP_THRESHOLD; malloc_trim(3).
"""

from __future__ import annotations

import ctypes
import os
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Lock
from typing import Any

_TRIM_THRESHOLD, _MMAP_THRESHOLD = -1, -3
KEPT_BYTES = {_TRIM_THRESHOLD: 256 * 1024 * 1024, _MMAP_THRESHOLD: 32 * 1024 * 1024}
"""For arrays of a sheet; 32 MiB is the most of the second on every machine."""
USUAL_BYTES = 128 * 1024
"""Both thresholds of glibc where nobody set them."""
_VARIABLES = {
    _TRIM_THRESHOLD: "MALLOC_TRIM_THRESHOLD_",
    _MMAP_THRESHOLD: "MALLOC_MMAP_THRESHOLD_",
}
_lock = Lock()
_users = 0


@contextmanager
def kept_memory() -> Iterator[None]:
    """Keep freed memory until the last of those within is done; then as it was, and given back."""
    library = _glibc()
    if library is None or _VARIABLES[_TRIM_THRESHOLD] not in os.environ:
        yield
        return
    _count(library, 1)
    try:
        yield
    finally:
        _count(library, -1)


def _count(library: Any, change: int) -> None:
    """One more or less of those within; the first sets the thresholds, the last resets them."""
    global _users
    with _lock:
        _users += change
        if _users == change == 1:
            for threshold, kept_bytes in KEPT_BYTES.items():
                library.mallopt(threshold, kept_bytes)
        elif _users == 0:
            for threshold, variable in _VARIABLES.items():
                library.mallopt(threshold, _set_bytes(variable))
            library.malloc_trim(0)


def _set_bytes(variable: str) -> int:
    told = os.environ.get(variable, "")
    return int(told) if told.isdecimal() else USUAL_BYTES


def _glibc() -> Any:
    """The C library where it is glibc, else None."""
    try:
        library = ctypes.CDLL(None)
        library.mallopt.argtypes = (ctypes.c_int, ctypes.c_int)
        library.malloc_trim.argtypes = (ctypes.c_size_t,)
        _ = library.gnu_get_libc_version
    except (AttributeError, OSError, TypeError):  # TypeError: Windows
        return None
    return library
