"""How often somebody may try to sign in, or to guess."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from threading import Lock
from time import monotonic

from nextpair.web.errors import TooManyError

TRIES, ANOTHER_AFTER_S = 5, 12.0
MOST_REMEMBERED = 10_000
PLACE_TRIES, PLACE_ANOTHER_AFTER_S = 60, 2.0
"""Of one address: a whole team may be behind it and sign in at the same moment."""
NAME_TRIES, NAME_ANOTHER_AFTER_S = 100, 36.0
"""Of one name, from all addresses that it never signed in from: NIST SP 800-63B (revision 3,
section 5.2.2) allows 100 failures in a row; here one more comes back every 36 seconds, so that
nobody is shut out for good."""


@dataclass(frozen=True, slots=True)
class Tally:
    """Who tries, and how often: `tries` in a row, and then one more every `another_after_s`."""

    who: str
    tries: int = TRIES
    another_after_s: float = ANOTHER_AFTER_S


class Tries:
    """Failed tries by who made them."""

    def __init__(self, clock: Callable[[], float] = monotonic) -> None:
        self._clock = clock
        self._lock = Lock()
        self._used: OrderedDict[Tally, tuple[float, float]] = OrderedDict()

    def spend(self, *tallies: Tally) -> None:
        """Take one try from each. Raises TooManyError where one has none left, and takes none."""
        now_s = self._clock()
        with self._lock:
            left = {tally: self._left(tally, now_s) for tally in tallies}
            waits_s = [(1.0 - tries) * tally.another_after_s for tally, tries in left.items()]
            if max(waits_s) > 0.0:
                raise TooManyError(max(waits_s))
            for tally, tries in left.items():
                self._used[tally] = (tries - 1.0, now_s)
                self._used.move_to_end(tally)
            while len(self._used) > MOST_REMEMBERED:
                self._used.popitem(last=False)

    def give_back(self, *tallies: Tally) -> None:
        """Give back the one try that was taken: it was no guess."""
        with self._lock:
            for tally in tallies:
                if tally in self._used:
                    tries, since_s = self._used[tally]
                    self._used[tally] = (min(float(tally.tries), tries + 1.0), since_s)

    def forget(self, *tallies: Tally) -> None:
        """Give all tries back: the password was right."""
        with self._lock:
            for tally in tallies:
                self._used.pop(tally, None)

    def _left(self, tally: Tally, now_s: float) -> float:
        tries, since_s = self._used.get(tally, (float(tally.tries), now_s))
        return min(float(tally.tries), tries + (now_s - since_s) / tally.another_after_s)


class SignInTries:
    """Tries at passwords. They are counted by name and address together, so that nobody spends
    those of a name for its owner, who asks from elsewhere; by address, for who tries many names;
    and, more slowly, by name, for who has many addresses. An address that a name has signed in
    from is not held up by what others try under that name. Known addresses are forgotten when the
    server stops."""

    def __init__(self, tries: Tries) -> None:
        self._tries = tries
        self._lock = Lock()
        self._known: OrderedDict[Tally, None] = OrderedDict()

    def spend(self, name: str, place: str) -> None:
        """Take a try at a name's password from an address. Raises TooManyError."""
        self._tries.spend(*self._tallies(name, place))

    def give_back(self, name: str, place: str) -> None:
        """Give back the try that was taken: no password was looked at."""
        self._tries.give_back(*self._tallies(name, place))

    def was_right(self, name: str, place: str) -> None:
        """The password was right. What the address tried under other names stays counted: else
        whoever has an account could guess at all others, signing in between."""
        alone, *others = self._tallies(name, place)
        self._tries.forget(alone)
        self._tries.give_back(*others)
        with self._lock:
            self._known[alone] = None
            self._known.move_to_end(alone)
            while len(self._known) > MOST_REMEMBERED:
                self._known.popitem(last=False)

    def _tallies(self, name: str, place: str) -> tuple[Tally, ...]:
        folded = name.strip().casefold()
        alone = Tally(f"from {place} as {folded}")
        of_place = Tally(f"from {place}", PLACE_TRIES, PLACE_ANOTHER_AFTER_S)
        with self._lock:
            if alone in self._known:
                return alone, of_place
        return alone, of_place, Tally(f"as {folded}", NAME_TRIES, NAME_ANOTHER_AFTER_S)
