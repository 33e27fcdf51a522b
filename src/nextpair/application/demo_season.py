"""The demo season: an invented bowler's events, houses, kit, goals and lessons, taken in at once.

Every record and jotting of it has an id made of its name, so that taking it in twice changes
nothing, and it can be put away again. What is here already stays as it is.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import Any
from uuid import UUID, uuid5

from nextpair.application.bundle import SCORES, SHOTS, EventBundle, EventFolder, Papers
from nextpair.application.events import event_id, keep_event
from nextpair.application.house_book import add_visit
from nextpair.application.journal import standing, versions
from nextpair.application.keeping import LIBRARY_MARK
from nextpair.application.lesson_jottings import lesson_of
from nextpair.application.lesson_jottings import payload_of as lesson_payload
from nextpair.application.own_games import own_games
from nextpair.application.pattern_notes import pattern_log
from nextpair.application.shot_jottings import FILE_DEVICE, noted_shots
from nextpair.application.store import NeededError, Store
from nextpair.application.visit_draft import visit_from_read
from nextpair.domain.house_book import Learned
from nextpair.domain.jotting import Jotting, JottingKind, canonical_json
from nextpair.domain.record import Document, Draft, Kind, Record

NAMESPACE = UUID("3d1f8a60-7c52-5e0b-8f44-2a9be1c0d7a6")
"""Of the ids of what the season brings."""
BOWLER = "Maren Tolvane"
BUNDLED_EVENT = "event.toml"
SEASON_FOLDER = "season"
PUT_AWAY = (
    Kind.EVENT, Kind.SQUAD, Kind.BALL, Kind.BOWLER, Kind.PATTERN, Kind.HOUSE, Kind.KIT, Kind.GOAL,
)  # fmt: skip
"""In an order in which nothing is needed any more when its turn comes."""


@dataclass(frozen=True, slots=True)
class SeasonEvent:
    """One event as the season tells it: its files, what belongs to no file of them, and what its
    shots taught of the house."""

    id: UUID
    brought: EventFolder
    told: Mapping[str, Any]
    learned: Mapping[str, Sequence[float]]


@dataclass(frozen=True, slots=True)
class DemoSeason:
    """Everything that the season brings: its events, the records beside them, and notes on
    patterns."""

    events: tuple[SeasonEvent, ...]
    drafts: tuple[Draft, ...]
    notes: tuple[Jotting, ...]


def read_season(papers: Papers, files: Mapping[str, str]) -> DemoSeason:
    """The season of the demo's files, text by path. Raises InputRefusedError."""
    told = tomllib.loads(files[f"{SEASON_FOLDER}/season.toml"])
    events = tuple(_event(papers, files, one) for one in told["event"])
    drafts = {draft.id: draft for draft in _drafts(papers, events, told)}
    notes = tuple(_attack_notes(told["pattern_note"]))
    return DemoSeason(events, tuple(drafts.values()), notes)


def take_in_season(
    store: Store, papers: Papers, account: UUID, season: DemoSeason
) -> tuple[Record, ...]:
    """Keep what is not here yet; returns the season's events that are kept, first one first."""
    known = {record.id: record for record in _every(store, account)}
    same = {(record.kind, canonical_json(record.document)) for record in store.records(account)}
    new = [
        draft
        for draft in season.drafts
        if draft.id not in known and (draft.kind, canonical_json(draft.document)) not in same
    ]
    store.save_all(account, new)
    for draft in season.drafts:
        if draft.id in known and known[draft.id].deleted:
            store.restore(account, draft.id)
    for event in season.events:
        if event.id not in known:
            _keep(store, papers, account, event)
        elif known[event.id].deleted:
            store.restore(account, event.id)
    for note in season.notes:
        _write_note(store, account, note)
    return kept_events(store, account)


def kept_events(store: Store, account: UUID) -> tuple[Record, ...]:
    """Events of the season's bowler that are kept, first one first."""
    bowler = str(_id(Kind.BOWLER, BOWLER))
    events = store.records(account, Kind.EVENT)
    kept = (record for record in events if record.document["bowler"] == bowler)
    return tuple(sorted(kept, key=lambda record: str(record.document["date"])))


def put_season_away(store: Store, account: UUID, season: DemoSeason) -> int:
    """Delete what the season brought, but for what something else needs; returns how many records
    that were. Each can be brought back, and so can all by taking the season in again. Notes on
    patterns of the library, which are no records, are taken back."""
    ours = {event.id for event in season.events}
    ours &= {record.id for record in kept_events(store, account)}
    ours |= {draft.id for draft in season.drafts}
    away = 0
    for kind in PUT_AWAY:
        for record in store.records(account, kind):
            if record.id in ours:
                with suppress(NeededError):
                    store.delete(account, record.id)
                    away += 1
    for note in season.notes:
        if note.event not in ours:
            _take_note_back(store, account, note)
    return away


def _event(papers: Papers, files: Mapping[str, str], told: Mapping[str, Any]) -> SeasonEvent:
    """One event; the bundled one lies where it always does, with this season's bowler and log."""
    folder = f"{SEASON_FOLDER}/events/{told['folder']}"
    event_file = f"{folder}/event.toml"
    texts = dict(files)
    if event_file not in files:
        event_file = BUNDLED_EVENT
        texts |= {name: files[f"{folder}/{name}"] for name in (SHOTS, SCORES)}
        texts["bowler.toml"] = files[f"{SEASON_FOLDER}/bowler.toml"]
    brought = papers.brought(texts, event_file)
    event = brought.bundle.event
    id = event_id(str(event["name"]), str(event["date"]), str(event["bowler_name"]))
    return SeasonEvent(id, brought, told, tomllib.loads(files.get(f"{folder}/learned.toml", "")))


def _drafts(
    papers: Papers, events: Sequence[SeasonEvent], told: Mapping[str, Any]
) -> Iterator[Draft]:
    """Records of the season that are no events."""
    histories = {ball["name"]: ball for ball in told.get("ball", ())}
    for event in events:
        yield from _neighbours(event.brought.bundle, histories)
    for kind, key in ((Kind.KIT, "kit"), (Kind.GOAL, "goal")):
        for document in told.get(key, ()):
            papers.check(kind, document)
            yield _draft(kind, document)


def _neighbours(bundle: EventBundle, histories: Mapping[str, Document]) -> Iterator[Draft]:
    """What an event's record names, the balls with what was done to them."""
    yield _draft(Kind.HOUSE, bundle.house)
    for pattern in (bundle.left_pattern, bundle.right_pattern):
        if isinstance(pattern, Mapping):
            yield _draft(Kind.PATTERN, pattern)
    yield _draft(Kind.SQUAD, {"name": bundle.event["name"], "rows": list(bundle.squad)})
    bowler = _draft(Kind.BOWLER, bundle.bowler)
    yield bowler
    for place, row in enumerate(bundle.locker, start=1):
        owned = {"bowler": str(bowler.id), "place": place}
        document = {**row, **histories.get(str(row["name"]), {}), **owned}
        yield _draft(Kind.BALL, document, bowler.id)


def _draft(kind: Kind, document: Document, *needs: UUID) -> Draft:
    name = str(document["name"])
    return Draft(_id(kind, name), kind, name, document, frozenset(needs))


def _id(kind: Kind, name: str) -> UUID:
    return uuid5(NAMESPACE, f"{kind}: {name}")


def _keep(store: Store, papers: Papers, account: UUID, event: SeasonEvent) -> None:
    """Keep an event, with what was decided and noted at it, and the visit that it was."""
    record = keep_event(store, account, event.brought)
    store.append(account, list(_jottings(record, event.told)))
    if "visit" in event.told:
        bowled = papers.event(event.brought.bundle)
        shots, _ = noted_shots(store.log(account, event.id))
        games = own_games(shots, (), bowled.format.counting, [])
        visit = visit_from_read(bowled, None, shots, games, event.id, _log_id(event.id, "visit"))
        house = UUID(str(record.document["house"]))
        add_visit(store, account, house, replace(visit, **_said_of_it(event)))


def _said_of_it(event: SeasonEvent) -> dict[str, Any]:
    """What the season tells of a visit."""
    told = event.told["visit"]
    return {
        "notes": told["notes"],
        "lanes": tuple((int(lane), words) for lane, words in told.get("lanes", {}).items()),
        "private": told.get("private", False),
        "learned": tuple(Learned(name, *numbers) for name, numbers in event.learned.items()),
    }


def _jottings(record: Record, told: Mapping[str, Any]) -> Iterator[Jotting]:
    """Lessons, diary, what was missing, and what is packed already."""
    facts = {"event": record.name, "date": record.document["date"], "accepted": True}
    said: list[tuple[JottingKind, Mapping[str, Any]]] = [
        (JottingKind.LESSON, lesson_payload(lesson_of({**facts, **lesson})))
        for lesson in told.get("lesson", ())
    ]
    said += [(JottingKind.TICK, {"item": item, "done": True}) for item in told.get("ticks", ())]
    said += [(JottingKind.NOTE, note) for note in _notes(told)]
    for number, (kind, payload) in enumerate(said, start=1):
        id = _log_id(record.id, f"{kind} {number}")
        yield _jotting(id, record.id, number, kind, payload, f"{record.document['date']}T20:00")


def _notes(told: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    for prompt, text in told.get("diary", {}).items():
        yield {"about": "diary", "prompt": prompt, "text": text}
    for item in told.get("missing", ()):
        yield {"about": "missing", "text": item}


def _attack_notes(notes: Sequence[Mapping[str, str]]) -> Iterator[Jotting]:
    """Notes on patterns, of the library or of the season."""
    for number, note in enumerate(notes, start=1):
        name = note["pattern"]
        log = pattern_log(name if name.startswith(LIBRARY_MARK) else str(_id(Kind.PATTERN, name)))
        payload = {"about": "pattern", "text": note["text"]}
        yield _jotting(_log_id(log, "note"), log, number, JottingKind.NOTE, payload, note["day"])


def _write_note(store: Store, account: UUID, note: Jotting) -> None:
    """Write a note down where it never was, or anew where it was put away."""
    told = versions(store.log(account, note.event)).get(note.id, (note,))
    if len(told) == 1:
        store.append(account, [note])
    elif told[-1].kind is JottingKind.VOID and told[-1].device == FILE_DEVICE:
        anew = replace(note, id=_version_id(note, told), supersedes=told[-1].id)
        store.append(account, [anew])


def _take_note_back(store: Store, account: UUID, note: Jotting) -> None:
    """Let a note count no more, where it stands as the season wrote it."""
    log = store.log(account, note.event)
    stands = dict(standing(log)).get(note.id)
    if stands is not None and stands.payload == note.payload:
        id = _version_id(note, versions(log)[note.id])
        void = Jotting(id, note.event, FILE_DEVICE, 1, JottingKind.VOID, {}, stands.id)
        store.append(account, [void])


def _version_id(note: Jotting, told: Sequence[Jotting]) -> UUID:
    """The id of a note's next version."""
    return _log_id(note.event, f"{note.id} {len(told)}")


def _jotting(
    id: UUID, log: UUID, number: int, kind: JottingKind, payload: Mapping[str, Any], at: str
) -> Jotting:
    return Jotting(id, log, FILE_DEVICE, number, kind, payload, client_time=at)


def _log_id(log: UUID, what: str) -> UUID:
    return uuid5(NAMESPACE, f"{log}: {what}")


def _every(store: Store, account: UUID) -> Iterable[Record]:
    return (*store.records(account), *store.records(account, deleted=True))
