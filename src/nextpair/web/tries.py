"""How often somebody may try to sign in, or to guess."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from threading import Lock
from time import monotonic

from nextpair.web.errors import TooManyError

TRIES = 5
PER_S = 60.0
MOST_REMEMBERED = 10_000


class Tries:
    """Failed tries by who made them: after five, one more every twelve seconds."""

    def __init__(self, clock: Callable[[], float] = monotonic) -> None:
        self._clock = clock
        self._lock = Lock()
        self._used: OrderedDict[str, tuple[float, float]] = OrderedDict()

    def spend(self, *keys: str) -> None:
        """Take one try from each of the keys. Raises TooManyError where one has none left."""
        now_s = self._clock()
        with self._lock:
            left = {key: self._left(key, now_s) for key in keys}
            if min(left.values()) < 1.0:
                raise TooManyError((1.0 - min(left.values())) * PER_S / TRIES)
            for key, tries in left.items():
                self._used[key] = (tries - 1.0, now_s)
                self._used.move_to_end(key)
            while len(self._used) > MOST_REMEMBERED:
                self._used.popitem(last=False)

    def give_back(self, *keys: str) -> None:
        """Give back the one try that was taken: it was no guess."""
        with self._lock:
            for key in keys:
                tries, since_s = self._used.get(key, (float(TRIES), self._clock()))
                self._used[key] = (min(float(TRIES), tries + 1.0), since_s)

    def forget(self, *keys: str) -> None:
        """Give all tries back: the password was right."""
        with self._lock:
            for key in keys:
                self._used.pop(key, None)

    def _left(self, key: str, now_s: float) -> float:
        tries, since_s = self._used.get(key, (float(TRIES), now_s))
        return min(float(TRIES), tries + (now_s - since_s) * TRIES / PER_S)
