"""Events of a store as the domain has them, and shots tried on them at once."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Sequence
from dataclasses import dataclass
from threading import Lock
from time import monotonic
from typing import Any
from uuid import UUID

from nextpair.application.bundle import EventBundle, Papers
from nextpair.application.events import bundle_of
from nextpair.application.jobs import BY_FORMAT, POCKET, inputs_of
from nextpair.application.keeping import record_of
from nextpair.application.store import Computed, Store
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.event import Event
from nextpair.domain.jotting import canonical_json
from nextpair.domain.record import Kind, Record

EVENTS_KEPT = 16
SHEETS_KEPT = 8
SHEET_TRUSTED_S = 2.0
"""How long the newest sheet is taken for the newest without asking."""

FilmUnits = Sequence[Sequence[float]]


@dataclass(frozen=True, slots=True)
class AtHand:
    """One event: its record and its documents; and the hash of what decides its numbers, and the
    one of how the event is decided besides."""

    record: Record
    bundle: EventBundle
    inputs: str
    format_inputs: str

    def inputs_of(self, kind: str) -> str:
        """The hash of what a kind of result comes from."""
        return self.format_inputs if kind in BY_FORMAT else self.inputs


class EventsAtHand:
    """Events of a store, each built once for as long as nothing of it changes."""

    def __init__(self, store: Store, papers: Papers) -> None:
        self._store = store
        self._papers = papers
        self._lock = Lock()
        self._at_hand: OrderedDict[tuple[UUID, UUID], tuple[int, AtHand]] = OrderedDict()
        self._events: OrderedDict[tuple[UUID, str, str], Event] = OrderedDict()
        self._sheets: OrderedDict[tuple[UUID, UUID], tuple[float, Computed | None]] = OrderedDict()

    def at_hand(self, account: UUID, id: UUID) -> AtHand:
        """An event as it is kept now. Raises NotKeptError."""
        changes = self._store.changes(account)
        with self._lock:
            known = self._at_hand.get((account, id))
        if known is not None and known[0] == changes:
            return known[1]
        record = record_of(self._store, account, Kind.EVENT, id)
        bundle = bundle_of(self._store, account, id)
        now = AtHand(record, bundle, inputs_of(bundle, "sheet"), inputs_of(bundle, POCKET))
        _remember(self._lock, self._at_hand, (account, id), (changes, now), EVENTS_KEPT)
        return now

    def event(self, account: UUID, at_hand: AtHand) -> Event:
        """The event of its documents. Raises InputRefusedError with every problem of them."""
        # What moves no number of a sheet is part of the event all the same, as its money is.
        bundle = at_hand.bundle
        said = canonical_json([bundle.event, bundle.bowler, bundle.house])
        key = (account, at_hand.inputs, said)
        with self._lock:
            event = self._events.get(key)
        if event is None:
            event = self._papers.event(bundle)
            _remember(self._lock, self._events, key, event, EVENTS_KEPT)
        return event

    def film_units(self, account: UUID, event: Event, id: UUID, lane: int, game: int) -> FilmUnits:
        """The film of a lane as a game begins on it, by the newest sheet. Raises
        InvalidValueError where no sheet tells it."""
        sheet = self._newest_sheet(account, id)
        if sheet is None:
            raise InvalidValueError("game", game, "a game of the sheet, once there is one")
        told = [card for card in sheet.document["games"] if card["game"] == game]
        if not told:
            games = ", ".join(str(card["game"]) for card in sheet.document["games"])
            raise InvalidValueError("game", game, f"a game of the sheet: {games}")
        for card in told[0]["lanes"]:
            if card["lane"] == lane:
                film: FilmUnits = card["film_units"]
                return film
        pair = event.pair_in_game(event.start_pair, game)
        raise InvalidValueError("lane", lane, f"a lane of {pair}, the pair of game {game}")

    def _newest_sheet(self, account: UUID, id: UUID) -> Computed | None:
        now_s = monotonic()
        with self._lock:
            asked_s, sheet = self._sheets.get((account, id), (-SHEET_TRUSTED_S, None))
        if now_s - asked_s >= SHEET_TRUSTED_S:
            sheet = self._store.computed(account, id, "sheet")
            _remember(self._lock, self._sheets, (account, id), (now_s, sheet), SHEETS_KEPT)
        return sheet


def _remember(
    lock: Lock, shelf: OrderedDict[Any, Any], key: object, value: object, most: int
) -> None:
    with lock:
        shelf[key] = value
        shelf.move_to_end(key)
        while len(shelf) > most:
            shelf.popitem(last=False)
