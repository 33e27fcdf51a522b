"""How hard the condition is: what the field, and a usual bowler of one's own average, score there.

Usual bowlers throw one usual ball with their own best line on the same lanes, under the same
doubt, and answer what a lane shows as the sheet's bowler does. So a low score is read against
theirs and not against an average made elsewhere.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from nextpair.carry.table import CarryTable
from nextpair.domain.bowler import Bowler
from nextpair.domain.event import Entrant, Event
from nextpair.domain.typical import (
    SLIDE_TO_LAYDOWN_BOARDS,
    SQUAD_COVER,
    reach_of,
    scatter_of,
)
from nextpair.kernel.layout import Bodies, bodies_of
from nextpair.kernel.throws import Errors, lane_kind, release_errors
from nextpair.planning.aim import PinValue
from nextpair.planning.common_spares import common_spares
from nextpair.planning.lines import highest_cell, line_grid, line_values
from nextpair.planning.odds import odds_by_draw
from nextpair.planning.study import LaneStudy, Study
from nextpair.planning.traffic import (
    ANGLE_STEP_RAD,
    LAYDOWN_STEP_BOARDS,
    USUAL_AVERAGE,
    usual_ball,
)
from nextpair.planning.trial import leaves_by_draw, line_at
from nextpair.scoring.game_value import expected_score

FloatArray = NDArray[np.float64]

KINDS = 3
"""Kinds of bowlers, by hand and style, that stand for the field: those that most are of."""
ERRORS = 32


@dataclass(frozen=True, slots=True)
class FieldScores:
    """What others score in one game on the bowler's pair."""

    field_score: float
    usual_score: float


@dataclass(frozen=True, slots=True)
class _Usual:
    """A usual bowler with a usual ball and spare chances (leaves,); `share` of the field."""

    bowler: Bowler
    bodies: Bodies
    spares: FloatArray
    errors: Errors
    share: float


def conditions(
    study: Study,
    table: CarryTable,
    pins: PinValue,
    left: FloatArray,
    spares: FloatArray,
    seed: int,
) -> tuple[FieldScores, ...]:
    """Others' scores in every game. `left`, `spares` (leaves,): how often each leave is left and
    made by the sheet's bowler; usual bowlers are asked again at those left most."""
    event = study.event
    field = _field(event, table, left, spares, seed)
    own = next(entrant for entrant in event.squad if entrant.name == event.bowler_name)
    usual = _usual(event, (own,), event.bowler.average, 0.0, seed)
    made = common_spares(replace(event, bowler=usual.bowler), table, left, spares, seed)
    usual = replace(usual, spares=made)
    found = []
    for game in range(1, event.games + 1):
        lanes = study.of_game(game)
        scores = [_score(event, lanes, one, table, pins) for one in (*field, usual)]
        shares = [one.share for one in field]
        found.append(FieldScores(float(np.average(scores[:-1], weights=shares)), scores[-1]))
    return tuple(found)


def _field(
    event: Event, table: CarryTable, left: FloatArray, spares: FloatArray, seed: int
) -> list[_Usual]:
    """The kinds that most of the squad are of, with the spare chances of the first."""
    kinds = Counter((entrant.likely_hand, entrant.likely_style) for entrant in event.squad)
    field = [
        _usual(
            event,
            tuple(
                entrant
                for entrant in event.squad
                if (entrant.likely_hand, entrant.likely_style) == kind
            ),
            USUAL_AVERAGE,
            count / len(event.squad),
            seed,
        )
        for kind, count in kinds.most_common(KINDS)
    ]
    made = common_spares(replace(event, bowler=field[0].bowler), table, left, spares, seed)
    return [replace(one, spares=made) for one in field]


def _usual(event: Event, of: Sequence[Entrant], average: float, share: float, seed: int) -> _Usual:
    """A bowler who throws as these entrants do on average, with their commonest kind of ball."""
    hand, style = of[0].likely_hand, of[0].likely_style
    releases = [entrant.likely_release for entrant in of]
    release = replace(
        releases[0],
        speed_mps=float(np.mean([each.speed_mps for each in releases])),
        rev_rate_radps=float(np.mean([each.rev_rate_radps for each in releases])),
    )
    covers = Counter(entrant.likely_cover for entrant in of)
    ball = usual_ball(covers.most_common(1)[0][0] if share else SQUAD_COVER)
    scatter = scatter_of(average, release)
    return _Usual(
        bowler=replace(
            event.bowler,
            name="a usual bowler",
            hand=hand,
            style=style,
            release=release,
            average=average,
            scatter=scatter,
            reach=reach_of(hand, SLIDE_TO_LAYDOWN_BOARDS),
            care=(),
        ),
        bodies=bodies_of([ball], event.house),
        spares=np.empty(0),
        errors=release_errors(scatter, ERRORS, seed),
        share=share,
    )


def _score(
    event: Event,
    lanes: tuple[LaneStudy, LaneStudy],
    usual: _Usual,
    table: CarryTable,
    pins: PinValue,
) -> float:
    """Expected score of a usual bowler on a pair, each lane with its best line."""
    odds = []
    for lane in lanes:
        theirs = _as_met(event, lane, usual, pins)
        line = line_at(theirs, 0, highest_cell(theirs.values.mean_value[0]))
        leaves = leaves_by_draw(line, theirs, usual.bowler, table, usual.errors)
        odds.append(odds_by_draw(leaves, table.leaves, usual.spares))
    return float(np.mean([expected_score(here, there) for here, there in zip(*odds, strict=True)]))


def _as_met(event: Event, lane: LaneStudy, usual: _Usual, pins: PinValue) -> LaneStudy:
    """A lane as a usual bowler meets it: in their own frame, with their ball and lines."""
    bowler = usual.bowler
    turned = bowler.hand is not event.bowler.hand
    fresh, start, middle, films = (
        np.ascontiguousarray(film[..., ::-1]) if turned else film
        for film in (lane.fresh, lane.start, lane.middle, lane.films)
    )
    kind = lane_kind(event.lane(lane.lane), bowler.hand)
    values = line_values(
        films,
        lane.dry_factor,
        bowler.release,
        bowler.scatter,
        kind,
        usual.bodies,
        pins,
        line_grid(bowler.reach, bowler.hand, LAYDOWN_STEP_BOARDS, ANGLE_STEP_RAD),
    )
    return replace(
        lane,
        kind=kind,
        fresh=fresh,
        start=start,
        middle=middle,
        films=films,
        form=None,
        bodies=usual.bodies,
        values=values,
    )


def condition_words(
    average: float, own_scores: Sequence[float], found: Sequence[FieldScores]
) -> str:
    """A low score read against the field: 'The field scores 176 here: your 182 is 6 over it.'"""
    own, field, usual = (
        round(float(np.mean(scores)))
        for scores in (
            own_scores,
            [one.field_score for one in found],
            [one.usual_score for one in found],
        )
    )
    over = own - field
    against = "as much" if over == 0 else f"{abs(over)} {'over' if over > 0 else 'under'} it"
    return (
        f"The field scores {field} a game on your pairs, each bowler with one usual ball: your "
        f"{own} is {against}. A usual bowler of your average, {average:.0f}, scores {usual}."
    )
