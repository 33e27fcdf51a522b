"""The planner beside how tournaments are bowled: the rule of 31, sport scores, the spare line.

Expected numbers, with their sources, are in data/tournament_practice.toml. Rules of thumb are not
truths: where the model does not follow one, it is told as not met, with what it does.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from nextpair.domain.ball import Cover
from nextpair.domain.bowler import Hand
from nextpair.domain.lane import BOARDS
from nextpair.domain.units import FOOT_M, MPH_MPS
from nextpair.kernel.layout import bodies_of
from nextpair.kernel.throws import LaneKind
from nextpair.physics.dressing import film_of
from nextpair.physics.film import pattern_ratio, rule_of_31_exit_board, sport_class
from nextpair.planning.doubt import lane_doubt
from nextpair.planning.lines import line_grid, line_values
from nextpair.planning.rotation import last_games
from nextpair.planning.study import doubted_films
from nextpair.planning.traffic import usual_ball
from reference.flat_patterns import flat_pattern, medium_bowler
from reference.record import load_entry
from small_event import SEED, small_event, small_sheet, traffic_of, values_of

PRACTICE = "tournament_practice"
RULE_LENGTHS_FT = tuple(load_entry(PRACTICE, "rule_of_31")["lengths_ft"])


@cache
def computed_exit_board(length_ft: float) -> float:
    """Exit board of the best line on a flat fresh pattern."""
    event = small_event()
    bowler = medium_bowler(event.bowler)
    _, _, pins = values_of(event)
    film = film_of(flat_pattern(length_ft))
    doubt = lane_doubt(8, SEED)
    values = line_values(
        doubted_films(film, film, film, doubt, length_ft * FOOT_M),
        doubt.dry_factor,
        bowler.release,
        bowler.scatter,
        LaneKind(length_ft * FOOT_M),
        bodies_of([usual_ball(Cover.HYBRID)], event.house),
        pins,
        line_grid(bowler.reach, Hand.RIGHT),
    )
    return float(values.exit_board[0][values.best_cell(0)])


def test_the_rule_of_31(record):
    exits = [rule_of_31_exit_board(ft * FOOT_M, Hand.RIGHT) for ft in RULE_LENGTHS_FT]
    record.published(PRACTICE, "rule_of_31", exit_board=exits)


@pytest.mark.parametrize("length_ft", RULE_LENGTHS_FT)
def test_the_patterns_it_is_tried_on_are_flat(length_ft):
    pattern = flat_pattern(length_ft)
    ratio = pattern_ratio(film_of(pattern), pattern.length_m)
    assert 2.0 < ratio < 4.0
    assert sport_class(ratio).value == "sport"


def test_computed_exits_beside_the_rule_of_31(record):
    exits = np.array([computed_exit_board(length_ft) for length_ft in RULE_LENGTHS_FT])
    off = exits - (np.array(RULE_LENGTHS_FT) - 31)
    record.published(
        PRACTICE,
        "computed_exit",
        mean_difference_boards=off.mean(),
    )
    record.unmet(PRACTICE, "computed_exit_each", achieved=float(np.abs(off).mean()))
    slope = np.polyfit(RULE_LENGTHS_FT, exits, 1)[0]
    record.unmet(PRACTICE, "computed_exit_slope", achieved=float(slope))


def test_a_sport_pattern_scores_below_the_house_average(record):
    sheet = small_sheet()
    assert sheet.pattern.sport_class == "sport"
    average = load_entry(PRACTICE, "sport_average")["house_average"]
    assert small_event().bowler.average == average
    score = np.mean([game.expected_score for game in sheet.games])
    record.published(PRACTICE, "sport_average", pins_below=average - score)


def test_a_ball_loses_speed_on_its_way(record):
    release_mph = small_event().bowler.release.speed_mps / MPH_MPS
    entries = [lane.entry.speed_mph for game in small_sheet().games for lane in game.lanes]
    # The change from sliding to rolling alone takes 2.9 mph of this release, by the momentum about
    # the contact; air and rolling resistance take the rest.
    record.unmet(PRACTICE, "speed_loss", achieved=release_mph - np.mean(entries))


def test_the_corner_pin_is_shot_across_the_lane(record):
    spare = small_sheet().practice[-1]
    record.published(
        PRACTICE,
        "corner_pin_line",
        slide_board=spare.line.slide_board,
        target_board=spare.line.target_board,
    )


def test_the_side_with_less_traffic_holds_longer():
    """[facts] section 8: far less traffic on the left side, so it holds longer; READ, weak."""
    event = replace(small_event(), games=3, move_pairs=1)
    hands = [entrant.hand for entrant in event.squad]
    assert hands.count(Hand.RIGHT) > 2 * hands.count(Hand.LEFT)
    films = traffic_of(event, values_of(event)[2])
    taken = sum(
        films.fresh[lane] - films.at(lane, game + 1)
        for pair, game in last_games(event).items()
        for lane in pair.lanes
    )[40:]
    right, left = taken[:, : BOARDS // 2].sum(), taken[:, -(BOARDS // 2) :].sum()
    assert right > 1.2 * left > 0.0
