"""Who reads the lane: what goes into a log, and what a belief makes of the next line."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nextpair.domain.bowler import Hand
from nextpair.domain.entry import level_boards
from nextpair.domain.lane import CENTRE_BOARD, mirrored_board
from nextpair.domain.sight import ENTRY_ERROR_BOARDS, TARGET_ERROR_BOARDS
from nextpair.kernel.throws import own_boards_of
from nextpair.planning.by_reading import MISREAD_BOARDS, Brought, ByReading, Eyes
from nextpair.planning.contenders import Contender
from nextpair.planning.day import Seen, bowl_event
from nextpair.planning.doubt import LaneDraws, lane_doubt
from nextpair.planning.rotation import LANES_PER_PAIR
from unit.planning.test_proof import as_planned, prepared

PLAN = prepared().plans[Contender.PLANNER]


def brought() -> Brought:
    one = prepared()
    return Brought(one.event, one.options, one.bag, one.films, one.pins, PLAN)


def seen(frame: int) -> Seen:
    """A first game's shot from the planned line."""
    day, side = as_planned(), frame % LANES_PER_PAIR
    errors = replace(day).errors[1]
    line = PLAN[0][side]
    paths = day.throw(1, side, line, 0.5, errors)
    return Seen(1, side, frame, line, paths, errors)


def logs(misread: float = 0.0, count: int = 60):
    eyes = [Eyes(seed, misread) for seed in range(count)]
    return [one.logged(as_planned(), seen(0), prepared().options) for one in eyes]


def test_what_is_logged_is_what_happened_but_for_the_errors_of_sight():
    shot = seen(0)
    told = logs()
    target = float(own_boards_of(shot.paths.arrows_x_m[0]))
    impact = shot.paths.impact
    level = level_boards(float(impact.offset_boards[0]), float(impact.entry_angle_deg[0]))
    for name, truth, spread in (
        ("target_board", target, TARGET_ERROR_BOARDS),
        ("entry_board", CENTRE_BOARD - level, ENTRY_ERROR_BOARDS),
    ):
        boards = np.array([getattr(log, name) for log in told])
        assert boards.mean() == pytest.approx(truth, abs=4 * spread / np.sqrt(len(told)))
        assert boards.std() == pytest.approx(spread, rel=0.35)
    assert {log.meant_laydown_board for log in told} == {shot.line.own_laydown}
    assert {log.lane for log in told} == {as_planned().pair(1).lanes[0]}


def test_one_shot_in_so_many_is_seen_five_boards_wrong():
    off = [
        wrong.entry_board - right.entry_board
        for right, wrong in zip(logs(), logs(misread=0.3), strict=True)
    ]
    wrong = [boards for boards in off if boards]
    np.testing.assert_allclose(np.abs(wrong), MISREAD_BOARDS)
    assert 0.1 < len(wrong) / len(off) < 0.5


def test_a_left_handers_log_counts_boards_from_the_right_edge_too():
    day = as_planned()
    left = replace(day, event=replace(day.event, bowler=replace(day.event.bowler, hand=Hand.LEFT)))
    right_log, left_log = (Eyes(3).logged(one, seen(0), prepared().options) for one in (day, left))
    assert left_log.entry_board == pytest.approx(mirrored_board(right_log.entry_board))
    assert left_log.target_board == pytest.approx(mirrored_board(right_log.target_board))


def test_who_believes_the_plan_bowls_the_plan_where_all_is_as_planned():
    """Against a reader who learns nothing: the games differ by little from the plan's."""
    doubt = lane_doubt(12, 3)
    mover = ByReading(brought(), as_planned(), lambda _log: doubt, Eyes(1))
    games = bowl_event(as_planned(), mover)
    assert len(games) == prepared().event.games
    assert mover.after_ten is not None
    assert all(game.score > 150.0 for game in games)


def test_who_believes_that_balls_turn_in_early_moves_and_scores_less_where_they_do_not():
    """A belief is acted on: a wrong one costs."""
    lanes = [lane for pair in prepared().event.pairs for lane in pair.lanes]
    own = LaneDraws(np.ones(12), np.ones(12), np.full(12, 4.0))
    wrong = replace(lane_doubt(12, 3), lanes=dict.fromkeys(lanes, own))
    right = lane_doubt(12, 3)
    scores = [
        np.mean(
            [
                game.score
                for game in bowl_event(
                    as_planned(),
                    ByReading(brought(), as_planned(), lambda _log, d=doubt: d, Eyes(1)),
                )
            ]
        )
        for doubt in (right, wrong)
    ]
    assert scores[1] < scores[0] - 10.0
