"""Where shots were laid down and sent."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from logged_lanes import LANES, shots_seen, story_of
from nextpair.domain.bowler import Scatter
from nextpair.domain.lane import BOARDS_PER_RAD
from nextpair.domain.sight import LAYDOWN_ERROR_BOARDS, TARGET_ERROR_BOARDS
from nextpair.reading.answers import Mark, marks_at
from nextpair.reading.likelihood import number_rows
from nextpair.reading.prior import usual_prior
from nextpair.reading.releases import Slip, releases_of

PRIOR = usual_prior(LANES)
STORY = story_of(6)
ROWS = number_rows(PRIOR, STORY.lane)
BEFORE = ROWS @ PRIOR.mean
SEEN = shots_seen(STORY, PRIOR, PRIOR.mean, np.random.default_rng(2))
NOTHING = np.full(6, np.nan)


def test_the_line_that_was_meant_goes_over_its_target():
    releases = releases_of(STORY, SEEN, BEFORE)
    marks = marks_at(STORY, range(6), releases.numbers(BEFORE)[:, None, None])[:, 0, 0]
    np.testing.assert_allclose(marks[:, Mark.TARGET], SEEN.meant_target, atol=0.01)
    np.testing.assert_allclose(releases.own_laydown, SEEN.meant_laydown)
    assert releases.known.all()


def test_a_line_that_nobody_named_is_the_one_that_was_seen():
    seen = replace(SEEN, meant_laydown=NOTHING, meant_target=NOTHING)
    releases = releases_of(STORY, seen, BEFORE)
    np.testing.assert_allclose(releases.own_laydown, SEEN.laydown)
    np.testing.assert_allclose(releases.planned[:, Mark.TARGET], SEEN.target, atol=0.01)
    assert not releases.laydown_read.any()
    assert not releases.target_read.any()


def test_an_angle_of_two_readings_is_as_sure_as_they_are():
    """Closed form: the difference of two independent readings over the way to the arrows; the
    lay-down's error is in both."""
    seen = replace(SEEN, meant_laydown=NOTHING, meant_target=NOTHING)
    covariance = releases_of(STORY, seen, BEFORE).covariance[0]
    sd = np.sqrt(np.diag(covariance))
    both = np.hypot(LAYDOWN_ERROR_BOARDS, TARGET_ERROR_BOARDS) / BOARDS_PER_RAD
    assert sd[Slip.LAYDOWN] == pytest.approx(LAYDOWN_ERROR_BOARDS, rel=1e-3)
    assert sd[Slip.ANGLE] == pytest.approx(both, rel=1e-3)
    shared = covariance[Slip.LAYDOWN, Slip.ANGLE] / (sd[Slip.LAYDOWN] * sd[Slip.ANGLE])
    assert shared == pytest.approx(np.sqrt(0.5), rel=1e-3)


def test_a_bowler_who_never_strays_is_read_as_meant():
    story = replace(STORY, scatter=Scatter(0.0, 0.0, 0.0, 0.0, 0.0, 0.0))
    likely = releases_of(story, SEEN, BEFORE).likely
    assert np.abs(likely[:, Slip.LAYDOWN]).max() < 0.01
    assert np.abs(likely[:, Slip.ANGLE]).max() * BOARDS_PER_RAD < 0.01


def test_a_target_seen_outside_means_an_angle_to_the_outside():
    """Own boards count from the bowler's gutter, and angles toward it are positive."""
    outside = replace(SEEN, laydown=SEEN.meant_laydown, target=SEEN.meant_target - 2.0)
    likely = releases_of(STORY, outside, BEFORE).likely
    assert (likely[:, Slip.ANGLE] > 0).all()
    assert (likely[:, Slip.LAYDOWN] < 0).all()


def test_a_shot_of_which_nobody_knows_the_line_tells_nothing():
    gone = np.arange(6) == 2
    targets = [np.where(gone, np.nan, boards) for boards in (SEEN.meant_target, SEEN.target)]
    seen = replace(SEEN, meant_target=targets[0], target=targets[1])
    assert releases_of(STORY, seen, BEFORE).known.tolist() == (~gone).tolist()
