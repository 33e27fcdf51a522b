"""What moves a shot: told as it is when the shot is rolled again with the change made."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import pytest

from nextpair.application.one_path import roll_one
from nextpair.domain.ball import BALL_RADIUS_M
from nextpair.domain.bowler import Release
from nextpair.domain.event import Event
from nextpair.domain.lane import ARROWS_M, BOARD_M, END_PLANE_M, mirrored_board
from nextpair.domain.shot import Effect
from nextpair.domain.units import DEGREE_RAD, FOOT_M, INCH_M, MPH_MPS, RPM_RADPS
from small_event import mirror_image, small_event

EVENT = small_event()
BALL = "Slate Weir"
LAYDOWN, ANGLE = 22.0, 2.9


@cache
def effects(lane: int = 13) -> dict[str, Effect]:
    card = roll_one(EVENT, BALL, LAYDOWN, ANGLE, lane=lane)
    return {effect.parameter: effect for effect in card.what_moves_it}


def at_pins(event: Event = EVENT, laydown: float = LAYDOWN, angle: float = ANGLE, **options):
    """Board at the head pin's row, angle over the last turn, and target of one shot."""
    turn_m = 2 * math.pi * BALL_RADIUS_M
    last_turn_ft = ((END_PLANE_M - turn_m) / FOOT_M, END_PLANE_M / FOOT_M)
    card = roll_one(event, BALL, laydown, angle, at_ft=(60.0, *last_turn_ft), **options)
    assert card.target_board is not None
    pins, before, after = (station.board for station in card.stations)
    angle_deg = math.degrees(math.atan2((after - before) * BOARD_M, turn_m))
    return pins, angle_deg, card.target_board


def released(**changes: float) -> Event:
    release: Release = EVENT.bowler.release
    fields = {name: getattr(release, name) + change for name, change in changes.items()}
    return replace(EVENT, bowler=replace(EVENT.bowler, release=replace(release, **fields)))


def with_ball(**changes: float) -> Event:
    def changed(ball):
        return replace(
            ball, **{name: getattr(ball, name) + change for name, change in changes.items()}
        )

    return replace(
        EVENT,
        locker=tuple(changed(ball) if ball.name == BALL else ball for ball in EVENT.locker),
    )


@pytest.mark.parametrize(
    ("parameter", "event"),
    [
        ("speed_mph", released(speed_mps=-MPH_MPS)),
        ("rev_rate_rpm", released(rev_rate_radps=10 * RPM_RADPS)),
        ("axis_rotation_deg", released(axis_rotation_rad=5 * DEGREE_RAD)),
        ("axis_tilt_deg", released(axis_tilt_rad=3 * DEGREE_RAD)),
        ("loft_in", released(loft_m=4 * INCH_M)),
        ("rg_in", with_ball(rg_m=0.05 * INCH_M)),
        ("differential_in", with_ball(differential_m=0.01 * INCH_M)),
    ],
)
def test_a_change_does_what_an_event_shows_that_has_it(parameter, event):
    told = effects()[parameter]
    after, before = at_pins(event), at_pins()
    assert -(after[0] - before[0]) == pytest.approx(told.boards, abs=1e-3)
    assert after[1] - before[1] == pytest.approx(told.degrees, abs=1e-3)


def test_ten_rpm_turn_the_path_by_their_share_of_its_whole_turn():
    # Closed form: a ball that slips till it rolls turns in proportion to its side rotation. At one
    # instant its core's wobble, a quarter of a degree to and fro, would hide that.
    share = 10 * RPM_RADPS / EVENT.bowler.release.rev_rate_radps
    whole_turn_deg = at_pins()[1] + ANGLE
    assert effects()["rev_rate_rpm"].degrees == pytest.approx(share * whole_turn_deg, abs=0.05)


def test_a_slower_ball_hooks_more_and_a_rougher_one_too():
    told = effects()
    for parameter in ("speed_mph", "rev_rate_rpm", "surface_grit", "dry_friction_percent"):
        assert told[parameter].boards < -0.2
    assert told["speed_mph"].degrees > 0.0
    assert told["film_percent"].boards < 0.0
    assert told["tilt_in"].boards > 0.0


def test_feet_alone_leave_the_target_where_it_is():
    told = effects()["feet_boards"]
    turned_deg = BOARD_M / ARROWS_M / DEGREE_RAD
    after, before = at_pins(laydown=LAYDOWN + 1, angle=ANGLE + turned_deg), at_pins()
    assert after[2] - before[2] == pytest.approx(0.0, abs=0.02)
    assert -(after[0] - before[0]) == pytest.approx(told.boards, rel=0.02)


def test_the_target_alone_leaves_the_feet_where_they_are():
    told = effects()["target_boards"]
    turned_deg = BOARD_M / ARROWS_M / DEGREE_RAD
    after, before = at_pins(angle=ANGLE - turned_deg), at_pins()
    assert after[2] - before[2] == pytest.approx(1.0, abs=0.02)
    assert -(after[0] - before[0]) == pytest.approx(told.boards, rel=0.02)


def test_feet_and_target_together_keep_the_angle():
    told = effects()["feet_and_target_boards"]
    after, before = at_pins(laydown=LAYDOWN + 1), at_pins()
    assert -(after[0] - before[0]) == pytest.approx(told.boards, abs=1e-3)


def test_a_surface_is_rolled_as_it_is():
    told = effects()["surface_grit"]
    assert told.change == 1000
    rough, own = at_pins(surface=1000), at_pins()
    assert -(rough[0] - own[0]) == pytest.approx(told.boards, abs=1e-3)
    assert rough[1] - own[1] == pytest.approx(told.degrees, abs=1e-3)


@pytest.mark.parametrize(
    ("surface", "next_one"), [("polished", 4000), (1500, 1000), (500, 1000), (360, 1000)]
)
def test_the_surface_goes_a_step_rougher_if_there_is_one(surface, next_one):
    card = roll_one(EVENT, BALL, LAYDOWN, ANGLE, surface=surface)
    assert card.what_moves_it[-1].change == next_one


def test_both_hands_are_told_the_same():
    right = roll_one(EVENT, BALL, LAYDOWN, ANGLE, lane=26)
    left = roll_one(mirror_image(EVENT), BALL, mirrored_board(LAYDOWN), ANGLE, lane=26)
    assert left.what_moves_it == right.what_moves_it
    assert left.track == right.track


def test_nothing_moves_a_gutter_ball():
    card = roll_one(EVENT, BALL, 10.0, 5.0)
    assert card.gutter_ft is not None
    assert card.gutter_ft * FOOT_M > 0.0
    assert card.what_moves_it == ()
