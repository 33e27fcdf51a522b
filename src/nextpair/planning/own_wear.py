"""What a bowler's own practice does to the pair: wearing in a line, and what that is worth."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from nextpair.kernel.flare import ring_spacing_m
from nextpair.kernel.layout import Trace, bodies_of
from nextpair.kernel.roll import roll
from nextpair.kernel.throws import release_errors
from nextpair.kernel.wear import Balls, surface_ratios, wear
from nextpair.physics.forces import landing_m
from nextpair.physics.wear import absorption_s
from nextpair.planning.aim import PinValue
from nextpair.planning.lines import line_values
from nextpair.planning.options import in_game
from nextpair.planning.study import LaneStudy, Study, doubted_films, value_over_game
from nextpair.planning.trial import Line, line_shots

FloatArray = NDArray[np.float64]


def wear_in_gain_pins(
    study: Study, lines: tuple[Line, Line], shots: int, pins: PinValue, seed: int
) -> float:
    """Pins that the first game gains (or loses) from so many more shots of one's own on its lines,
    half of them on each lane."""
    gains = []
    for side, (line, lane) in enumerate(zip(lines, study.of_game(1), strict=True)):
        thrown = (shots + 1 - side) // 2
        if thrown:
            gains.append(_gain(study, line, lane, thrown, pins, seed))
        else:
            gains.append(0.0)
    return float(np.mean(gains))


def _gain(
    study: Study, line: Line, lane: LaneStudy, shots: int, pins: PinValue, seed: int
) -> float:
    """Value of the line's ball on the lane with its own shots more, less that without them."""
    worn = _worn(study, line, lane, shots, seed)
    end = np.maximum(2.0 * lane.middle - lane.start + worn - lane.start, 0.0)
    bowler, event = study.event.bowler, study.event
    after = line_values(
        doubted_films(lane.fresh, worn, end, study.doubt.of_lane(lane.lane), lane.length_m),
        lane.dry_factor,
        line.change.released(bowler.release),
        study.scatter(line.change),
        lane.kind,
        bodies_of([in_game(event, study.options[line.option], 1)], event.house, bowler.pap_m),
        pins,
        lane.values.grid,
        form=lane.form,
        inside_boards=lane.inside_boards,
    )
    return value_over_game(after.value[0]) - value_over_game(lane.values.value[line.option])


def _worn(study: Study, line: Line, lane: LaneStudy, shots: int, seed: int) -> FloatArray:
    """The film (120, 39) at the start of the first game after so many more shots on a line."""
    bowler = study.event.bowler
    ball = study.options[line.option]
    errors = release_errors(bowler.scatter, shots, seed)
    deliveries = line_shots(line, bowler.release, lane.kind, errors)
    paths = roll(lane.kind.under(lane.start), lane.bodies, deliveries, record=True)
    trace = np.asarray(paths.trace, float)
    return wear(
        lane.start,
        trace[Trace.X].T,
        surface_ratios(trace),
        ring_spacing_m(trace, paths.turns),
        landing_m=landing_m(trace[Trace.V_Y, 0], bowler.release.loft_m),
        balls=Balls(np.zeros(shots, int), np.array([absorption_s(ball.cover)])),
    ).film_um
