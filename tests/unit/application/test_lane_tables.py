"""Lanes in tables against the kernel itself: the same lines rolled, and the same numbers moved."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from nextpair.application.lane_tables import brought, lane_tables
from nextpair.application.mark_tables import LINE_BOARDS, LINE_DEG, NUMBERED, terms_of
from nextpair.application.pin_tables import leave_map, pin_map
from nextpair.application.reading import groundwork
from nextpair.domain.lane_tables import HUNDREDTHS, LaneTable, LaneTables, MarkTable, Places
from nextpair.domain.units import DEGREE_RAD
from nextpair.kernel.layout import bodies_of, own_frame
from nextpair.kernel.throws import lane_kind
from nextpair.planning.options import in_game
from nextpair.planning.sheet import SPEED_KEPT
from nextpair.reading.answers import NUMBERS, Mark, Number, marks_at
from nextpair.reading.lane_story import LaneStory
from nextpair.scoring.leaves import FULL_RACK
from small_event import SEED, small_event, small_sheet

ROUNDED_BOARDS = 0.03  # hundredths, and second differences that carry them along a row
MISSED_BOARDS = 0.6  # beside 3.5 boards by which a bowler's own slips move a shot
SHOTS = 200


@cache
def small_tables() -> LaneTables:
    return lane_tables(small_event(), small_sheet(), SEED)


def planned_table() -> LaneTable:
    return next(table for table in small_tables().lanes if table.planned and table.game == 1)


def places_of(places: Places) -> np.ndarray:
    return (places.first + places.step * np.arange(places.count)) / HUNDREDTHS


def base_of(table: LaneTable, mark: MarkTable) -> np.ndarray:
    rows = np.array(mark.base).reshape(table.laydowns.count, table.angles.count)
    steps = np.cumsum(rows[:, 1:], axis=1)
    values = np.concatenate((rows[:, :1], rows[:, :1] + np.cumsum(steps, axis=1)), axis=1)
    return values / HUNDREDTHS


def story_of(table: LaneTable) -> LaneStory:
    """The table's lane half-way through its game, with its ball."""
    event, films = small_event(), groundwork(small_event(), small_event().games, SEED).films
    ball = next(one for one in brought(event, small_sheet().bag) if one.name == table.ball)
    start, end = films.at(table.lane, table.game), films.at(table.lane, table.game + 1)
    hand = event.bowler.hand
    return LaneStory(
        lane=np.array([table.lane]),
        kinds={table.lane: lane_kind(event.lane(table.lane), hand)},
        fresh=own_frame(films.fresh[table.lane], hand)[None],
        worn=own_frame(0.5 * (start + end), hand)[None],
        bodies=bodies_of([in_game(event, ball, 1)], event.house, event.bowler.pap_m),
        body=np.zeros(1, np.int64),
        releases=(event.bowler.release,),
        scatter=event.bowler.scatter,
        table=groundwork(event, event.games, SEED).table,
    )


def test_every_strike_ball_of_the_bag_has_a_table_on_every_lane_of_every_game():
    tables, sheet = small_tables(), small_sheet()
    balls = {item.ball for item in sheet.bag} & {
        ball.name for ball in brought(small_event(), sheet.bag)
    }
    lanes = {(game.game, lane.lane) for game in sheet.games for lane in game.lanes}
    practice = {(0, lane.lane) for lane in sheet.games[0].lanes}
    expected = {(*at, ball) for at in lanes | practice for ball in balls}
    assert {(one.game, one.lane, one.ball) for one in tables.lanes} == expected
    assert len(tables.lanes) == len(expected)


def test_the_planned_ball_stands_on_the_sheets_line():
    for game in small_sheet().games:
        for lane in game.lanes:
            table = next(
                one
                for one in small_tables().lanes
                if one.planned and (one.game, one.lane) == (game.game, lane.lane)
            )
            assert table.ball == game.ball
            assert table.laydown / HUNDREDTHS == pytest.approx(lane.line.laydown_board, abs=0.01)
            assert table.angle / HUNDREDTHS == pytest.approx(lane.line.launch_angle_deg, abs=0.01)


def test_lines_as_planned_are_those_that_the_kernel_rolls():
    table = planned_table()
    laydown, angle = np.meshgrid(places_of(table.laydowns), places_of(table.angles), indexing="ij")
    numbers = np.zeros((1, 1, laydown.size, NUMBERS))
    numbers[..., Number.LAYDOWN] = laydown.ravel()
    numbers[..., Number.ANGLE] = angle.ravel() * DEGREE_RAD
    rolled = marks_at(story_of(table), [0], numbers).reshape(*laydown.shape, len(Mark))
    for mark, told in ((Mark.BREAKPOINT, table.breakpoint), (Mark.ENTRY, table.entry)):
        off = base_of(table, told) - rolled[..., mark]
        # A hundredth of a board, and of a degree: 0.12 board at the pins.
        assert np.abs(off).max() < ROUNDED_BOARDS + 0.2
        assert np.abs(off).mean() < ROUNDED_BOARDS


def test_numbers_that_were_not_in_the_fit_move_a_shot_as_the_table_says():
    table, rng = planned_table(), np.random.default_rng(99)
    deviations = rng.normal(size=(SHOTS, len(NUMBERED)))
    off = rng.uniform(-0.5, 0.5, size=(SHOTS, 2))
    numbers = np.zeros((1, SHOTS, 1, NUMBERS))
    for place, (unknown, number) in enumerate(NUMBERED):
        numbers[0, :, 0, number] = unknown.spread * deviations[:, place]
    laydown = table.laydown / HUNDREDTHS + LINE_BOARDS * off[:, 0]
    angle = table.angle / HUNDREDTHS + LINE_DEG * off[:, 1]
    numbers[0, :, 0, Number.LAYDOWN] = laydown
    numbers[0, :, 0, Number.ANGLE] = angle * DEGREE_RAD
    as_planned = numbers.copy()
    as_planned[..., [number for _, number in NUMBERED]] = 0.0
    story = story_of(table)
    moved, planned = (marks_at(story, [0], each)[0, :, 0] for each in (numbers, as_planned))
    told = terms_of(np.column_stack((off, deviations, np.zeros(SHOTS))))
    coefficients = np.array([*table.entry.slopes, *table.entry.bends]) / HUNDREDTHS
    missed = moved[:, Mark.ENTRY] - planned[:, Mark.ENTRY] - told @ coefficients
    assert np.sqrt((missed**2).mean()) < MISSED_BOARDS
    assert np.abs(moved[:, Mark.ENTRY] - planned[:, Mark.ENTRY]).mean() > MISSED_BOARDS


def test_draws_are_normal_and_independent():
    tables = small_tables()
    draws = np.array([*tables.draws, *tables.own_draws]) / HUNDREDTHS
    assert np.abs(draws.mean(axis=1)).max() < 0.02
    assert np.abs(draws.std(axis=1) - 1.0).max() < 0.02
    assert np.abs(np.corrcoef(draws) - np.eye(len(draws))).max() < 0.15


def test_impacts_are_worth_what_the_planner_says():
    ground = groundwork(small_event(), small_event().games, SEED)
    told = pin_map(ground.pins)
    worth = np.array(told.worth).reshape(told.offsets.count, told.angles.count) / 10
    offset, angle = np.meshgrid(places_of(told.offsets), places_of(told.angles), indexing="ij")
    assert worth == pytest.approx(ground.pins.at(offset, angle, np.zeros_like(offset)), abs=0.06)


def test_chances_of_leaves_are_those_of_the_carry_table():
    ground = groundwork(small_event(), small_event().games, SEED)
    speed_mps = SPEED_KEPT * small_event().bowler.release.speed_mps
    told = leave_map(ground.table, speed_mps)
    chances = np.array(told.chances).reshape(-1, len(told.masks)) / 1000
    assert np.abs(chances.sum(axis=1) - 1.0).max() < 0.05  # a thousandth of each is rounded
    assert {0, FULL_RACK} <= set(told.masks)
    offset, angle = np.meshgrid(places_of(told.offsets), places_of(told.angles), indexing="ij")
    strikes = ground.table.strike_probability(offset, angle, speed_mps)
    assert chances[:, told.masks.index(0)] == pytest.approx(strikes.ravel(), abs=0.001)
