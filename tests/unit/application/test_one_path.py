"""One shot as asked for: a ball of the locker on one lane of the event."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nextpair.application.cautions import SANDING, STRINGS
from nextpair.application.one_path import roll_one
from nextpair.carry.strings import STRIKES_LOST_SHARE
from nextpair.domain.bowler import Hand
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.house import Pinfall
from nextpair.domain.lane import mirrored_board
from nextpair.domain.shot import PathCard
from nextpair.domain.units import FOOT_M, POUND_KG
from nextpair.physics.dressing import film_of
from nextpair.physics.film import film_line_units
from nextpair.scoring.leaves import leave_text, mirrored_leave, parse_leave
from small_event import mirror_image, small_event, small_sheet

EVENT = small_event()
LEFT_EVENT = mirror_image(EVENT)
BALL = "Slate Weir"


def shot(laydown: float = 22.0, angle: float = 2.9, event=EVENT, ball=BALL, **options) -> PathCard:
    return roll_one(event, ball, laydown, angle, **options)


def test_a_shot_goes_from_its_lay_down_through_target_and_breakpoint_to_the_pins():
    card = shot()
    path = np.array(card.path_boards)
    assert card.status == "rolled to the pins"
    assert path[0] == pytest.approx(22.0, abs=1e-3)
    assert path[15] == pytest.approx(card.target_board, abs=0.02)
    assert path.min() == pytest.approx(card.breakpoint_board, abs=0.05)
    assert path.argmin() == pytest.approx(card.breakpoint_ft, abs=1.5)
    length_ft = EVENT.left_pattern.length_m / FOOT_M
    assert card.exit_board == pytest.approx(np.interp(length_ft, np.arange(60), path), abs=0.05)
    assert card.gutter_ft is None


def test_a_ball_skids_then_hooks_then_rolls():
    card = shot()
    assert card.skid_end_ft is not None
    assert card.hook_end_ft is not None
    assert 0.0 < card.skid_end_ft < card.hook_end_ft <= 60.0
    assert card.entry is not None
    assert 0.0 < card.entry.speed_mph < card.speed_mph
    assert card.flare_in > 0.0
    # Rolling without slip a ball of 27 in turns 26.8 times over 60 ft; it skids at first.
    assert 5.0 < card.revolutions < 26.8


def test_a_duller_cover_skids_less_and_plastic_longest():
    # Common practice: skid shortens with a rougher cover and is longest with a plastic ball.
    rough, own = shot(surface=500).skid_end_ft, shot().skid_end_ft
    plastic = shot(ball="Plain Thimble").skid_end_ft
    assert rough is not None
    assert own is not None
    assert plastic is not None
    assert rough < own < plastic


def test_a_surface_that_has_to_be_put_on_comes_with_its_caution():
    assert shot(surface=500).cautions == (SANDING,)
    assert shot().cautions == ()


def test_a_shot_at_pins_on_strings_strikes_less_and_comes_with_its_caution():
    strung = replace(EVENT, house=replace(EVENT.house, pinfall=Pinfall.STRING))
    free, card = shot(), shot(event=strung)
    assert card.entry == free.entry
    assert card.strike_probability == pytest.approx(
        (1 - STRIKES_LOST_SHARE) * free.strike_probability
    )
    assert [pins for pins, _ in card.leaves] == [pins for pins, _ in free.leaves]
    assert all(
        strung > chance for (_, strung), (_, chance) in zip(card.leaves, free.leaves, strict=True)
    )
    assert card.cautions == (STRINGS,)
    assert shot(event=strung, surface=500).cautions == (STRINGS, SANDING)


def test_chances_of_a_shot_are_chances_with_the_likeliest_leave_first():
    card = shot()
    chances = [chance for _, chance in card.leaves]
    assert chances == sorted(chances, reverse=True)
    assert all(0.0 < chance <= 1.0 for chance in chances)
    assert card.strike_probability + sum(chances) <= 1.0 + 1e-9
    assert all(parse_leave(pins) > 0 for pins, _ in card.leaves)


def test_odds_of_a_ball_lighter_than_any_simulated_say_so():
    assert shot().carry_in_range is True
    light = tuple(replace(ball, mass_kg=10 * POUND_KG) for ball in EVENT.locker)
    assert shot(event=replace(EVENT, locker=light)).carry_in_range is False
    assert shot(10.0, 5.0).carry_in_range is None


def test_a_pocket_hit_strikes_more_often_than_a_miss():
    game = small_sheet().games[0]
    aim = game.line.laydown_board, game.line.launch_angle_deg
    with_its_finish = {"ball": game.ball, "surface": game.surface_grit}
    hit = shot(*aim, **with_its_finish)
    wide = shot(aim[0], aim[1] + 0.7, **with_its_finish)
    assert hit.strike_probability > wide.strike_probability


@pytest.mark.parametrize(
    ("laydown", "angle", "side"),
    [(10.0, 5.0, "on the bowler's side"), (30.0, -5.0, "on the far side")],
)
def test_a_gutter_ball_meets_no_pins(laydown, angle, side):
    card = shot(laydown, angle)
    assert side in card.status
    assert card.entry is None
    assert card.strike_probability == 0.0
    assert card.leaves == ()
    assert card.gutter_ft is not None
    assert 0.0 < card.gutter_ft < 60.0
    assert len(card.path_boards) == int(card.gutter_ft) + 1
    assert all(0.0 <= board <= 40.0 for board in card.path_boards)
    if card.gutter_ft < EVENT.left_pattern.length_m / FOOT_M:
        assert card.exit_board is None


def test_what_lies_beyond_the_gutter_is_not_told():
    early, late = shot(1.5, 9.0), shot(10.0, 5.0)
    assert early.gutter_ft is not None
    assert early.gutter_ft < 15.0
    assert early.target_board is None
    for card in (early, late):
        assert card.breakpoint_board is None
        assert card.breakpoint_ft is None
        # Rolling without slip a ball of 27 in turns once in 2.24 ft; it skids at first.
        assert card.gutter_ft is not None
        assert 0.0 < card.revolutions < card.gutter_ft / 2.24


def test_left_out_the_lane_is_the_left_one_of_the_first_pair_and_the_rest_the_bowlers_own():
    card = shot()
    assert card.lane == EVENT.start_pair.left_lane
    assert card.speed_mph == pytest.approx(17.4)
    assert card.surface_grit == 2000
    assert card == shot(lane=13, speed_mph=17.4)


def test_lanes_that_are_known_to_differ_roll_otherwise():
    assert shot(lane=21).entry != shot(lane=22).entry  # more friction on 21
    assert shot(lane=26).entry != shot(lane=25).entry  # 26 is tilted
    assert shot(lane=13).entry == shot(lane=14).entry


def test_a_ball_thrown_flat_hooks_less():
    # Common practice: less axis rotation, less hook; the spares' lines are thrown so.
    flat, own = shot(axis_rotation_deg=16.0), shot()
    assert flat.axis_rotation_deg == pytest.approx(16.0)
    assert flat.entry.offset_board > own.entry.offset_board
    assert flat.entry.entry_angle_deg < own.entry.entry_angle_deg


def test_more_speed_hooks_less_and_a_rougher_cover_more():
    slow, fast = shot(speed_mph=16.5), shot(speed_mph=18.5)
    assert slow.entry is not None
    assert fast.entry is not None
    assert fast.entry.offset_board > slow.entry.offset_board
    rough, smooth = shot(surface=500), shot(surface="polished")
    assert rough.surface_grit == 500
    assert smooth.surface_grit == "polished"
    assert rough.breakpoint_ft < smooth.breakpoint_ft
    assert rough.path_boards[50] > smooth.path_boards[50] + 1.0


def test_a_pad_by_hand_goes_over_what_the_ball_has():
    own, padded, spun = shot(), shot(surface=500, by_hand=True), shot(surface=500)
    assert (own.surface_by, padded.surface_by, spun.surface_by) == ("spinner", "hand", "spinner")
    for ball_at_50_ft in (own.path_boards[50], spun.path_boards[50]):
        assert abs(padded.path_boards[50] - ball_at_50_ft) > 0.3
    assert own.path_boards[50] < padded.path_boards[50] < spun.path_boards[50]


def test_balls_are_found_whatever_the_case():
    assert shot(ball="  slate WEIR ") == shot()


def test_a_left_handers_shot_is_the_mirror_image():
    right = shot(lane=26)
    left = shot(mirrored_board(22.0), event=LEFT_EVENT, lane=26)
    assert left.hand == "left"
    np.testing.assert_allclose(
        [mirrored_board(board) for board in left.path_boards], right.path_boards, atol=1e-6
    )
    assert mirrored_board(left.exit_board) == pytest.approx(right.exit_board, abs=1e-6)
    assert left.entry == right.entry
    assert left.strike_probability == right.strike_probability
    turned = [(leave_text(mirrored_leave(parse_leave(p))), chance) for p, chance in left.leaves]
    assert turned == list(right.leaves)


def test_the_film_is_the_fresh_one_from_the_right_edge():
    film = film_of(EVENT.left_pattern)
    for feet in (0, 30, 59):
        expected = film_line_units(film, (feet + 0.5) * FOOT_M)
        assert shot().film_units[feet] == expected


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"ball": "No Such Ball"}, "ball"),
        ({"laydown": 0.5}, "laydown"),
        ({"laydown": 39.5}, "laydown"),
        ({"angle": 10.5}, "angle"),
        ({"angle": -5.5}, "angle"),
        ({"angle": float("nan")}, "angle"),
        ({"lane": 0}, "lane"),
        ({"lane": 29}, "lane"),
        ({"speed_mph": 3.0}, "speed"),
        ({"axis_rotation_deg": 130.0}, "axis_rotation"),
        ({"surface": 100}, "surface_grit"),
    ],
)
def test_what_is_not_to_be_had_is_refused_by_name(wrong, field):
    with pytest.raises(InvalidValueError, match=field):
        shot(**wrong)


def test_an_unknown_ball_is_answered_with_the_locker():
    with pytest.raises(InvalidValueError, match="Dunlin Flock"):
        shot(ball="No Such Ball")


def test_another_hand_needs_no_other_event():
    event = replace(EVENT, bowler=replace(EVENT.bowler, hand=Hand.LEFT))
    card = roll_one(event, BALL, 18.0, 2.9)
    assert card.target_board > 18.0
