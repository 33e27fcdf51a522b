"""Statistics against a printed sheet counted by hand, and shares of professionals against what is
known of so large samples.

All expected numbers, with their sources, are in data/game_counts.toml.
"""

from __future__ import annotations

import math

import pytest

from nextpair.application.game_statistics import PlayedGame, statistics_of
from nextpair.application.intervals import share_interval
from nextpair.scoring.notation import parse_game
from reference.record import load_entry

COUNTS = "game_counts"
NORMAL_TENTH = 1.2815515655446004
"""A normal deviation that a tenth lies beyond: tables of the normal distribution."""


def pair(share) -> list[int]:
    return [share.made, share.tried]


def test_a_printed_game_is_counted_as_by_hand(record):
    game = parse_game(load_entry(COUNTS, "rule_book_game")["game"])
    stats = statistics_of([PlayedGame(1, game)])
    rates = stats.all
    runs = {run.strikes: run.times for run in stats.strings}
    kinds = {kind.kind: pair(kind.spares) for kind in rates.by_kind}
    record.published(
        COUNTS,
        "rule_book_game",
        full_racks=rates.strikes.tried,
        strikes=rates.strikes.made,
        first_ball_pins=rates.first_ball.mean_pins * rates.first_ball.count,
        spare_tries=rates.spares.tried,
        spares=rates.spares.made,
        frames_filled=rates.frames_filled.made,
        opens=rates.opens,
        strings_of_2_and_3=[runs[2], runs[3]],
        strikes_after_a_strike=pair(stats.strike_after_strike),
        strikes_after_another_ball=pair(stats.strike_after_other),
        single_pins=kinds["single-pin"],
        splits=kinds["split"],
        fouls_first_ball=kinds["makeable"],
        not_told=kinds["not told"],
    )


@pytest.mark.parametrize("what", ["strikes", "ten_pins"])
def test_an_interval_of_thousands_is_that_of_the_normal_curve(what):
    made, tried = load_entry(COUNTS, "tour")[what]
    share = made / tried
    reach = NORMAL_TENTH * math.sqrt(share * (1 - share) / tried)
    _, low, high = share_interval(made, tried)
    # Half a success added to so many moves the ends by less than a tenth of the reach.
    assert (low, high) == pytest.approx((share - reach, share + reach), abs=reach / 10)


def test_a_leave_never_made_in_53_tries_may_still_be_made_now_and_then():
    made, tried = load_entry(COUNTS, "tour")["seven_tens"]
    _, low, high = share_interval(made, tried)
    # In 447,000 frames it was made once in 145 times: the same source's other figure.
    assert low <= 1 / 145 <= high


def test_35_tries_leave_half_open_how_often_a_split_is_made():
    made, tried = load_entry(COUNTS, "tour")["three_tens"]
    _, low, high = share_interval(made, tried)
    assert low < made / tried < high
    assert high - low > 0.2
