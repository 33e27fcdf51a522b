"""Lanes in tables: where every line of a ball goes on a lane, and how that moves with what is not
known, for a phone that reads shots with no network.

Each strike ball of the bag has one for each game and lane; `mark_tables` rolls and fits them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri
from scipy.stats import qmc

from nextpair.application.findings import NAMES, told_as
from nextpair.application.mark_tables import (
    ANGLE_STEP_DEG,
    LAYDOWN_STEP_BOARDS,
    LINE_BOARDS,
    LINE_DEG,
    NUMBERED,
    SEED,
    SHARES,
    MeantLine,
    design_of,
    fitted,
    hundredths_of,
    mark_table,
    moved_marks,
    own_marks,
    rolled_as_planned,
)
from nextpair.application.pin_tables import leave_map, pin_map
from nextpair.application.ports import Progress, unwatched
from nextpair.application.reading import Groundwork, groundwork
from nextpair.domain.ball import Ball, Role, Surface, Tool
from nextpair.domain.event import Event
from nextpair.domain.lane import BOARDS_PER_RAD
from nextpair.domain.lane_tables import (
    HUNDREDTHS,
    LaneTable,
    LaneTables,
    OwnReach,
    OwnScatter,
    Places,
    TableNumber,
)
from nextpair.domain.sheet import BagItem, LineCard, Sheet
from nextpair.domain.shot_log import PRACTICE
from nextpair.domain.units import DEGREE_RAD, MPH_MPS
from nextpair.domain.unknowns import (
    OF_A_LANE,
    ROTATION_RAD,
    SPEED_MPS,
    Unknown,
)
from nextpair.kernel.layout import bodies_of, own_frame
from nextpair.kernel.throws import lane_kind, own_board
from nextpair.planning.lines import STRAY_BOARDS, STRAY_RAD, line_grid, line_values
from nextpair.planning.options import in_game
from nextpair.planning.release_change import ReleaseChange
from nextpair.planning.rotation import practice_shots_per_bowler
from nextpair.planning.sheet import SPEED_KEPT
from nextpair.reading.answers import Mark
from nextpair.reading.lane_story import LaneStory

FloatArray = NDArray[np.float64]

DRAWS = 512
"""Equally likely draws of what is not known: so many that after a whole day's shots several dozen
still count."""


def lane_tables(
    event: Event, sheet: Sheet, seed: int, progress: Progress = unwatched
) -> LaneTables:
    """Tables of every lane of a sheet's games, with the strike balls of its bag."""
    ground = groundwork(event, event.games, seed)
    bowler = event.bowler
    scatter, reach = bowler.scatter, bowler.reach
    low, high = sorted(own_board(board, bowler.hand) for board in reach.laydown_boards)
    lanes: list[LaneTable] = []
    stages = list(_stages(sheet))
    for done, (game, lane, planned) in enumerate(stages):
        progress("tabling the lanes", done, len(stages))
        lanes += _of_lane(event, ground, sheet.bag, game, lane, planned)
    draws, own_draws = _draws()
    return LaneTables(
        hand=bowler.hand.value,
        speed_mph=bowler.release.speed_mps / MPH_MPS,
        slide_to_laydown_boards=bowler.slide_to_laydown_boards,
        practice_shots=practice_shots_per_bowler(event.block, event.start_pair),
        scatter=OwnScatter(
            laydown_boards=scatter.laydown_boards,
            launch_angle_deg=scatter.launch_angle_rad / DEGREE_RAD,
            speed_mph=scatter.speed_mps / MPH_MPS,
            revs_share=scatter.rev_rate_radps / max(bowler.release.rev_rate_radps, 1.0),
            axis_rotation_deg=scatter.axis_rotation_rad / DEGREE_RAD,
        ),
        reach=OwnReach(
            laydown_boards=(low, high),
            launch_angle_deg=_each(reach.launch_angle_rad, DEGREE_RAD),
            speed_change_mph=_each(reach.speed_change_mps, MPH_MPS),
            axis_rotation_change_deg=_each(reach.axis_rotation_change_rad, DEGREE_RAD),
        ),
        numbers=tuple(
            _number(unknown, told_as(event, unknown.name).name) for unknown, _ in NUMBERED
        ),
        own=tuple(_number(unknown, NAMES[unknown.name]) for unknown in OF_A_LANE),
        draws=draws,
        own_draws=own_draws,
        pins=pin_map(ground.pins),
        left=leave_map(ground.table, SPEED_KEPT * bowler.release.speed_mps),
        lanes=tuple(lanes),
    )


def _each(ends: tuple[float, float], unit: float) -> tuple[float, float]:
    return ends[0] / unit, ends[1] / unit


def _number(unknown: Unknown, said: str) -> TableNumber:
    """A number with its words; speeds and rotations in the units that are logged."""
    units = {SPEED_MPS.name: MPH_MPS, ROTATION_RAD.name: DEGREE_RAD}
    return TableNumber(
        name=unknown.name,
        said=said,
        more=unknown.more,
        less=unknown.less,
        spread=unknown.spread / units.get(unknown.name, 1.0),
    )


def _stages(sheet: Sheet) -> Iterator[tuple[int, int, tuple[str, LineCard]]]:
    """Every game and lane, practice first, with the planned ball and line."""
    for card in sheet.games:
        games = (PRACTICE, card.game) if card.game == 1 else (card.game,)
        for game in games:
            for lane in card.lanes:
                yield game, lane.lane, (card.ball, lane.line)


def _of_lane(
    event: Event,
    ground: Groundwork,
    bag: Sequence[BagItem],
    game: int,
    lane: int,
    planned: tuple[str, LineCard],
) -> Iterator[LaneTable]:
    """The table of each strike ball of the bag on one lane."""
    balls = [in_game(event, ball, max(game, 1)) for ball in brought(event, bag)]
    start, end = (ground.films.at(lane, stage) for stage in (game, game + 1))
    story = _story(event, ground, lane, start, end)
    lines = _best_lines(event, ground, lane, 0.5 * (start + end), balls)
    for place, ball in enumerate(balls):
        own = ball.name == planned[0]
        line = _line_of(event, planned[1]) if own else lines[place]
        with_ball = replace(
            story,
            bodies=bodies_of([ball], event.house, event.bowler.pap_m),
            releases=(line.change.released(event.bowler.release),) * len(SHARES),
        )
        yield _table(event, with_ball, ball, line, game, lane, own)


def brought(event: Event, bag: Sequence[BagItem]) -> tuple[Ball, ...]:
    """The bag's strike balls with the surfaces that the sheet puts on."""
    owned = {ball.name: ball for ball in event.locker if ball.role is Role.STRIKE}
    return tuple(_finished(owned[item.ball], item) for item in bag if item.ball in owned)


def _finished(ball: Ball, item: BagItem) -> Ball:
    if not item.fresh_surface:
        return ball
    put_on = Surface.put_on(item.surface_grit)
    if item.surface_by == Tool.HAND:
        put_on = replace(put_on, by=Tool.HAND, under=ball.surface)
    return replace(ball, surface=put_on)


def _line_of(event: Event, card: LineCard) -> MeantLine:
    change = ReleaseChange(
        card.speed_change_mph * MPH_MPS, card.axis_rotation_change_deg * DEGREE_RAD
    )
    own = own_board(card.laydown_board, event.bowler.hand)
    return MeantLine(own, card.launch_angle_deg, change)


def _story(
    event: Event, ground: Groundwork, lane: int, start: FloatArray, end: FloatArray
) -> LaneStory:
    """One lane at the shares of a game, any ball."""
    bowler, count = event.bowler, len(SHARES)
    fresh = own_frame(ground.films.fresh[lane], bowler.hand)
    worn = [own_frame(start + share * (end - start), bowler.hand) for share in SHARES]
    return LaneStory(
        lane=np.full(count, lane),
        kinds={lane: lane_kind(event.lane(lane), bowler.hand)},
        fresh=np.stack([fresh] * count),
        worn=np.stack(worn),
        bodies=bodies_of(event.locker[:1], event.house, bowler.pap_m),
        body=np.zeros(count, np.int64),
        releases=(bowler.release,) * count,
        scatter=bowler.scatter,
        table=ground.table,
    )


def _best_lines(
    event: Event, ground: Groundwork, lane: int, film: FloatArray, balls: Sequence[Ball]
) -> list[MeantLine]:
    """Each ball's best line on a lane as planned."""
    bowler = event.bowler
    values = line_values(
        np.ascontiguousarray(own_frame(film, bowler.hand))[None],
        np.ones(1),
        bowler.release,
        bowler.scatter,
        lane_kind(event.lane(lane), bowler.hand),
        bodies_of(list(balls), event.house, bowler.pap_m),
        ground.pins,
        line_grid(bowler.reach, bowler.hand),
    )
    cells = [values.best_cell(place) for place in range(len(balls))]
    grid = values.grid
    return [
        MeantLine(
            float(grid.own_laydown[row]),
            float(grid.angle_rad[column]) / DEGREE_RAD,
            ReleaseChange(),
        )
        for row, column in cells
    ]


def _table(
    event: Event,
    story: LaneStory,
    ball: Ball,
    line: MeantLine,
    game: int,
    lane: int,
    planned: bool,
) -> LaneTable:
    reach, hand = event.bowler.reach, event.bowler.hand
    own_reach = sorted(own_board(board, hand) for board in reach.laydown_boards)
    laydowns = _places(line.own_laydown, LINE_BOARDS, LAYDOWN_STEP_BOARDS, own_reach, STRAY_BOARDS)
    angles = _places(
        line.angle_deg,
        LINE_DEG,
        ANGLE_STEP_DEG,
        _each(reach.launch_angle_rad, DEGREE_RAD),
        STRAY_RAD / DEGREE_RAD,
    )
    base = rolled_as_planned(story, laydowns, angles)
    drawn, numbers = design_of(line, laydowns, angles)
    how = fitted(numbers, moved_marks(story, drawn))
    centre = own_marks(story, line)
    straight = line.own_laydown - BOARDS_PER_RAD * np.tan(line.angle_deg * DEGREE_RAD)
    return LaneTable(
        game=game,
        lane=lane,
        ball=ball.name,
        surface_grit=ball.surface.named,
        planned=planned,
        laydown=hundredths_of(line.own_laydown),
        angle=hundredths_of(line.angle_deg),
        laydowns=_told(laydowns, LAYDOWN_STEP_BOARDS),
        angles=_told(angles, ANGLE_STEP_DEG),
        target_off=hundredths_of(straight - centre[Mark.TARGET]),
        speed_change_mph=line.change.speed_mps / MPH_MPS,
        axis_rotation_change_deg=line.change.rotation_rad / DEGREE_RAD,
        breakpoint=mark_table(base, how, Mark.BREAKPOINT),
        entry=mark_table(base, how, Mark.ENTRY),
        entry_angle=mark_table(base, how, Mark.ANGLE),
    )


def _places(
    middle: float, half: float, step: float, reach: Sequence[float], stray: float
) -> FloatArray:
    """Places about a middle one, within what is in reach and what is strayed beyond it."""
    steps = np.arange(-np.ceil((half + stray) / step), np.ceil((half + stray) / step) + 1)
    places = middle + step * steps
    return places[(places >= reach[0] - stray - 1e-9) & (places <= reach[1] + stray + 1e-9)]


def _told(places: FloatArray, step: float) -> Places:
    return Places(hundredths_of(float(places[0])), hundredths_of(step), len(places))


def _draws() -> tuple[tuple[tuple[int, ...], ...], tuple[tuple[int, ...], ...]]:
    """Draws of all numbers and of what a lane has for itself, in hundredths of a deviation; the
    latter in an order of their own, so that any lane may take them from any place on."""
    rng = np.random.default_rng(SEED)
    deviations = ndtri(qmc.Sobol(len(NUMBERED) + len(OF_A_LANE), rng=rng).random(DRAWS))
    whole = np.rint(HUNDREDTHS * deviations).astype(int)
    own = rng.permutation(whole[:, len(NUMBERED) :])
    return tuple(map(tuple, whole[:, : len(NUMBERED)].T.tolist())), tuple(
        map(tuple, own.T.tolist())
    )
