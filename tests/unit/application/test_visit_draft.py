"""A visit drafted out of an event's log and read."""

from __future__ import annotations

import math
from dataclasses import replace
from uuid import UUID, uuid4

import pytest

from event_folder import DEMO
from logged_games import logged_frame
from nextpair.application.events import take_in_event
from nextpair.application.house_book import (
    add_visit,
    house_friction,
    take_back_visit,
    visits_of,
)
from nextpair.application.scores import scores_of
from nextpair.application.store import Account
from nextpair.application.visit_draft import draft_visit, learned_of, visit_from_read
from nextpair.domain.belief import Draws
from nextpair.domain.bowler import Hand
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.house import LaneTrait
from nextpair.domain.house_book import LONGEST_NOTE
from nextpair.files import FilePapers, load_event
from nextpair.store.memory import MemoryStore
from unit.reports.read_factory import a_read

FILES = {path.name: path.read_text("utf-8") for path in DEMO.iterdir() if path.is_file()}
EVENT = load_event(DEMO / "event.toml")
DRAWS = Draws(
    ("dry_log", "film_log", "lane_13_dry_log", "lane_14_dry_log", "lane_13_film_log"),
    ((0.02, 0.1, 0.01, 0.0, 0.5), (0.08, 0.2, 0.02, -0.02, 0.6)),
)
READ = replace(a_read(), draws=DRAWS)


def strikes(game, laydown_board, target_board, ball, frames=5):
    return [
        shot
        for frame in range(1, frames + 1)
        for shot in logged_frame(
            game, frame, [""], laydown_board=laydown_board, target_board=target_board, ball=ball
        )
    ]


SHOTS = [
    *strikes(1, 24.0, 17.0, "Kestrel"),
    *strikes(2, 24.4, 17.2, "Kestrel", 3),
    *strikes(3, 28.0, 19.0, "Kestrel", 4),
    *strikes(4, 28.0, 19.0, "Ember", 2),
]


def test_a_visit_says_what_was_played_and_how_it_went_on():
    visit = visit_from_read(EVENT, READ, SHOTS)
    assert (visit.date, visit.event, visit.pattern) == (
        EVENT.date,
        EVENT.name,
        EVENT.left_pattern.name,
    )
    assert visit.played == (
        "24.1 at the foul line to 17.1 at the arrows with Kestrel, 8 first balls; "
        "28.0 at the foul line to 19.0 at the arrows with Kestrel, 6 first balls"
    )
    assert visit.changed == "game 3: feet 3.6 in, target 1.8 in; game 4: Ember for Kestrel"


def test_in_is_toward_the_bowlers_inside_for_either_hand():
    bowler = replace(EVENT.bowler, hand=Hand.LEFT)
    event = replace(EVENT, bowler=bowler, squad=EVENT.squad)
    assert "feet 3.6 out" in visit_from_read(event, None, SHOTS).changed


def test_what_lay_on_the_lanes_is_measured():
    """By hand: the volume that a pattern's passes lay."""
    visit = visit_from_read(EVENT, None)
    laid_ml = sum(one.volume_ul for one in EVENT.left_pattern.passes) / 1000
    assert visit.volume_ml == pytest.approx(laid_ml, abs=0.02)
    pair = replace(EVENT, right_pattern=replace(EVENT.right_pattern, name="Other"))
    assert visit_from_read(pair, None).pattern == f"{EVENT.left_pattern.name} / Other"
    assert visit_from_read(pair, None).volume_ml is None


def test_learned_are_the_frictions_of_a_read_and_nothing_else():
    shared, lane_13, lane_14 = learned_of(DRAWS)
    assert [shared.name, lane_13.name, lane_14.name] == [
        "dry_log",
        "lane_13_dry_log",
        "lane_14_dry_log",
    ]
    assert (shared.before_mean, shared.before_sd) == (0.0, 0.07)
    assert (shared.mean, shared.sd) == pytest.approx((0.05, 0.03))
    assert (lane_14.mean, lane_14.sd) == pytest.approx((-0.01, 0.01))


def test_a_visit_keeps_the_frictions_that_its_read_began_from():
    traits = (LaneTrait(13, friction=1.04), LaneTrait(20, tilt_m=0.001))
    event = replace(EVENT, house=replace(EVENT.house, friction=1.02, traits=traits))
    visit = visit_from_read(event, READ)
    assert (visit.friction, visit.lane_friction) == (1.02, ((13, 1.04),))
    told = house_friction(event.house, [visit]).house.said[0]
    assert told.factor == pytest.approx(1.02 * math.exp(0.05))


def test_words_that_do_not_fit_are_left_out_whole():
    shots = [
        shot
        for game in range(1, 60)
        for shot in strikes(game, 20.0 + 8 * (game % 2), 15.0, "Kestrel", 1)
    ]
    changed = visit_from_read(EVENT, None, shots).changed
    assert 500 < len(changed) <= LONGEST_NOTE
    assert changed.endswith((" in", " out"))


@pytest.fixture
def kept():
    """Store, account, event and house."""
    store, account = MemoryStore(), Account(uuid4(), "home", None)
    store.add_account(account)
    record = take_in_event(store, FilePapers(), account.id, FILES)
    return store, account.id, record.id, UUID(record.document["house"])


def test_an_event_that_is_kept_is_drafted_from_its_log(kept):
    store, account, event, house = kept
    visit = draft_visit(store, account, event, EVENT, house, READ)
    games = scores_of(store.log(account, event), EVENT.bowler_name).bowler
    finished = [game.total for game in games if game.total is not None]
    assert (visit.games, visit.pins) == (len(finished), sum(finished))
    assert visit.event_id == event
    assert len(visit.learned) == 3
    assert "Candle Stub, 8 first balls" in visit.played


def test_a_second_draft_is_the_same_visit_with_its_notes(kept):
    store, account, event, house = kept
    first = draft_visit(store, account, event, EVENT, house, READ)
    first = replace(first, notes="cold by the door", private=True, lanes=((13, "early"),))
    add_visit(store, account, house, first)
    assert visits_of(store, account, house) == (first,)
    assert draft_visit(store, account, event, EVENT, house, READ) == first
    later = replace(EVENT, house=replace(EVENT.house, friction=1.04))
    without = draft_visit(store, account, event, later, house, None)
    assert without == first
    again = draft_visit(store, account, event, later, house, READ)
    assert (again.id, again.friction) == (first.id, 1.04)


def test_two_drafts_at_once_write_one_visit(kept):
    store, account, event, house = kept
    first, second = (draft_visit(store, account, event, EVENT, house, None) for _ in range(2))
    add_visit(store, account, house, first)
    with pytest.raises(InvalidValueError, match="not in the book yet"):
        add_visit(store, account, house, second)
    assert visits_of(store, account, house) == (first,)
    take_back_visit(store, account, house, first.id)
    anew = add_visit(store, account, house, draft_visit(store, account, event, EVENT, house, None))
    assert visits_of(store, account, house) == (anew,)
