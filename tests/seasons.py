"""Small invented events of a season, for tests: facts, and events kept in a store."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from uuid import UUID, uuid4

from event_folder import DEMO
from nextpair.application.events import event_id, take_in_event
from nextpair.application.scores import take_in_scores
from nextpair.application.season_events import BallTally, EventFacts, Tally
from nextpair.application.store import Account
from nextpair.domain.field_score import FieldScore
from nextpair.domain.season import Point
from nextpair.files import FilePapers
from nextpair.store.memory import MemoryStore

TODAY = date(2026, 11, 28)
FIRST = date(2026, 1, 10)
FOLDER = {
    path.name: path.read_text("utf-8")
    for path in DEMO.iterdir()
    if path.suffix in (".toml", ".csv") and path.name not in ("scores.csv", "shots.csv")
}
BALLS = ("9/ X 8/ 7- X 9/ X 8/ X X9/", "X 9- X 8/ 9/ X 7/ X 9/ X8/")


def facts(number: int, **changed) -> EventFacts:
    """The facts of an event that was bowled, one every fortnight."""
    day = FIRST + timedelta(14 * number)
    usual = EventFacts(
        key=str(number), name=f"Event {number}", date=day, entry_deadline=None,
        house="Quernstone Lanes", surface="synthetic", length="medium", planned_games=6, games=6,
        pins=1200, strikes=Tally(30, 66), spares=Tally(24, 30), single_pins=Tally(15, 17),
        frames_filled=Tally(50, 60), beside_field=Point(day, 0.4, 6, 1.0, f"Event {number}"),
        cashed=None, balls=(BallTally("Slate Weir", None, 5.0, Tally(30, 60), Tally(0, 0)),),
        bag=("Slate Weir", "Plain Thimble"),
    )  # fmt: skip
    return replace(usual, **changed)


def to_come(day: date, **changed) -> EventFacts:
    """An event of which nothing is bowled."""
    nothing = Tally(0, 0)
    return facts(
        0, key=day.isoformat(), name="Ebb Tide Open", date=day, games=0, pins=0, strikes=nothing,
        spares=nothing, single_pins=nothing, frames_filled=nothing, beside_field=None, balls=(),
        **changed,
    )  # fmt: skip


def kept_events(count: int) -> tuple[MemoryStore, UUID]:
    """A store with so many events, each with two games of the bowler and those of five others."""
    store, account = MemoryStore(), Account(uuid4(), "Home", None)
    store.add_account(account)
    for number in range(count):
        day = (FIRST + timedelta(7 * number)).isoformat()
        name = f"Spring Tide {number + 1}"
        toml = FOLDER["event.toml"].replace("2026-10-17", day)
        toml = toml.replace('"Samphire Scratch Singles"', f'"{name}"')
        folder = {
            key: text for key, text in FOLDER.items() if key not in ("scores.csv", "shots.csv")
        }
        record = take_in_event(store, FilePapers(), account.id, folder | {"event.toml": toml})
        assert record.id == event_id(name, day, "Maren Tolvane")
        take_in_scores(store, account.id, record.id, field_of(number))
    return store, account.id


def field_of(number: int) -> list[FieldScore]:
    """Two games of a field; the bowler's own ball by ball."""
    told = [
        FieldScore(f"Entrant {place}", game, 180 + 7 * place + 11 * game + number % 5)
        for place in range(5)
        for game in (1, 2)
    ]
    own = [
        FieldScore("Maren Tolvane", game, score, balls=balls)
        for game, score, balls in ((1, 180, BALLS[0]), (2, 190, BALLS[1]))
    ]
    return told + own
