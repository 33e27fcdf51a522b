"""The demo season: whole, in order, alive on every screen, and easily put away again."""

from __future__ import annotations

from datetime import date
from functools import cache
from uuid import UUID, uuid4

import pytest

from event_folder import DEMO
from nextpair.application.demo_season import (
    BOWLER,
    DemoSeason,
    kept_events,
    put_season_away,
    read_season,
    take_in_season,
)
from nextpair.application.diary import diary_of
from nextpair.application.events import bundle_of, take_in_event
from nextpair.application.home_jottings import jot
from nextpair.application.house_book import visits_of
from nextpair.application.keeping import LIBRARY_MARK
from nextpair.application.lessons import accepted_lessons, put_to_rest
from nextpair.application.own_games import own_games
from nextpair.application.pattern_notes import attack_notes, pattern_log
from nextpair.application.scores import scores_of
from nextpair.application.shot_jottings import NotedShot
from nextpair.application.store import Account
from nextpair.domain.jotting import JottingKind
from nextpair.domain.lesson import LONGEST_WORDS
from nextpair.domain.record import Draft, Kind
from nextpair.files import FilePapers
from nextpair.store.memory import MemoryStore

PAPERS = FilePapers()
TODAY = date(2026, 11, 28)
LARGEST_BYTES = 1_500_000


@cache
def season() -> DemoSeason:
    files = {
        path.relative_to(DEMO).as_posix(): path.read_text("utf-8")
        for path in DEMO.rglob("*")
        if path.is_file()
    }
    return read_season(PAPERS, files)


@pytest.fixture
def store() -> MemoryStore:
    return MemoryStore()


@pytest.fixture
def owner(store) -> UUID:
    account = Account(uuid4(), "home", None)
    store.add_account(account)
    return account.id


def library_log(note) -> bool:
    """Whether a note is in the log of a pattern of the library."""
    return note.event not in {draft.id for draft in season().drafts}


def everything(store, owner):
    """Revisions of all records, and how much each log holds."""
    records = (*store.records(owner), *store.records(owner, deleted=True))
    logs = {event: len(store.log(owner, event)) for event in store.logged_events(owner)}
    return {record.id: record.revision for record in records}, logs


def test_it_has_what_a_season_has():
    bundles = [event.brought.bundle for event in season().events]
    past = [one for one in bundles if date.fromisoformat(one.event["date"]) < TODAY]
    houses = {one.house["name"]: one.house for one in past}
    assert len(past) >= 6
    assert len(bundles) - len(past) == 2
    assert len(houses) >= 4
    for key in ("surface", "approach", "pinfall"):
        assert len({house[key] for house in houses.values()}) >= 2
    patterns = {
        pattern if isinstance(pattern, str) else pattern["name"]
        for one in bundles
        for pattern in (one.left_pattern, one.right_pattern)
        if pattern is not None
    }
    assert len(patterns) >= 5
    coming = [one for one in bundles if one not in past]
    assert all("entry_deadline" in one.event for one in coming)
    assert [one.house["name"] in houses for one in coming] == [True, False]
    assert [len(one.squad) in range(12, 31) for one in bundles] == [True] * len(bundles)
    kinds = [draft.kind for draft in season().drafts]
    assert kinds.count(Kind.GOAL) == 3
    assert kinds.count(Kind.KIT) == 1


def test_every_record_of_it_is_in_order(store, owner):
    take_in_season(store, PAPERS, owner, season())
    for record in store.records(owner):
        PAPERS.check(record.kind, record.document)
    for record in store.records(owner, Kind.EVENT):
        PAPERS.event(bundle_of(store, owner, record.id))


def test_shots_and_scores_of_every_past_event_agree():
    for event in season().events:
        brought = event.brought
        if date.fromisoformat(brought.bundle.event["date"]) >= TODAY:
            assert brought.shots == brought.scores == ()
            continue
        problems = []
        shots = [NotedShot(shot, foul=False) for shot in brought.shots]
        games = own_games(shots, (), PAPERS.event(brought.bundle).format.counting, problems)
        said = {one.game: one.score for one in brought.scores if one.name == BOWLER}
        assert problems == []
        assert {game.game: game.total for game in games} == said
        assert len(said) == brought.bundle.event["games"]
        assert len({one.name for one in brought.scores}) >= 40


def test_logs_tell_no_problem(store, owner):
    for record in take_in_season(store, PAPERS, owner, season()):
        assert scores_of(store.log(owner, record.id), BOWLER).problems == ()


def test_taken_in_twice_nothing_changes(store, owner):
    first = take_in_season(store, PAPERS, owner, season())
    before = everything(store, owner)
    assert take_in_season(store, PAPERS, owner, season()) == first
    assert everything(store, owner) == before


def test_what_the_user_did_since_stays(store, owner):
    take_in_season(store, PAPERS, owner, season())
    [catkin, *_] = kept_events(store, owner)
    lesson = next(one for one in accepted_lessons(store, owner) if one.event == catkin.name)
    put_to_rest(store, owner, catkin.id, lesson.key)
    [house, *_] = store.records(owner, Kind.HOUSE)
    renamed = {**house.document, "name": "Another name"}
    store.save(
        owner, Draft(house.id, Kind.HOUSE, "Another name", renamed, house.links), house.revision
    )
    before = everything(store, owner)
    take_in_season(store, PAPERS, owner, season())
    assert everything(store, owner) == before


def test_every_part_has_something_to_show(store, owner):
    events = take_in_season(store, PAPERS, owner, season())
    visits = [
        visit
        for house in store.records(owner, Kind.HOUSE)
        for visit in visits_of(store, owner, house.id)
    ]
    assert len(visits) >= 6
    assert all(visit.games and visit.pins and visit.played for visit in visits)
    assert any(visit.learned for visit in visits)
    assert {visit.private for visit in visits} == {True, False}
    lessons = accepted_lessons(store, owner)
    assert len(lessons) >= 4
    assert all(len(one.words) <= LONGEST_WORDS for one in lessons)
    assert sum(len(diary_of(store.log(owner, event.id))) > 0 for event in events) >= 6
    balls = store.records(owner, Kind.BALL)
    assert any("layout_history" in ball.document for ball in balls)
    for ball in balls:
        for change in ball.document.get("surface_history", ())[-1:]:
            assert change["surface_grit"] == ball.document["surface_grit"]
    assert store.records(owner, Kind.BOWLER)[0].document["care"]["straps"]


def test_put_away_nothing_of_it_is_left_and_taken_in_again_all_is_back(store, owner):
    take_in_season(store, PAPERS, owner, season())
    kept = {record.id for record in store.records(owner)}
    put_season_away(store, owner, season())
    assert store.records(owner) == ()
    assert accepted_lessons(store, owner) == ()
    take_in_season(store, PAPERS, owner, season())
    assert {record.id for record in store.records(owner)} == kept


def library_notes(store, owner):
    logs = [pattern_log(f"{LIBRARY_MARK} {name}") for name in ("Long Fetch 45", "Mill Race 35")]
    return [note.text for log in logs for note in attack_notes(store, owner, log)]


def test_notes_on_the_librarys_patterns_go_and_come_with_it(store, owner):
    for _ in range(3):
        take_in_season(store, PAPERS, owner, season())
        assert len(library_notes(store, owner)) == 1
        put_season_away(store, owner, season())
        assert library_notes(store, owner) == []


def test_a_note_that_the_user_wrote_anew_or_took_back_stays_so(store, owner):
    take_in_season(store, PAPERS, owner, season())
    [note] = [one for one in season().notes if library_log(one)]
    told = {**note.payload, "text": "My own words."}
    mine = jot(store, owner, note.event, JottingKind.NOTE, told, supersedes=note.id)
    put_season_away(store, owner, season())
    take_in_season(store, PAPERS, owner, season())
    assert library_notes(store, owner) == ["My own words."]
    jot(store, owner, note.event, JottingKind.VOID, {}, supersedes=mine.id)
    take_in_season(store, PAPERS, owner, season())
    assert library_notes(store, owner) == []


def test_put_away_leaves_what_something_else_needs(store, owner):
    take_in_season(store, PAPERS, owner, season())
    [event, *_] = kept_events(store, owner)
    own = Draft(uuid4(), Kind.EVENT, "My own", {**event.document, "name": "My own"}, event.links)
    store.save(owner, own, None)
    put_season_away(store, owner, season())
    assert own.id in {record.id for record in store.records(owner)}
    for needed in own.links:
        assert not store.record(owner, needed).deleted


def test_an_event_that_was_there_before_stays_as_it_is(store, owner):
    files = {path.name: path.read_text("utf-8") for path in DEMO.glob("*.*")}
    before = take_in_event(store, PAPERS, owner, files)
    log = store.log(owner, before.id)
    events = take_in_season(store, PAPERS, owner, season())
    assert before.id not in {event.id for event in events}
    assert store.record(owner, before.id) == before
    assert store.log(owner, before.id) == log
    put_season_away(store, owner, season())
    assert not store.record(owner, before.id).deleted


def test_its_ids_are_the_same_everywhere(store, owner):
    other = MemoryStore()
    account = Account(uuid4(), "home", None)
    other.add_account(account)
    for here, who in ((store, owner), (other, account.id)):
        take_in_season(here, PAPERS, who, season())
    assert everything(store, owner) == everything(other, account.id)


def test_it_is_small():
    sizes = [path.stat().st_size for path in (DEMO / "season").rglob("*") if path.is_file()]
    assert sum(sizes) < LARGEST_BYTES
