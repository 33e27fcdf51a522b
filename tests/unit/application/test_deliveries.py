"""Deliveries as they were seen, in whatever order, and the game that they make."""

from __future__ import annotations

from itertools import permutations

import pytest

from nextpair.application.deliveries import (
    LeaveShot,
    SeenDelivery,
    SeenGame,
    leave_shots,
    seen_game,
)
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.format import Counting
from nextpair.scoring.leaves import parse_leave
from nextpair.scoring.notation import game_text


def seen(frame: int, delivery: int, after: str | None = None, **known) -> SeenDelivery:
    if "before" in known:
        known["before"] = parse_leave(known["before"])
    return SeenDelivery(
        frame, delivery, after=None if after is None else parse_leave(after), **known
    )


def made(*deliveries: SeenDelivery, counting=Counting.TRADITIONAL) -> tuple[SeenGame, list]:
    refused: list[tuple[SeenDelivery, InvalidValueError]] = []
    game = seen_game(deliveries, counting, lambda *one: refused.append(one))
    return game, refused


GAME = (
    seen(1, 1, "7-10"),
    seen(1, 2, "10", before="7-10"),
    seen(2, 1, foul=True),
    seen(2, 2, "4"),
    seen(3, 1, ""),
    seen(4, 1, pins=9),
    seen(4, 2, "", pins=1),
    seen(5, 1, "6-10"),
)


@pytest.mark.parametrize(
    "first", [seen(1, 1, "1-2-3-4-5-6-7-8-9-10"), seen(1, 1, foul=True)], ids=["gutter", "foul"]
)
def test_a_second_ball_at_ten_pins_leaves_no_split(first):
    game, refused = made(first, seen(1, 2, "7-10"), seen(2, 1, "7-10"))
    assert refused == []
    assert game_text(game.game) in ("- 8, (8)", "F 8, (8)")


def test_leaves_fouls_and_counts_make_one_game():
    game, refused = made(*GAME)
    assert refused == []
    assert game_text(game.game) == "(8) 1, F 9, X, 9 /, 8"
    full = parse_leave("1-2-3-4-5-6-7-8-9-10")
    split, ten, four, pair = (parse_leave(pins) for pins in ("7-10", "10", "4", "6-10"))
    assert game.leaves == ((split, ten), (full, four), (0,), (None, 0), (pair,))


def test_the_order_of_entry_does_not_matter():
    expected, _ = made(*GAME[:5])
    for order in permutations(GAME[:5]):
        assert made(*order)[0] == expected


def test_what_first_balls_left_is_told_with_what_became_of_it():
    game, _ = made(*GAME)
    split, pair = parse_leave("7-10"), parse_leave("6-10")
    assert list(leave_shots(game.game, game.leaves)) == [
        LeaveShot(1, split, False),
        LeaveShot(5, pair, None),
    ]


def test_a_tenth_frame_meets_racks_of_its_own():
    strikes = [seen(frame, 1, "") for frame in range(1, 10)]
    game, refused = made(*strikes, seen(10, 1, ""), seen(10, 2, "3-10"), seen(10, 3, ""))
    assert refused == []
    assert game.game.score == 288
    assert [shot.made for shot in leave_shots(game.game, game.leaves)] == [True]


def test_by_the_current_frame_the_tenth_ends_with_its_strike():
    strikes = [seen(frame, 1, "") for frame in range(1, 11)]
    game, refused = made(*strikes, seen(10, 2, ""), counting=Counting.CURRENT_FRAME)
    assert game.game.score == 300
    assert [wrong.allowed for _, wrong in refused] == ["nothing: the game is over"]


@pytest.mark.parametrize(
    ("deliveries", "field", "allowed"),
    [
        ([seen(1, 2, "")], "delivery", "frame 1, delivery 1"),
        ([seen(1, 1, "10"), seen(2, 1, "")], "delivery", "frame 1, delivery 2"),
        ([seen(1, 1, "10"), seen(1, 1, "10")], "delivery", "frame 1, delivery 2"),
        ([seen(1, 1)], "standing_after", "the pins that stood"),
        ([seen(1, 1, "10"), seen(1, 2, "7")], "standing_after", "pins of 10, which stood before"),
        ([seen(1, 1, "10"), seen(1, 2, "", before="7")], "standing_before", "10, what the ball"),
        ([seen(1, 1, pins=9), seen(1, 2, "", before="7-10")], "standing_before", "1 pin, what"),
        ([seen(1, 1, pins=9), seen(1, 2, "7-10")], "standing_after", "1 pin or fewer"),
        ([seen(1, 1, pins=9), seen(1, 2, pins=2)], "frame 1", "at most 1 pins"),
        ([seen(1, 1, "10", pins=8)], "pins", "9, by the pins that stood"),
        ([seen(1, 1, pins=3, foul=True)], "pins", "0 on a foul"),
    ],
    ids=lambda value: value if isinstance(value, str) else None,
)
def test_the_first_ball_that_cannot_be_is_refused_alone(deliveries, field, allowed):
    game, refused = made(*deliveries, seen(9, 1, ""))
    assert len(refused) == 1
    ((ball, wrong),) = refused
    assert ball == deliveries[-1]
    assert wrong.field == field
    assert allowed in wrong.allowed
    assert sum(map(len, game.game.frames)) == len(deliveries) - 1
