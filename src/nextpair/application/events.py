"""An event kept as records, put together for the files and the model, and taken in from files.

What is kept is not changed by what is taken in. A house, a pattern or a squad that is here
already, the same, is used again; so is a bowler with the same locker, ball for ball. Anything else
becomes a record of its own. Only the event is written over, if it is here: it is the same one if
its name, day and bowler are, and its id is made of them, so that a log that comes home later finds
its event.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any
from uuid import UUID, uuid4, uuid5

from nextpair.application.bundle import (
    SCORES,
    SHOTS,
    EarlierSquad,
    EventBundle,
    EventFolder,
    Papers,
)
from nextpair.application.keeping import LIBRARY_MARK, links_of, record_of
from nextpair.application.names import plain_name
from nextpair.application.scores import field_scores, take_in_scores
from nextpair.application.shot_jottings import logged_shots, take_in_shots
from nextpair.application.store import Store
from nextpair.domain.errors import InvalidValueError, require
from nextpair.domain.event import Event
from nextpair.domain.jotting import canonical_json
from nextpair.domain.record import Document, Draft, Kind, Record

NAMESPACE = UUID("8f0c6a52-0d4e-5b1c-9a63-3b1de2a7c410")
"""Of the ids that events have by their name, day and bowler."""
NAMING = ("house", "pattern", "left_pattern", "right_pattern", "bowler", "squad", "earlier_squad")
"""Keys of an event's record that hold ids of other records."""
KEPT_OF_A_BALL = ("bowler", "retired", "place", "surface_history", "layout_history")
"""Keys of a ball's record that its row in a locker does not have."""


def event_id(name: str, date: str, bowler_name: str) -> UUID:
    """The id of an event, wherever it is taken in."""
    return uuid5(NAMESPACE, canonical_json([name, date, bowler_name]))


def require_each_once(events: Iterable[Event]) -> None:
    """Raises InvalidValueError where one event is named twice: it would count twice."""
    named: set[UUID] = set()
    for event in events:
        found = f"{event.name} of {event.date.isoformat()} twice"
        require(id_of_event(event) not in named, "event", found, "each event once")
        named.add(id_of_event(event))


def id_of_event(event: Event) -> UUID:
    """The id under which an event is kept once it was taken in."""
    return event_id(event.name, event.date.isoformat(), event.bowler_name)


def bundle_of(store: Store, account: UUID, event: UUID) -> EventBundle:
    """An event with everything it needs. Raises NotKeptError."""
    document = record_of(store, account, Kind.EVENT, event).document

    def needed(kind: Kind, id: str) -> Document:
        return record_of(store, account, kind, UUID(id)).document

    patterns: list[Document | str] = [
        named if named.startswith(LIBRARY_MARK) else needed(Kind.PATTERN, named)
        for key in ("pattern", "left_pattern", "right_pattern")
        if (named := document.get(key)) is not None
    ]
    return EventBundle(
        event={key: value for key, value in document.items() if key not in NAMING},
        house=needed(Kind.HOUSE, document["house"]),
        left_pattern=patterns[0],
        right_pattern=patterns[1] if len(patterns) > 1 else None,
        bowler=needed(Kind.BOWLER, document["bowler"]),
        locker=locker_of(store.records(account, Kind.BALL), UUID(document["bowler"])),
        squad=tuple(needed(Kind.SQUAD, document["squad"])["rows"]),
        earlier=tuple(
            EarlierSquad(
                {key: value for key, value in table.items() if key != "squad"},
                tuple(needed(Kind.SQUAD, table["squad"])["rows"]),
                table["squad"],
            )
            for table in document.get("earlier_squad") or ()
        ),
        squad_name=document["squad"],
    )


def locker_of(balls: Iterable[Record], bowler: UUID) -> tuple[Document, ...]:
    """The rows of a bowler's balls that are not retired, by their place, then by name."""
    owned = [
        ball.document
        for ball in balls
        if ball.document.get("bowler") == str(bowler) and not ball.document.get("retired")
    ]
    owned.sort(key=_place)
    return tuple(
        {key: value for key, value in ball.items() if key not in KEPT_OF_A_BALL} for ball in owned
    )


def for_others(bundle: EventBundle) -> EventBundle:
    """An event without what is nobody else's business: money, the bowler's care, and what is the
    owner's own of the house."""
    event = _without(bundle.event, "money")
    bowler = _without(bundle.bowler, "care", "side_pots", "home_currency")
    return replace(bundle, event=event, bowler=bowler, house=house_for_others(bundle.house))


def house_for_others(document: Document) -> Document:
    """A house's document without private notes and pictures, of which only names are kept."""
    return _without(document, "private_notes", "photos")


def take_in_event(
    store: Store,
    papers: Papers,
    account: UUID,
    folder: Mapping[str, str],
    event_file: str = "event.toml",
) -> Record:
    """Keep the event of a folder, with the shots and scores that lie beside it, all of it or
    nothing. Raises InputRefusedError."""
    return keep_event(store, account, papers.brought(dict(folder), event_file))


def keep_event(store: Store, account: UUID, brought: EventFolder) -> Record:
    """Keep an event with its shots and scores; what is in its log already is passed over."""
    record = keep_bundle(store, account, brought.bundle)
    take_in_shots(store, account, record.id, brought.shots)
    take_in_scores(store, account, record.id, brought.scores)
    return record


def kept_as(store: Store, account: UUID, event: Event) -> UUID | None:
    """Under which id an event of a file is kept, wherever it was made; None where it is not."""
    called = _plainly((event.name, event.date.isoformat(), event.bowler_name))
    kept = store.records(account, Kind.EVENT)
    return next((one.id for one in kept if _plainly(_called(one.document)) == called), None)


def find_event(store: Store, account: UUID, called: str) -> Record:
    """The event of a name or an id. Raises InvalidValueError for none, or several."""
    events = store.records(account, Kind.EVENT)
    name = plain_name(called)
    found = [one for one in events if str(one.id) == name] or [
        one for one in events if plain_name(one.name) == name
    ]
    if len(found) != 1:
        several = (f"{one.name} of {one.document['date']}: {one.id}" for one in found)
        names = several if found else (one.name for one in events)
        raise InvalidValueError("event", called, "; ".join(names) or "an event that is kept")
    return found[0]


def folder_of(
    store: Store, papers: Papers, account: UUID, event: UUID, others: bool = False
) -> dict[str, str]:
    """An event as the contract's files, with its shots and the field's scores, text by name; for
    others, without what is private, notes of shots among it.

    Raises NotKeptError; InputRefusedError where the event is not in order.
    """
    bundle = bundle_of(store, account, event)
    texts = papers.folder(for_others(bundle) if others else bundle)
    log = store.log(account, event)
    if shots := logged_shots(log):
        told = (replace(shot, note="") for shot in shots) if others else shots
        texts[SHOTS] = papers.shots_text(told)
    if scores := field_scores(log, []):
        texts[SCORES] = papers.scores_text(scores)
    return texts


def keep_bundle(store: Store, account: UUID, bundle: EventBundle) -> Record:
    """Keep an event that is in order, with everything it needs."""
    drafts = drafts_of(bundle, store.records(account))
    return store.save_all(account, drafts)[-1]


def drafts_of(bundle: EventBundle, kept: Sequence[Record]) -> tuple[Draft, ...]:
    """What is to be saved so that an event is kept beside these records, the event last."""
    taking = _Taking(kept)
    title = str(bundle.event["name"])
    document: dict[str, Any] = dict(bundle.event)
    document["house"] = taking.kept(Kind.HOUSE, bundle.house)
    if bundle.right_pattern is None:
        document["pattern"] = taking.pattern(bundle.left_pattern)
    else:
        document["left_pattern"] = taking.pattern(bundle.left_pattern)
        document["right_pattern"] = taking.pattern(bundle.right_pattern)
    document["bowler"] = taking.bowler(bundle.bowler, bundle.locker)
    squads = {(bundle.squad_name, canonical_json(bundle.squad)): title}
    document["squad"] = taking.squad(title, bundle.squad)
    earlier = []
    for number, squad in enumerate(bundle.earlier, start=1):
        name = f"{title}, {squad.name or f'earlier squad {number}'}"
        name = squads.setdefault((squad.name, canonical_json(squad.rows)), name)
        earlier.append({"squad": taking.squad(name, squad.rows), **squad.terms})
    if earlier:
        document["earlier_squad"] = earlier
    id = _id_of(document, kept)
    links = frozenset(links_of(Kind.EVENT, document))
    return (*taking.drafts, Draft(id, Kind.EVENT, title, document, links))


@dataclass(slots=True)
class _Taking:
    """What is kept already, and what is to be saved beside it."""

    records: Sequence[Record]
    drafts: list[Draft] = field(default_factory=list)

    def kept(self, kind: Kind, document: Document) -> str:
        """The id under which a document is kept, or will be."""
        said = canonical_json(document)
        here: list[Record | Draft] = [*self.records, *self.drafts]
        for one in here:
            if one.kind is kind and canonical_json(one.document) == said:
                return str(one.id)
        return self._new(kind, document)

    def pattern(self, pattern: Document | str) -> str:
        """The id of a pattern, or its name in the library."""
        return pattern if isinstance(pattern, str) else self.kept(Kind.PATTERN, pattern)

    def squad(self, name: str, rows: Sequence[Document]) -> str:
        """The id of a squad."""
        return self.kept(Kind.SQUAD, {"name": name, "rows": list(rows)})

    def bowler(self, document: Document, locker: Sequence[Document]) -> str:
        """The id of a bowler who owns just these balls."""
        said = canonical_json(document)
        for one in self.records:
            if one.kind is Kind.BOWLER and canonical_json(one.document) == said:
                balls = (ball for ball in self.records if ball.kind is Kind.BALL)
                if canonical_json(locker_of(balls, one.id)) == canonical_json(locker):
                    return str(one.id)
        id = self._new(Kind.BOWLER, document)
        for place, row in enumerate(locker, start=1):
            self._new(Kind.BALL, {**row, "bowler": id, "place": place}, frozenset({UUID(id)}))
        return id

    def _new(self, kind: Kind, document: Document, needs: frozenset[UUID] = frozenset()) -> str:
        id = uuid4()
        self.drafts.append(Draft(id, kind, str(document["name"]), document, needs))
        return str(id)


def _id_of(event: Document, kept: Sequence[Record]) -> UUID:
    """The id that an event has here already, or the one it has everywhere."""
    called = _called(event)
    same = (one.id for one in kept if one.kind is Kind.EVENT and _called(one.document) == called)
    return next(same, event_id(*called))


def _called(event: Document) -> tuple[str, str, str]:
    return str(event["name"]), str(event["date"]), str(event["bowler_name"])


def _plainly(called: tuple[str, str, str]) -> tuple[str, ...]:
    return tuple(plain_name(word) for word in called)


def _place(ball: Document) -> tuple[float, str]:
    place = ball.get("place")
    return (float("inf") if place is None else place), str(ball.get("name"))


def _without(document: Document, *keys: str) -> Document:
    return {other: value for other, value in document.items() if other not in keys}
