"""Shots as quadratics of what is not known."""

from __future__ import annotations

import numpy as np
import pytest

from logged_lanes import ANGLE_RAD, OWN_LAYDOWN, story_of
from nextpair.kernel.derivatives import STEPS, derivatives
from nextpair.kernel.throws import shots_of
from nextpair.reading.answers import RELEASE, UNKNOWN, Mark, Number, answers_about, marks_at
from nextpair.reading.likelihood import UNEVEN_ENTRY_BOARDS, number_rows
from nextpair.reading.prior import usual_prior
from nextpair.reading.seen import UNSEEN

STORY = story_of(4)
PRIOR = usual_prior((13, 14))
ROWS = number_rows(PRIOR, STORY.lane)
CENTRE = np.zeros((4, len(Number)))
CENTRE[:, Number.LAYDOWN], CENTRE[:, Number.ANGLE] = OWN_LAYDOWN, ANGLE_RAD
SLIP_SD = np.array([0.5, 0.0045, 0.16, 0.035, 0.035])


@pytest.fixture(scope="module")
def answers():
    covariance = np.einsum("nip,p,njp->nij", ROWS, PRIOR.sd**2, ROWS)
    covariance[:, RELEASE, RELEASE] += np.diag(SLIP_SD**2)
    return answers_about(STORY, range(4), CENTRE, covariance)


def test_a_quadratic_goes_where_the_shot_goes(answers):
    """Beliefs that the design never saw, against rolls."""
    unknowns = PRIOR.sd * np.random.default_rng(8).normal(size=(40, len(PRIOR)))
    changes = unknowns @ ROWS[0].T
    rolled = marks_at(STORY, [0], (CENTRE[0] + changes)[None, :, None])[0, :, 0]
    told = answers.marks(changes[:, UNKNOWN], np.array([0]))[:, 0]
    # A fifth of what uneven oil does to a shot, and of what a bowler sees of it.
    off = np.sqrt(((told - rolled) ** 2).mean(axis=0))
    assert off[Mark.ENTRY] < UNEVEN_ENTRY_BOARDS / 5
    assert off[Mark.BREAKPOINT] < UNEVEN_ENTRY_BOARDS / 5


def test_what_it_misses_is_told(answers):
    assert np.sqrt(answers.missed[:, Mark.ENTRY]).max() < UNEVEN_ENTRY_BOARDS / 3
    assert (answers.missed >= 0).all()


def test_slopes_are_those_of_single_shots(answers):
    """Against kernel.derivatives at wide steps; the launch angle's, nearly a board a tenth of a
    degree at the pins."""
    kind, release = STORY.kind_of(0), STORY.releases[0]
    shots = shots_of(release, kind, own_laydown=OWN_LAYDOWN, launch_angle_rad=ANGLE_RAD)
    steps = {name: STEPS[name] for name in ("launch_angle_rad", "speed_mps")}
    wide = {"launch_angle_rad": SLIP_SD[1], "speed_mps": SLIP_SD[2]}
    found = derivatives(kind.under(STORY.worn[0]), STORY.body_of(0), shots, steps | wide)
    own = -found.slopes.head_pin_boards[:, 0]
    told = answers.slopes[0, Mark.ENTRY]
    assert told[Number.ANGLE] == pytest.approx(own[0], rel=0.05)
    assert told[Number.SPEED] == pytest.approx(own[1], rel=0.1)


def test_a_board_of_laydown_is_a_board_at_the_arrows(answers):
    """Closed form: a parallel path."""
    slopes = answers.slopes[:, Mark.TARGET, Number.LAYDOWN]
    np.testing.assert_allclose(slopes, 1.0, atol=0.01)


def test_of_a_shot_that_cannot_be_rolled_nothing_is_known():
    centre = CENTRE.copy()
    centre[1, Number.LAYDOWN] = np.nan
    covariance = np.tile(1e-4 * np.eye(len(Number)), (4, 1, 1))
    missed = answers_about(STORY, range(4), centre, covariance).missed
    assert (missed[1] == UNSEEN).all()
    assert missed[[0, 2, 3]].max() < 1.0
