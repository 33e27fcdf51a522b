"""Logged shots as arrays."""

from __future__ import annotations

from dataclasses import fields, replace
from uuid import UUID

import numpy as np
import pytest

from nextpair.domain.bowler import Hand
from nextpair.domain.lane import mirrored_board
from nextpair.domain.shot_log import LoggedShot
from nextpair.domain.units import MPH_MPS
from nextpair.reading.seen import NOT_SEEN, seen_of
from nextpair.scoring.leaves import MIRROR_IMAGES, parse_leave

FULL = frozenset(range(1, 11))
SHOT = LoggedShot(
    id=UUID(int=1),
    time="",
    game=1,
    frame=1,
    delivery=1,
    lane=13,
    ball="Slate Weir",
    laydown_board=23.5,
    target_board=17.0,
    speed_mph=17.4,
    breakpoint_board=9.0,
    entry_board=17.2,
    standing_before=FULL,
    standing_after=frozenset({4, 7}),
    meant_laydown_board=23.0,
    meant_target_board=16.5,
)
BOARDS = [field.name for field in fields(LoggedShot) if field.name.endswith("_board")]


def test_a_right_hander_sees_what_is_logged():
    seen = seen_of([SHOT], Hand.RIGHT)
    assert len(seen) == 1
    assert seen.lane.tolist() == [13]
    assert seen.meant_laydown.tolist() == [23.0]
    assert seen.target.tolist() == [17.0]
    assert seen.breakpoint.tolist() == [9.0]
    assert seen.entry.tolist() == [17.2]
    assert seen.speed_mps[0] == pytest.approx(17.4 * MPH_MPS)
    assert seen.leave.tolist() == [parse_leave("4-7")]


def test_a_left_hander_in_the_mirror_sees_the_same():
    boards = {name: mirrored_board(getattr(SHOT, name)) for name in BOARDS}
    left = frozenset(MIRROR_IMAGES[pin] for pin in SHOT.standing_after)
    mirrored = replace(SHOT, **boards, standing_after=left)
    for field in fields(seen_of([SHOT], Hand.RIGHT)):
        np.testing.assert_allclose(
            getattr(seen_of([mirrored], Hand.LEFT), field.name),
            getattr(seen_of([SHOT], Hand.RIGHT), field.name),
        )


def test_what_nobody_saw_is_not_a_number():
    unseen = replace(SHOT, **dict.fromkeys(BOARDS), speed_mph=None, standing_after=None)
    seen = seen_of([unseen], Hand.LEFT)
    numbers = [getattr(seen, field.name)[0] for field in fields(seen)][1:-1]
    assert np.isnan(numbers).all()
    assert seen.leave.tolist() == [NOT_SEEN]


def test_a_try_at_a_spare_tells_where_it_went_but_nothing_by_its_pins():
    spare = replace(SHOT, delivery=2, standing_before=frozenset({4, 7}), standing_after=FULL & {7})
    seen = seen_of([spare, SHOT], Hand.RIGHT)
    assert seen.leave[0] == NOT_SEEN
    assert seen.entry[0] == seen.entry[1]
