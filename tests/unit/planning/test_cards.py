"""Cards: boards from the right edge, slides, moves and chances that fit each other."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from nextpair.domain.bowler import Hand
from nextpair.domain.lane import BOARD_M, BOARDS, CENTRE_BOARD, mirrored_board
from nextpair.domain.sheet import GameCard, LineCard
from nextpair.domain.units import FOOT_M
from nextpair.kernel.layout import own_frame
from nextpair.physics.film import film_line_units
from nextpair.planning.rotation import ShotsBefore, shots_before
from small_event import small_event, small_sheet, small_workings

BOTH_HANDS = pytest.mark.parametrize("hand", list(Hand))
SLIDE_BOARDS = small_event().bowler.slide_to_laydown_boards


def lines_of(game: GameCard) -> list[LineCard]:
    lines = [game.line, *(lane.line for lane in game.lanes)]
    return lines + ([game.fallback.line] if game.fallback else [])


def all_lines(hand: Hand) -> list[LineCard]:
    sheet = small_sheet(hand)
    return [
        *(line for game in sheet.games for line in lines_of(game)),
        *(shot.line for shot in sheet.practice),
    ]


@BOTH_HANDS
def test_the_foot_slides_to_the_hands_side_of_the_lay_down(hand):
    """Toward the inside: more boards from the right edge for a right-hander, fewer for a left."""
    for line in all_lines(hand):
        assert line.slide_board == pytest.approx(line.laydown_board + hand.sign * SLIDE_BOARDS)


def test_a_left_handers_boards_count_from_the_right_edge():
    names = ("laydown_board", "slide_board", "target_board", "breakpoint_board", "exit_board")
    for right, left in zip(all_lines(Hand.RIGHT), all_lines(Hand.LEFT), strict=True):
        for name in names:
            mirrored = mirrored_board(getattr(left, name))
            assert getattr(right, name) == pytest.approx(mirrored, abs=1e-6)
        for name in ("launch_angle_deg", "breakpoint_ft", "speed_mph"):
            assert getattr(right, name) == pytest.approx(getattr(left, name), abs=1e-6)
    assert all(line.exit_board < 20 for line in all_lines(Hand.RIGHT))
    assert all(line.exit_board > 20 for line in all_lines(Hand.LEFT))


@BOTH_HANDS
def test_a_line_is_one_path(hand):
    """It starts at the lay-down, crosses its target at the arrows and is widest at its break."""
    for lane in (lane for game in small_sheet(hand).games for lane in game.lanes):
        path = np.array(lane.path_boards)
        assert path.shape == (60,)
        assert path[0] == pytest.approx(lane.line.laydown_board, abs=1e-3)
        assert path[15] == pytest.approx(lane.line.target_board, abs=0.02)
        outermost = path.min() if hand is Hand.RIGHT else path.max()
        assert outermost == pytest.approx(lane.line.breakpoint_board, abs=0.05)
        feet = path.argmin() if hand is Hand.RIGHT else path.argmax()
        assert feet == pytest.approx(lane.line.breakpoint_ft, abs=2.0)
        swing = hand.sign * (lane.line.laydown_board - lane.line.target_board)
        assert np.sign(swing) == np.sign(lane.line.launch_angle_deg)


@BOTH_HANDS
def test_bands_run_from_low_to_high_about_the_path(hand):
    for lane in (lane for game in small_sheet(hand).games for lane in game.lanes):
        low, high = np.array(lane.band_boards).T
        assert np.all(low <= np.array(lane.path_boards))
        assert np.all(np.array(lane.path_boards) <= high)


@BOTH_HANDS
def test_a_ball_meets_the_pins_at_the_end_of_its_path(hand):
    for lane in (lane for game in small_sheet(hand).games for lane in game.lanes):
        at_59_ft = hand.sign * (CENTRE_BOARD - lane.path_boards[-1])
        # In the last foot it goes on at the entry angle.
        rest = FOOT_M / BOARD_M * np.tan(np.radians(lane.entry.entry_angle_deg))
        assert at_59_ft - rest == pytest.approx(lane.entry.offset_board, abs=1.0)


@BOTH_HANDS
def test_films_are_told_from_the_right_edge_in_units(hand):
    work = small_workings()
    for game in small_sheet(hand).games:
        for lane in game.lanes:
            film = work.films.at(lane.lane, game.game)
            seen = own_frame(film, hand)
            assert set(lane.film_units_at) == {"10", "25", "40"}
            for feet, units in lane.film_units_at.items():
                assert len(units) == BOARDS
                np.testing.assert_allclose(
                    units, film_line_units(seen, int(feet) * FOOT_M), atol=1e-6
                )
            assert np.array(lane.film_units).shape == (60, BOARDS)


@BOTH_HANDS
def test_moves_are_the_differences_of_the_cards_toward_the_inside(hand):
    games = small_sheet(hand).games
    assert games[0].move_from_previous_game is None
    for before, now in pairwise(games):
        move = now.move_from_previous_game
        assert move is not None
        feet = now.line.laydown_board - before.line.laydown_board
        target = now.line.target_board - before.line.target_board
        assert move.feet_boards == pytest.approx(hand.sign * feet, abs=1e-9)
        assert move.target_boards == pytest.approx(hand.sign * target, abs=1e-9)
        assert move.ball_change is (now.ball != before.ball)


@BOTH_HANDS
def test_a_game_is_told_by_its_left_lane_and_its_pair(hand):
    for game in small_sheet(hand).games:
        assert game.pair == f"{game.lanes[0].lane}-{game.lanes[1].lane}"
        assert game.line == game.lanes[0].line
        assert game.entry == game.lanes[0].entry
        strikes = [lane.strike_probability for lane in game.lanes]
        assert game.strike_probability == pytest.approx(np.mean(strikes))


def test_shots_before_are_counted_by_hand():
    event = small_event()
    for game in small_sheet().games:
        assert shots_before(event, game.game) == ShotsBefore(
            game.shots_before_on_my_side,
            game.shots_before_other_side,
            game.shots_before_unknown_side,
            game.shots_before_by_earlier_squads,
        )
    assert small_sheet().games[1].shots_before_on_my_side == 0
    assert small_sheet().games[1].shots_before_other_side > 0


@BOTH_HANDS
def test_chances_and_scores_fit_each_other(hand):
    for game in small_sheet(hand).games:
        assert 0.0 < game.strike_probability < 1.0
        assert 0.0 < game.spare_probability < 1.0
        low, high = game.score_interval_80
        assert 0 <= low < game.expected_score < high <= 300
        assert high - low > 30  # one bowler's games spread by 26 to 30 pins: [facts] section 9


@BOTH_HANDS
def test_reasons_speak_of_the_shots_before_and_the_pair(hand):
    for game in small_sheet(hand).games:
        words = " ".join(game.why)
        assert game.pair in words
        assert game.ball in words
        if game.shots_before_on_my_side:
            assert f"{game.shots_before_on_my_side} shots by {hand.value}-handers" in words
        else:
            assert f"no {hand.value}-hander before you" in words
        assert f"{game.shots_before_other_side} " in words
        assert f"{game.strike_probability:.0%}" in words


def test_left_handers_reasons_are_the_right_handers_with_the_sides_swapped():
    def swapped(words: str) -> str:
        return words.replace("right", "\0").replace("left", "right").replace("\0", "left")

    def said(hand: Hand) -> list[str]:
        sheet = small_sheet(hand)
        found = [*(shot.why for shot in sheet.practice), sheet.second_opinion]
        for game in sheet.games:
            found += [*game.why, *([game.fallback.when] if game.fallback else [])]
        return [words.replace("are left under", "stay under") for words in found]

    assert [swapped(words) for words in said(Hand.LEFT)] == said(Hand.RIGHT)


@BOTH_HANDS
def test_practice_fits_its_minutes_with_the_spare_last(hand):
    event, shots = small_event(), small_sheet(hand).practice
    minutes = [shot.minute for shot in shots]
    assert minutes[0] == 0.0
    assert minutes == sorted(minutes)
    assert minutes[-1] < event.practice_s / 60
    assert [shot.ball for shot in shots].count("Plain Thimble") == 1
    assert shots[-1].ball == "Plain Thimble"
    assert {shot.lane for shot in shots} == {13, 14}
    for before, now in pairwise(shots):
        assert now.minute - before.minute >= before.shots * 22.0 / 60
