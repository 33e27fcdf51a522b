"""Lines that are let go of otherwise than usual: what leaves the hand, and how far it strays."""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np
import pytest

from nextpair.domain.errors import InvalidValueError
from nextpair.domain.units import DEGREE_RAD, MPH_MPS
from nextpair.kernel.throws import Form, release_errors
from nextpair.planning.release_change import AS_USUAL, ReleaseChange
from nextpair.planning.trial import Line, line_shots, meant_offsets_boards, try_line
from small_event import SEED, small_workings

WORK = small_workings()
BOWLER = WORK.event.bowler
LANE = WORK.study.of_game(1)[0]
LINE = WORK.choices[0].lines[0]
ERRORS = release_errors(BOWLER.scatter, 8, SEED)
HARDER = ReleaseChange(speed_mps=1.0 * MPH_MPS)
TURNED = ReleaseChange(rotation_rad=10.0 * DEGREE_RAD)


def shots(line: Line, **others):
    return line_shots(line, BOWLER.release, LANE.kind, ERRORS, **others)


def test_a_usual_line_strays_by_the_errors_alone():
    thrown = shots(LINE)
    np.testing.assert_array_equal(thrown.speed_mps, BOWLER.release.speed_mps + ERRORS.speed_mps)
    np.testing.assert_array_equal(
        thrown.launch_angle_rad, LINE.angle_rad + ERRORS.launch_angle_rad
    )
    assert set(thrown.body) == {LINE.option}


def test_a_changed_line_leaves_the_hand_otherwise_and_strays_wider():
    thrown = shots(replace(LINE, change=ReleaseChange(0.5, 0.1)))
    wider = ReleaseChange(0.5, 0.1).widening
    np.testing.assert_allclose(
        thrown.speed_mps, BOWLER.release.speed_mps + 0.5 + wider * ERRORS.speed_mps
    )
    np.testing.assert_allclose(
        thrown.axis_rotation_rad,
        BOWLER.release.axis_rotation_rad + 0.1 + wider * ERRORS.axis_rotation_rad,
    )
    np.testing.assert_allclose(
        thrown.launch_angle_rad, LINE.angle_rad + wider * ERRORS.launch_angle_rad
    )


def test_what_is_usual_strays_as_usual_and_what_is_farther_from_it_more():
    assert AS_USUAL.widening == 1.0
    for unit in (HARDER, TURNED):
        sizes = [
            ReleaseChange(share * unit.speed_mps, share * unit.rotation_rad).widening
            for share in (-2.0, -1.0, 0.0, 1.0, 2.0)
        ]
        assert sizes[0] > sizes[1] > sizes[2] < sizes[3] < sizes[4]
        assert sizes == sizes[::-1]
    assert HARDER.widening == TURNED.widening == pytest.approx(1.25)


def test_all_of_the_scatter_and_of_the_errors_widens_alike():
    wider = HARDER.scattered(BOWLER.scatter)
    for one in fields(BOWLER.scatter):
        assert getattr(wider, one.name) == pytest.approx(1.25 * getattr(BOWLER.scatter, one.name))
    for one in fields(ERRORS):
        np.testing.assert_allclose(
            getattr(HARDER.strayed(ERRORS), one.name), 1.25 * getattr(ERRORS, one.name)
        )


def test_a_release_that_nobody_delivers_is_refused():
    with pytest.raises(InvalidValueError):
        ReleaseChange(speed_mps=20.0 * MPH_MPS).released(BOWLER.release)


def test_the_release_of_the_day_is_thrown_draw_by_draw():
    day = Form(np.array([0.1, 0.2]), np.array([1.0, -1.0]), np.array([0.0, 0.05]))
    thrown = shots(LINE, form=day, film=np.arange(2), dry_factor=np.array([1.0, 1.1]))
    assert len(thrown.speed_mps) == 2 * len(ERRORS)
    np.testing.assert_allclose(
        thrown.speed_mps.reshape(2, -1),
        BOWLER.release.speed_mps + day.speed_mps[:, None] + ERRORS.speed_mps,
    )
    np.testing.assert_array_equal(thrown.film, np.repeat([0, 1], len(ERRORS)))


def test_a_day_on_which_all_is_thrown_harder_is_that_change_made_on_purpose():
    """Of the meant shot, in every draw: only the scatter differs."""
    draws = len(LANE.films)
    harder_day = Form(np.full(draws, HARDER.speed_mps), np.zeros(draws), np.zeros(draws))
    by_day = meant_offsets_boards(LINE, LANE.films, replace(LANE, form=harder_day), BOWLER)
    on_purpose = meant_offsets_boards(replace(LINE, change=HARDER), LANE.films, LANE, BOWLER)
    np.testing.assert_allclose(by_day, on_purpose, atol=1e-9)
    # A faster ball hooks less, so that it arrives farther to the own side: common practice.
    assert np.all(on_purpose > meant_offsets_boards(LINE, LANE.films, LANE, BOWLER))


def test_a_trial_of_a_changed_line_rolls_the_changed_release():
    errors = release_errors(BOWLER.scatter, 16, SEED)
    changed, usual = (
        try_line(replace(LINE, change=change), LANE, BOWLER, WORK.table, WORK.pins, errors)
        for change in (HARDER, AS_USUAL)
    )
    faster = replace(BOWLER, release=HARDER.released(BOWLER.release))
    by_release = try_line(LINE, LANE, faster, WORK.table, WORK.pins, HARDER.strayed(errors))
    assert changed.offset_boards == pytest.approx(by_release.offset_boards, abs=1e-9)
    np.testing.assert_allclose(changed.band, by_release.band, atol=1e-9)
    np.testing.assert_allclose(changed.leaves_by_draw, by_release.leaves_by_draw, atol=1e-9)
    assert changed.room_mph == pytest.approx(by_release.room_mph, abs=1e-9)
    assert changed.offset_boards > usual.offset_boards
