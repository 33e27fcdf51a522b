"""The one judge of every case: taken, or refused in lines that name file, place, found, allowed.

Anything else is a fault of ours: another exception, a line that is none, an answer that takes
longer than two seconds of work, something kept of what was refused.
"""

from __future__ import annotations

import signal
import time
import traceback
import unicodedata
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from nextpair.domain.errors import InputRefusedError, InvalidValueError, NextpairError

HANG_S = 2.0
"""Of work: seconds of processor time, which a busy machine does not lengthen."""
STANDSTILL_S = 30
"""Of the clock on the wall, for what waits and does not work."""
LONGEST_LINE = 1600
CONTROL = frozenset({"Cc", "Cs", "Zl", "Zp"})
"""Categories of characters that break a line or cannot be shown. Source: Unicode 15, table 4-4."""
TRACE_LINES = 12


class FaultError(AssertionError):
    """What a target found wrong with the answer to a case."""


class HangError(BaseException):
    """Nothing came back; no handler of the program's own may swallow this."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What became of a case. fault : what is wrong with that, on its first line; none if nothing
    is."""

    refused: bool
    seconds: float
    fault: str = ""


def judged(run: Callable[[Any], None], case: Any) -> Verdict:
    """Run a case and judge what became of it."""
    started = time.process_time()
    refused, fault = False, ""
    try:
        with _awake():
            run(case)
    except NextpairError as error:
        refused, fault = True, fault_of(error)
    except FaultError as error:
        fault = str(error)
    except HangError:
        fault = f"hang: nothing after {STANDSTILL_S} s"
    except Exception as error:
        fault = _trace(error)
    seconds = time.process_time() - started
    if seconds > HANG_S and not fault:
        fault = f"hang: {seconds:.1f} s of work"
    return Verdict(refused, seconds, fault)


def fault_of(error: NextpairError) -> str:
    """What is wrong with a refusal; nothing if it is in order."""
    if isinstance(error, InputRefusedError):
        if not error.problems:
            return "refusal: without a problem"
        for one in error.problems:
            if not (one.file and one.place and one.found and one.allowed):
                return f"refusal: a part is empty in {str(one)!r:.300}"
        return first_fault(*map(str, error.problems))
    if isinstance(error, InvalidValueError) and not (error.field and error.allowed):
        return f"refusal: a part is empty in {str(error)!r:.300}"
    return first_fault(str(error))


def first_fault(*lines: str) -> str:
    """What is wrong with the first line that is none; nothing if all are in order."""
    for line in lines:
        if not line.strip():
            return "line: empty"
        if len(line) > LONGEST_LINE:
            return f"line: {len(line)} characters, {line[:200]!r}"
        wild = {character for character in line if unicodedata.category(character) in CONTROL}
        if wild:
            return f"line: control characters {sorted(wild)!r} in {line[:300]!r}"
    return ""


def require(holds: bool, words: str) -> None:
    """Raise FaultError unless something holds."""
    if not holds:
        raise FaultError(words)


def _trace(error: Exception) -> str:
    told = traceback.format_exception(error)
    return f"traceback: {type(error).__name__}: {error!s:.200}\n{''.join(told[-TRACE_LINES:])}"


@contextmanager
def _awake() -> Iterator[None]:
    def stop(_signal: int, _frame: object) -> None:
        raise HangError

    before = signal.signal(signal.SIGALRM, stop)
    signal.setitimer(signal.ITIMER_REAL, STANDSTILL_S)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)
