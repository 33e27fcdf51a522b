"""Worlds: how the lanes and the people of an event really are on the day, hidden from the plan.

What is drawn goes beyond the plan's own doubt: oil that lies unevenly, lanes that differ from each
other, bowlers who play elsewhere, and a bowler who is not quite the one of the file. The sizes are
assumptions, told in docs/guide/proof.md.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter

from nextpair.domain.bowler import Bowler, Release, Scatter
from nextpair.domain.event import Event
from nextpair.domain.lane import BOARDS, CELL_M, CELLS
from nextpair.domain.units import FOOT_M, MPH_MPS, RPM_RADPS
from nextpair.domain.unknowns import (
    OWN_DRY_LOG,
    OWN_FILM_LOG,
    REVS_LOG,
    ROTATION_RAD,
    SPEED_MPS,
)
from nextpair.physics.dressing import film_of
from nextpair.physics.wear import USUAL_WEAR
from nextpair.planning.condition import Condition
from nextpair.planning.doubt import DRY_FRICTION_SD, FILM_SD, WEAR_SD
from nextpair.planning.traffic import Thrower

FloatArray = NDArray[np.float64]

LANE_FILM_SD = OWN_FILM_LOG.spread
LANE_DRY_SD = OWN_DRY_LOG.spread
"""From lane to lane of one house, of the logarithm."""
UNEVEN_SD = 0.06
UNEVEN_BOARDS = 4.0
UNEVEN_M = 6.0 * FOOT_M
"""How unevenly oil lies: size, of the logarithm, and how far a patch reaches."""
HABIT_SD_BOARDS = 3.0
OTHERS_SPEED_SD_MPS = 0.5 * MPH_MPS
OTHERS_REVS_SD_RADPS = 25.0 * RPM_RADPS
SCATTER_SD = 0.12
"""Of the logarithm: a good day or a bad one."""
SPARES_SD = 0.2
"""Of the log odds of making a spare on the day."""
LARGEST_REMOVAL = 0.98


@dataclass(frozen=True, slots=True)
class World:
    """What is true on the day.

    lane_dry_factor : factor on dry friction by lane. release, scatter : the bowler's own.
    spare_log_odds : shift of the log odds of every spare.
    """

    condition: Condition
    people: dict[str, Thrower]
    lane_dry_factor: dict[int, float]
    release: Release
    scatter: Scatter
    spare_log_odds: float


def drawn_world(event: Event, people: dict[str, Thrower], number: int, seed: int) -> World:
    """World `number` of a seed; `people` are the throwers as the squad sheet has them."""
    rng = np.random.default_rng([seed, number, 1])
    lanes = [lane for pair in event.pairs for lane in pair.lanes]
    dry = float(np.exp(DRY_FRICTION_SD * rng.normal()))
    film = float(np.exp(FILM_SD * rng.normal()))
    removal = USUAL_WEAR.removal_share * float(np.exp(WEAR_SD * rng.normal()))
    release, scatter = _own(rng, event.bowler)
    return World(
        condition=Condition(
            dressed={
                lane: film * _as_laid(rng, film_of(event.pattern_of(lane))) for lane in lanes
            },
            dry_factor=dry,
            law=replace(USUAL_WEAR, removal_share=min(removal, LARGEST_REMOVAL)),
            habits={name: HABIT_SD_BOARDS * float(rng.normal()) for name in people},
        ),
        people={name: _really(rng, person) for name, person in people.items()},
        lane_dry_factor={lane: dry * float(np.exp(LANE_DRY_SD * rng.normal())) for lane in lanes},
        release=release,
        scatter=scatter,
        spare_log_odds=SPARES_SD * float(rng.normal()),
    )


def _as_laid(rng: np.random.Generator, film_um: FloatArray) -> FloatArray:
    """One lane's film (120, 39) as the machine laid it this time."""
    reach = (UNEVEN_M / CELL_M, UNEVEN_BOARDS)
    patches = gaussian_filter(rng.normal(size=(CELLS, BOARDS)), reach, mode="wrap")
    # White noise under a Gaussian of two widths keeps this deviation.
    uneven = UNEVEN_SD * patches * np.sqrt(4.0 * np.pi * reach[0] * reach[1])
    return np.asarray(film_um * np.exp(LANE_FILM_SD * rng.normal() + uneven))


def _really(rng: np.random.Generator, person: Thrower) -> Thrower:
    """Somebody as they throw on the day."""
    release = person.release
    return replace(
        person,
        release=replace(
            release,
            speed_mps=release.speed_mps + OTHERS_SPEED_SD_MPS * _within(rng),
            rev_rate_radps=max(release.rev_rate_radps + OTHERS_REVS_SD_RADPS * _within(rng), 0.0),
        ),
    )


def _own(rng: np.random.Generator, bowler: Bowler) -> tuple[Release, Scatter]:
    """The bowler's release and scatter on the day."""
    release, scatter = bowler.release, bowler.scatter
    form = float(np.exp(SCATTER_SD * rng.normal()))
    return (
        replace(
            release,
            speed_mps=release.speed_mps + SPEED_MPS.spread * _within(rng),
            rev_rate_radps=release.rev_rate_radps * (1.0 + REVS_LOG.spread * _within(rng)),
            axis_rotation_rad=release.axis_rotation_rad + ROTATION_RAD.spread * _within(rng),
        ),
        replace(
            scatter,
            laydown_boards=form * scatter.laydown_boards,
            launch_angle_rad=form * scatter.launch_angle_rad,
            speed_mps=form * scatter.speed_mps,
            rev_rate_radps=form * scatter.rev_rate_radps,
        ),
    )


def _within(rng: np.random.Generator) -> float:
    """A normal number within two and a half deviations."""
    return float(np.clip(rng.normal(), -2.5, 2.5))
