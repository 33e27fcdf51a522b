"""The line of a logged shot: which boards it was over, and the angle that crosses them."""

from __future__ import annotations

from uuid import UUID

import pytest

from nextpair.application.meant_line import meant_line
from nextpair.application.played_lines import line_boards
from nextpair.domain.bowler import Hand
from nextpair.domain.lane import BOARDS_PER_RAD, mirrored_board
from nextpair.domain.shot_log import LoggedShot
from nextpair.planning.trial import Line

TOLERANCE_BOARDS = 1e-4  # a thousandth of what a bowler can see
HOOKED_BOARDS = 0.8


def shot(**boards: float) -> LoggedShot:
    return LoggedShot(UUID(int=1), "", 1, 1, 1, 13, "Kestrel", **boards)


@pytest.mark.parametrize(
    ("boards", "line"),
    [
        ({"meant_laydown_board": 20, "meant_target_board": 13, "laydown_board": 21,
          "target_board": 15}, (20, 13)),
        ({"laydown_board": 21, "target_board": 15}, (21, 15)),
        ({"meant_laydown_board": 20, "target_board": 15}, (20, 15)),
        ({"meant_target_board": 13, "laydown_board": 21, "target_board": 15}, (21, 13)),
        ({"meant_laydown_board": 20, "laydown_board": 21}, None),
        ({"target_board": 15}, None),
    ],
)  # fmt: skip
def test_each_board_is_as_it_was_meant_or_else_as_it_was_seen(boards, line):
    assert line_boards(shot(**boards)) == line


def hooks(line: Line) -> float:
    """A lane on which balls have come inside a little by the arrows: the more, the steeper."""
    straight = line.own_laydown - BOARDS_PER_RAD * line.angle_rad
    return straight + HOOKED_BOARDS * (1 + line.angle_rad)


@pytest.mark.parametrize("boards", [(24.0, 15.0), (12.0, 12.0), (8.0, 10.0)])
def test_a_line_crosses_the_target_that_was_meant(boards):
    line = meant_line(boards, 2, Hand.RIGHT, hooks)
    assert (line.option, line.own_laydown) == (2, boards[0])
    assert hooks(line) == pytest.approx(boards[1], abs=TOLERANCE_BOARDS)


def test_a_left_handers_line_is_the_mirror_image():
    boards = (24.0, 15.0)
    image = (mirrored_board(24.0), mirrored_board(15.0))
    assert meant_line(image, 0, Hand.LEFT, hooks) == meant_line(boards, 0, Hand.RIGHT, hooks)
