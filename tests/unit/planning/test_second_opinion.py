"""The rule of 31 beside a computed line."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from nextpair.domain.units import FOOT_M
from nextpair.kernel.throws import release_errors
from nextpair.planning.second_opinion import CLOSE_BOARDS, second_opinion
from nextpair.planning.trial import Line, Trial, try_line
from small_event import SEED, small_workings

WORK = small_workings()
LANE = WORK.study.of_game(1)[0]
RULE_BOARD = LANE.length_m / FOOT_M - 31


@cache
def trial() -> Trial:
    bowler = WORK.event.bowler
    errors = release_errors(bowler.scatter, 8, SEED)
    return try_line(WORK.choices[0].lines[0], LANE, bowler, WORK.table, WORK.pins, errors)


def leaving_at(board: float) -> Trial:
    return replace(trial(), exit_board=board)


def test_the_rules_board_is_the_length_less_31_on_the_bowlers_own_side():
    assert second_opinion(LANE, trial()).rule_board == pytest.approx(RULE_BOARD)


@pytest.mark.parametrize("apart", [-CLOSE_BOARDS + 0.01, 0.0, 2.5, CLOSE_BOARDS - 0.01])
def test_close_boards_agree(apart):
    opinion = second_opinion(LANE, leaving_at(RULE_BOARD + apart))
    assert opinion.agrees
    assert opinion.exit_board == pytest.approx(RULE_BOARD + apart)


@pytest.mark.parametrize("apart", [-CLOSE_BOARDS - 0.01, CLOSE_BOARDS + 0.01, 12.0])
def test_boards_farther_apart_want_a_reason(apart):
    assert not second_opinion(LANE, leaving_at(RULE_BOARD + apart)).agrees


def test_the_rules_line_leaves_the_oil_near_the_rules_board_and_is_worth_no_more():
    opinion = second_opinion(LANE, trial())
    assert opinion.line is not None
    assert opinion.line.option == trial().line.option
    assert opinion.loss_pins >= 0.0
    bowler = WORK.event.bowler
    errors = release_errors(bowler.scatter, 8, SEED)
    by_rule = try_line(opinion.line, LANE, bowler, WORK.table, WORK.pins, errors)
    assert by_rule.exit_board == pytest.approx(RULE_BOARD, abs=1.5)


def test_a_line_that_leaves_where_the_rule_says_loses_nothing_to_it():
    """The pattern is as long as makes the rule point at the chosen line's own exit."""
    board = float(LANE.values.exit_board[trial().line.option][_cell(trial().line)])
    lane = replace(LANE, kind=replace(LANE.kind, length_m=(31.0 + board) * FOOT_M))
    opinion = second_opinion(lane, trial())
    best = LANE.values.best_value()[trial().line.option]
    value = LANE.values.mean_value[trial().line.option][_cell(trial().line)]
    assert opinion.loss_pins <= best - value + 1e-9


def test_out_of_reach_there_is_no_line_and_no_loss():
    inside = LANE.values.exit_board.max()
    lane = replace(LANE, kind=replace(LANE.kind, length_m=(31.0 + inside + 5.0) * FOOT_M))
    opinion = second_opinion(lane, trial())
    assert opinion.line is None
    assert opinion.loss_pins == 0.0


def _cell(line: Line) -> tuple[int, int]:
    grid = LANE.values.grid
    return (
        int(abs(grid.own_laydown - line.own_laydown).argmin()),
        int(abs(grid.angle_rad - line.angle_rad).argmin()),
    )
