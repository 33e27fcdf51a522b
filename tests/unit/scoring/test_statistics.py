"""Counts of strikes, spares, splits and opens."""

from __future__ import annotations

from nextpair.scoring.notation import parse_game
from nextpair.scoring.statistics import Counts, counts, racks


def test_fill_balls_meet_racks_of_their_own():
    met = list(racks(parse_game("9-, 9-, 9-, 9-, 9-, 9-, 9-, 9-, 9-, X 9 /")))
    assert [(rack.first.pins, rack.is_spare) for rack in met[-2:]] == [(10, False), (9, True)]
    assert [rack.frame for rack in met] == [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 10]


def test_a_last_fill_ball_is_no_open():
    game = parse_game("X, X, X, X, X, X, X, X, X, 9 / 8")
    assert list(racks(game))[-1].second is None
    assert counts([game]).opens == 0


def test_a_spare_still_to_be_shot_does_not_count():
    assert counts([parse_game("X, 7")]).first_balls == 1


def test_everything_is_counted_over_all_games():
    first = parse_game("X, (8)/, (7) 2, F 9, 9 F, -/, 9-")
    second = parse_game("X, X")
    assert counts([first, second]) == Counts(
        first_balls=9,
        first_ball_pins=10 + 8 + 7 + 0 + 9 + 0 + 9 + 10 + 10,
        strikes=3,
        spare_tries=6,
        spares=2,
        splits=2,
        splits_made=1,
        fouls=2,
    )
    assert counts([first, second]).opens == 4
