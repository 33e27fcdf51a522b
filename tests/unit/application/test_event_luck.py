"""Luck of an event's games: what is expected, by the sheet or by one's own usual."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from event_folder import DEMO
from logged_games import logged_game
from nextpair.application.entry_chances import Entering, chances_of, mixed, usual_entering
from nextpair.application.event_luck import (
    BY_LEAVES,
    BY_SHEET,
    BY_USUAL,
    PARTLY_SEEN,
    SPARES_BY_RECORD,
    SPARES_BY_SHEET,
    event_luck,
)
from nextpair.carry.table import load_table
from nextpair.domain.bowler import Hand
from nextpair.domain.sight import ENTRY_ERROR_BOARDS
from nextpair.files import load_event
from nextpair.scoring.leaves import mirrored_leave
from unit.reports.sheet_factory import a_sheet
from unit.reports.spare_factory import a_spare_sheet

EVENT = load_event(DEMO / "event.toml")
POCKET = Entering(2.5, 1.0)
FRAMES = [["10", ""], [""], [""], ["3-10", "10"], ["7", "7"]] * 2
FRAMES[-1] = ["", "6-10", ""]
SEEN = logged_game(1, FRAMES, entry_board=17.5)
UNSEEN = logged_game(2, FRAMES)


def added(luck) -> float:
    parts = (luck.line_pins, luck.carry_pins, luck.line_and_carry_pins, luck.spares_pins)
    return sum(part for part in parts if part is not None)


def test_chances_of_an_entry_add_up_and_are_the_other_hands_mirrored():
    right, left = (chances_of(load_table(), hand, POCKET) for hand in Hand)
    assert sum(right.values()) == pytest.approx(1, abs=1e-6)
    assert {mirrored_leave(leave): chance for leave, chance in left.items()} == right


def test_what_is_seen_of_many_balls_comes_to_what_was_expected():
    """Balls come in as expected and are seen as well as one sees: the chances at what was seen
    are, in the mean, those that were expected, so that no luck is made of poor sight."""
    rng = np.random.default_rng(5)
    entered = rng.normal(POCKET.middle_boards, POCKET.spread_boards, 1200)
    seen = entered + rng.normal(0, ENTRY_ERROR_BOARDS, len(entered))
    given = [chances_of(load_table(), Hand.RIGHT, POCKET.given(boards))[0] for boards in seen]
    error = np.std(given, ddof=1) / len(given) ** 0.5
    assert np.mean(given) == pytest.approx(
        chances_of(load_table(), Hand.RIGHT, POCKET)[0], abs=3 * error
    )


def test_a_ball_that_was_seen_is_known_better_than_one_that_was_not():
    given = POCKET.given(4.0)
    assert POCKET.middle_boards < given.middle_boards < 4.0
    assert given.spread_boards < min(POCKET.spread_boards, ENTRY_ERROR_BOARDS)


def test_the_usual_spread_is_less_than_what_is_seen_of_it():
    seen = [0.0, 2.5, 5.0]
    assert usual_entering(seen).middle_boards == 2.5
    assert usual_entering(seen).spread_boards < np.std(seen, ddof=1)


def test_several_chances_mix_evenly():
    assert mixed([{0: 1.0}, {0: 0.5, 3: 0.5}]) == {0: 0.75, 3: 0.25}


def test_without_a_sheet_the_line_is_held_against_the_usual_one():
    luck = event_luck(EVENT, SEEN)
    (game,) = luck.games
    # Every ball came in alike, so each is as the usual one: no luck with the line.
    assert game.line_pins == pytest.approx(0, abs=1e-6)
    assert added(game) == pytest.approx(game.score - game.expected_score)
    assert BY_USUAL in luck.notes
    assert SPARES_BY_RECORD in luck.notes


def test_with_a_sheet_it_is_held_against_what_was_planned():
    sheet = a_sheet()
    card = sheet.games[0]
    low, high = card.lanes[0].band_boards[-1]
    assert high > low
    lanes = tuple(
        replace(lane, lane=number) for lane, number in zip(card.lanes, (13, 14), strict=True)
    )
    sheet = replace(sheet, games=(replace(card, game=1, lanes=lanes),))
    flush, wide = (
        event_luck(EVENT, logged_game(1, FRAMES, entry_board=board), sheet)
        for board in (17.5, 10.0)
    )
    assert flush.games[0].expected_score == wide.games[0].expected_score
    assert flush.games[0].line_pins > wide.games[0].line_pins + 20
    assert BY_SHEET in flush.notes
    assert BY_USUAL not in flush.notes


def test_where_too_little_was_seen_line_and_carry_stand_together():
    luck = event_luck(EVENT, UNSEEN)
    (game,) = luck.games
    assert (game.line_pins, game.carry_pins, game.seen) == (None, None, 0)
    assert added(game) == pytest.approx(game.score - game.expected_score)
    assert {BY_LEAVES, PARTLY_SEEN} <= set(luck.notes)


def test_games_seen_and_unseen_stand_side_by_side():
    seen, unseen = event_luck(EVENT, [*SEEN, *UNSEEN]).games
    assert (seen.line_and_carry_pins, unseen.line_pins) == (None, None)
    assert seen.expected_score == pytest.approx(unseen.expected_score)


def test_spares_are_held_against_the_chances_of_the_event_where_there_are_any():
    likely = a_spare_sheet()
    card = likely.spares[0]
    sure = replace(
        likely,
        spares=tuple(
            replace(card, leave=leave, best=replace(card.best, probability=chance))
            for leave, chance in (("10", 1.0), ("3-10", 0.0), ("7", 0.0), ("6-10", 1.0))
        ),
    )
    luck = event_luck(EVENT, SEEN, spares=sure)
    # Made what was sure, and missed what was hopeless with the pins that a miss takes.
    assert luck.games[0].spares_pins == pytest.approx(0, abs=1e-6)
    assert SPARES_BY_SHEET in luck.notes


def test_a_game_under_way_has_none_yet():
    luck = event_luck(EVENT, logged_game(1, FRAMES[:9]))
    assert (luck.games, luck.notes) == ((), ())
