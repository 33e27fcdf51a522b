"""What the shots of an event would have stand in the bowler's file and the house's, next time."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from nextpair.domain.belief import FileValue
from nextpair.domain.event import Event
from nextpair.domain.shot_log import LoggedShot
from nextpair.domain.units import DEGREE_RAD, MPH_MPS, RPM_RADPS
from nextpair.domain.unknowns import DRY_LOG, OWN_DRY_LOG, SPEED_MPS
from nextpair.reading.habits import learned_release, learned_scatter
from nextpair.reading.lasting import lasting
from nextpair.reading.seen import seen_of
from nextpair.reading.update import Reading

BOWLER_FILE, HOUSE_FILE = "bowler.toml", "house.toml"


def values_for_files(
    event: Event, shots: Sequence[LoggedShot], reading: Reading
) -> tuple[FileValue, ...]:
    """Release, scatter and the lanes' friction as they stand and as these shots would have them,
    drawn toward what stands there: half of what a day shows belongs to the day."""
    bowler = event.bowler
    was, now = bowler.release, learned_release(bowler.release, [reading])
    off_mps = float(reading.column(SPEED_MPS.name).mean())
    seen = seen_of(shots, bowler.hand)
    strays = bowler.scatter
    spread = learned_scatter(strays, [seen], was.speed_mps, [off_mps])
    own = (
        ("speed_mph", was.speed_mps, now.speed_mps, MPH_MPS),
        ("rev_rate_rpm", was.rev_rate_radps, now.rev_rate_radps, RPM_RADPS),
        ("axis_rotation_deg", was.axis_rotation_rad, now.axis_rotation_rad, DEGREE_RAD),
        ("scatter.laydown_boards", strays.laydown_boards, spread.laydown_boards, 1.0),
        (
            "scatter.launch_angle_deg",
            strays.launch_angle_rad,
            spread.launch_angle_rad,
            DEGREE_RAD,
        ),
        ("scatter.speed_mph", strays.speed_mps, spread.speed_mps, MPH_MPS),
    )
    found = [FileValue(BOWLER_FILE, key, old / unit, new / unit) for key, old, new, unit in own]
    shared_log = lasting(DRY_LOG.name, [reading.learned(DRY_LOG.name)]).mean
    for lane in sorted({shot.lane for shot in shots}):
        name = OWN_DRY_LOG.on(lane)
        stands = event.house.trait(lane).friction
        grips = float(np.exp(shared_log + lasting(name, [reading.learned(name)]).mean))
        found.append(FileValue(HOUSE_FILE, f"friction of lane {lane}", stands, stands * grips))
    return tuple(found)
