"""What a running server has at hand."""

from __future__ import annotations

import logging
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from threading import Thread

from nextpair.application.accounts import PasswordHasher, home_account
from nextpair.application.at_hand import EventsAtHand
from nextpair.application.bundle import Papers
from nextpair.application.clock import now_utc
from nextpair.application.jobs import Hands, Jobs
from nextpair.application.store import Account, Store
from nextpair.bootstrap import Program
from nextpair.domain.errors import NextpairError
from nextpair.web.address import Address
from nextpair.web.certificates import Certificates
from nextpair.web.rendered import Rendered
from nextpair.web.tries import SignInTries, Tries
from nextpair.web.turns import Turns, sign_in_turns
from nextpair.web.wire import Library

WARM_LAYDOWN_BOARD, WARM_ANGLE_DEG = 24.5, 2.4
"""Of the shot that is thrown once for nobody, so that the next one is quick."""

log = logging.getLogger("nextpair.web")


@dataclass(slots=True)
class Home:
    """The program, what is kept, and where it is served. The program computes single shots here,
    on one thread; everything longer is for the hands."""

    program: Program
    store: Store
    papers: Papers
    address: Address
    hasher: PasswordHasher
    hands: Hands
    certificates: Certificates | None = None
    now: Callable[[], datetime] = now_utc
    tries: Tries = field(default_factory=Tries)
    turns: Turns = field(default_factory=Turns)
    sign_in_turns: Turns = field(default_factory=sign_in_turns)
    is_warm: bool = False
    is_stopping: Callable[[], bool] = field(default=lambda: False)
    """Told by the web server: streams end then, which it would wait for."""
    library: Library | None = None
    """What was measured of it the first time that it was asked for."""
    rendered: Rendered = field(default_factory=Rendered)
    jobs: Jobs = field(init=False)
    events: EventsAtHand = field(init=False)
    sign_in_tries: SignInTries = field(init=False)
    _owner: Account | None = None

    def __post_init__(self) -> None:
        self.jobs = Jobs(self.store, self.hands, self.now)
        self.events = EventsAtHand(self.store, self.papers)
        self.sign_in_tries = SignInTries(self.tries)

    @property
    def owner(self) -> Account:
        """Whoever uses the program where nobody signs in."""
        if self._owner is None:
            self._owner = home_account(self.store)
        return self._owner

    def open(self) -> None:
        """Get ready to answer; the compiled code comes in a while."""
        self.jobs.open()
        if not self.is_warm:
            Thread(target=self._warm, name="warm", daemon=True).start()

    def close(self) -> None:
        """Let go of everything but the store, which belongs to whoever opened it."""
        self.jobs.close()

    def _warm(self) -> None:
        try:
            with self.program.demo_event() as path:
                event = self.program.load_event(path)
            ball = event.locker[0].name
            self.program.roll_one(
                event, ball, WARM_LAYDOWN_BOARD, WARM_ANGLE_DEG, with_moves=False
            )
        except (NextpairError, OSError) as failed:
            log.error("single shots cannot be computed: %s", type(failed).__name__)
            return
        self.is_warm = True
