"""Dry friction and the length of the oil trade off, and the reader shows it as correlation.

The model sheet (section 7) has a correlation of 0.73 after one shot and 0.94 after twenty, for
wide beliefs and five places seen on the lane. Here the information of the shots is written out as
a matrix, with slopes from single rolls, and the reader's draws are held against its inverse.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from logged_lanes import ANGLE_RAD, LANES, OWN_LAYDOWN, shots_seen, story_of
from nextpair.domain import sight
from nextpair.domain.units import FOOT_M
from nextpair.reading import likelihood as model
from nextpair.reading.answers import RELEASE, Mark, Number, marks_at
from nextpair.reading.prior import usual_prior
from nextpair.reading.releases import releases_of
from nextpair.reading.seen import NOT_SEEN
from nextpair.reading.update import update

SHOTS = 20
WIDE = {"dry_log": 0.25, "longer_m": 2.0 * FOOT_M}
"""As doubtful as the sheet: friction of 0.20 by 0.06, length by a metre; a little less, where a
normal of two still holds."""
STEP = 0.2


def held_prior():
    """Friction and length free and wide, all else known."""
    usual = usual_prior(LANES)
    sd = 1e-4 * usual.sd
    for name, spread in WIDE.items():
        sd[usual.place(name)] = spread
    return replace(usual, sd=sd)


def rolled(story, changes):
    """Marks (s, 5) of the line under changes (s, 11) of everything, on the last shot's film."""
    numbers = np.array(changes)
    numbers[:, Number.LAYDOWN] += OWN_LAYDOWN
    numbers[:, Number.ANGLE] += ANGLE_RAD
    return marks_at(story, [SHOTS - 1], numbers[None, :, None])[0, :, 0]


def slopes_to(story, steps):
    """Slopes (5, k) of the marks to some numbers, each by a step of its own."""
    found = []
    for number, step in steps.items():
        up, down = np.zeros((2, len(Number)))
        up[number], down[number] = step, -step
        high, low = rolled(story, [up, down])
        found.append((high - low) / (2 * step))
    return np.array(found).T


def information(story, prior):
    """Covariance (2, 2) of friction and length after the shots.

    Source: closed form, inverse of Fisher's information with the prior's: what is seen of a shot
    is normal about its mean, with slips, reading errors and uneven oil in its spread.
    """
    rows = model.number_rows(prior, story.lane)
    covariance = releases_of(
        story, shots_seen(story, prior, prior.mean, np.random.default_rng(0)), rows @ prior.mean
    ).covariance[0]
    sd = np.sqrt(np.diag(covariance))
    places = [Mark.TARGET, Mark.BREAKPOINT, Mark.ENTRY]
    to_slips = np.zeros((4, 5))
    to_slips[0, 0] = 1.0
    slip_steps = {Number(RELEASE.start + slip): STEP * sd[slip] for slip in range(5)}
    to_slips[1:] = slopes_to(story, slip_steps)[places]
    wide = {
        Number.DRY: STEP * WIDE["dry_log"],
        Number.LONGER: STEP * WIDE["longer_m"],
    }
    to_lane = np.vstack(([0.0, 0.0], slopes_to(story, wide)[places]))
    reading = np.array(
        [
            sight.LAYDOWN_ERROR_BOARDS,
            sight.TARGET_ERROR_BOARDS,
            np.hypot(sight.BREAKPOINT_ERROR_BOARDS, model.UNEVEN_BREAKPOINT_BOARDS),
            np.hypot(sight.ENTRY_ERROR_BOARDS, model.UNEVEN_ENTRY_BOARDS),
        ]
    )
    spread = to_slips @ covariance @ to_slips.T + np.diag(reading**2)
    told = SHOTS * to_lane.T @ np.linalg.inv(spread) @ to_lane
    return np.linalg.inv(told + np.diag([1 / s**2 for s in WIDE.values()]))


@pytest.fixture(scope="module")
def both():
    """Covariance by the information, and by the reader's draws over five days."""
    prior, story = held_prior(), story_of(SHOTS)
    places = [prior.place(name) for name in WIDE]
    found = []
    for day in range(5):
        seen = shots_seen(story, prior, prior.mean, np.random.default_rng(day))
        seen = replace(seen, leave=np.full(SHOTS, NOT_SEEN), speed_mps=np.full(SHOTS, np.nan))
        draws = update(prior, story, seen, day, draws=1024).draws[:, places]
        found.append(np.cov(draws.T))
    return information(story, prior), np.mean(found, axis=0)


def correlation(covariance):
    return covariance[0, 1] / np.sqrt(covariance[0, 0] * covariance[1, 1])


def test_friction_and_length_are_a_ridge(both, record):
    """More friction and longer oil make up for each other: no reader may be sure of either."""
    _, reader = both
    record.published(
        "model_sheet", "ridge", correlation_of_friction_and_length=correlation(reader)
    )


def test_the_belief_is_as_wide_as_the_information_makes_it(both, record):
    """Five days' draws tell a deviation to a tenth; curved answers make up the rest."""
    fisher, reader = both
    for place, name in enumerate(WIDE):
        record.closed_form(
            "Reading the lane: 20 shots, two numbers free",
            f"deviation of {name}",
            expected=float(np.sqrt(fisher[place, place])),
            achieved=float(np.sqrt(reader[place, place])),
            tolerance=0.3 * float(np.sqrt(fisher[place, place])),
            source="closed form: inverse of Fisher's information, slopes by single rolls",
        )


def test_one_number_alone_is_told_better_than_both(both):
    """Closed form: what is left of one, were the other known, is the inverse of the information's
    own entry."""
    _, reader = both
    alone = np.sqrt(1 / np.diag(np.linalg.inv(reader)))
    assert (alone < 0.8 * np.sqrt(np.diag(reader))).all()
