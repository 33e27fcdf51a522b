"""The carry table told: what is shown is what the table says, for either hand."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.application.carry_map import LADDER, LADDER_ANGLES_DEG, carry_map
from nextpair.application.cautions import STRINGS
from nextpair.carry.table import load_table
from nextpair.domain.bowler import Hand
from nextpair.domain.carry import CarryMap, ImpactCard
from nextpair.domain.entry import offset_boards_of
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.house import Pinfall
from nextpair.domain.lane import mirrored_board
from nextpair.domain.units import MPH_MPS, POUND_KG
from nextpair.scoring.leaves import mirrored_leave, parse_leave, pin_count

SPEED_MPH = 16.0
TABLE = load_table(14.0 * POUND_KG)
SPEED_MPS = SPEED_MPH * MPH_MPS
RIGHT = carry_map(14.0, SPEED_MPH, impact=(2.7, 4.5))
LEFT = carry_map(14.0, SPEED_MPH, Hand.LEFT, impact=(2.7, 4.5))


def impacts(carry: CarryMap) -> list[ImpactCard]:
    assert carry.impact is not None
    told = [impact for rung in carry.ladder for impact in rung.impacts]
    return [carry.best, carry.impact, *told]


def test_the_map_holds_what_the_table_says_node_by_node():
    for angle_deg, row in zip(RIGHT.entry_angles_deg, RIGHT.strike_probability, strict=True):
        told = TABLE.strike_probability(RIGHT.offset_boards, angle_deg, SPEED_MPS)
        assert row == pytest.approx(told.tolist())
    errors = TABLE.strike_error(
        RIGHT.offset_boards, np.array(RIGHT.entry_angles_deg)[:, np.newaxis], SPEED_MPS
    )
    assert np.array(RIGHT.strike_error) == pytest.approx(errors)
    assert TABLE.inside_range(RIGHT.offset_boards, RIGHT.entry_angles_deg[-1], SPEED_MPS).all()


def test_the_table_by_board_is_read_level_with_the_head_pin():
    rows = zip(RIGHT.head_pin_boards, RIGHT.strike_probability_by_board, strict=True)
    for board, row in rows:
        for angle_deg, chance in zip(RIGHT.told_angles_deg, row, strict=True):
            offset = offset_boards_of(20.0 - board, angle_deg)
            assert chance == TABLE.strike_probability(offset, angle_deg, SPEED_MPS)


def test_an_impact_is_told_as_the_table_has_it():
    for impact in impacts(RIGHT):
        where = (impact.offset_board, impact.entry_angle_deg, SPEED_MPS)
        chances = TABLE.leave_probability(*where)
        assert impact.strike_probability == pytest.approx(chances[TABLE.leaves.index(0)])
        assert impact.strike_error == float(TABLE.strike_error(*where))
        assert 0.0 < impact.strike_error < 0.5
        assert impact.mean_pins == pytest.approx(float(TABLE.mean_pins(*where)))
        told = {parse_leave(pins): chance for pins, chance in impact.leaves}
        for leave, chance in told.items():
            assert chance == chances[TABLE.leaves.index(leave)]
        unseen = [
            chance
            for leave, chance in zip(TABLE.leaves, chances, strict=True)
            if leave and leave not in told
        ]
        assert max(unseen) <= min(told.values())
        assert list(told.values()) == sorted(told.values(), reverse=True)


def test_mean_pins_and_leaves_agree_where_every_leave_is_told():
    """Pins that fall: ten less those that stand, by the rules of scoring."""
    for impact in impacts(RIGHT):
        told = impact.strike_probability + sum(chance for _, chance in impact.leaves)
        standing = sum(pin_count(parse_leave(pins)) * chance for pins, chance in impact.leaves)
        assert 10.0 - standing - 10.0 * (1.0 - told) <= impact.mean_pins + 1e-9
        assert impact.mean_pins <= 10.0 - standing + 1e-9


def test_the_ladder_stands_on_its_boards_at_every_angle():
    for rung, (name, level) in zip(RIGHT.ladder, LADDER, strict=True):
        assert rung.name == name
        assert tuple(impact.entry_angle_deg for impact in rung.impacts) == LADDER_ANGLES_DEG
        for impact in rung.impacts:
            assert impact.head_pin_board == pytest.approx(rung.head_pin_board)
            assert 20.0 - rung.head_pin_board == pytest.approx(level)
            assert impact.contact_board == 20.0 - impact.offset_board


def test_the_window_is_how_wide_the_pocket_strikes_nine_times_in_ten():
    levels = np.arange(0.0, 7.0, 0.01)
    for angle_deg, window in zip(RIGHT.told_angles_deg, RIGHT.window_boards, strict=True):
        offsets = [offset_boards_of(level, angle_deg) for level in levels]
        wide = 0.01 * (TABLE.strike_probability(offsets, angle_deg, SPEED_MPS) >= 0.9).sum()
        assert window == pytest.approx(wide, abs=0.1)


def test_no_impact_of_the_map_strikes_better_on_average_over_a_board():
    spread = np.linspace(-0.5, 0.5, 11)

    def average(offset: float, angle_deg: float) -> float:
        return float(TABLE.strike_probability(offset + spread, angle_deg, SPEED_MPS).mean())

    best = average(RIGHT.best.offset_board, RIGHT.best.entry_angle_deg)
    others = [
        average(offset, angle_deg)
        for offset in RIGHT.offset_boards
        if offset >= 0.0
        for angle_deg in RIGHT.entry_angles_deg
    ]
    assert best >= max(others) - 1e-9


def test_a_left_hander_sees_the_mirror_image():
    assert LEFT.strike_probability == RIGHT.strike_probability
    assert LEFT.window_boards == RIGHT.window_boards
    assert LEFT.head_pin_boards == tuple(map(mirrored_board, RIGHT.head_pin_boards))
    assert LEFT.published_zone.head_pin_board == (22.0, 23.0)
    assert RIGHT.published_zone.head_pin_board == (17.0, 18.0)
    for left, right in zip(impacts(LEFT), impacts(RIGHT), strict=True):
        assert left.offset_board == right.offset_board
        assert left.strike_probability == right.strike_probability
        assert left.head_pin_board == pytest.approx(mirrored_board(right.head_pin_board))
        assert left.contact_board == pytest.approx(mirrored_board(right.contact_board))
        mirrored = [(mirrored_leave(parse_leave(pins)), chance) for pins, chance in right.leaves]
        assert [(parse_leave(pins), chance) for pins, chance in left.leaves] == mirrored


def test_pins_on_strings_are_told_from_their_own_table_with_a_caution():
    strung = carry_map(14.0, SPEED_MPH, impact=(2.7, 4.5), pinfall=Pinfall.STRING)
    table = load_table(14.0 * POUND_KG, Pinfall.STRING)
    assert (RIGHT.pinfall, strung.pinfall) == ("free", "string")
    for impact in impacts(strung):
        where = (impact.offset_board, impact.entry_angle_deg, SPEED_MPS)
        assert impact.strike_probability == pytest.approx(float(table.strike_probability(*where)))
        assert impact.strike_error == pytest.approx(float(table.strike_error(*where)))
    assert strung.best.strike_probability < RIGHT.best.strike_probability
    assert STRINGS in strung.cautions
    assert STRINGS not in RIGHT.cautions


@pytest.mark.parametrize(
    ("speed_mph", "impact", "told"),
    [
        (17.0, (2.5, 4.0), []),
        (17.0, (2.5, 14.0), ["angle"]),
        (9.0, (2.5, 4.0), ["speed"]),
        (9.0, (2.5, -14.0), ["speed", "angle"]),
        (9.0, None, ["speed"]),
    ],
)
def test_what_was_not_simulated_is_said_and_read_at_the_edge(speed_mph, impact, told):
    carry = carry_map(speed_mph=speed_mph, impact=impact)
    outside = [caution for caution in carry.cautions if "outside" in caution]
    assert [caution.split()[1] for caution in outside] == told
    if impact is not None:
        assert carry.impact is not None
        assert carry.impact.inside_range is (told == [])
        low, high = carry.simulated.entry_angle_deg
        edge = carry_map(speed_mph=speed_mph, impact=(impact[0], min(max(impact[1], low), high)))
        assert edge.impact is not None
        assert carry.impact.strike_probability == edge.impact.strike_probability


def test_a_ball_lighter_than_those_simulated_says_so():
    light = carry_map(8.0, impact=(2.5, 4.0))
    assert light.impact is not None
    assert not light.impact.inside_range
    assert "weight" in light.cautions[0]
    assert not any("weight" in caution for caution in RIGHT.cautions)


@pytest.mark.parametrize(
    ("ball_lb", "speed_mph", "impact", "field"),
    [
        (17.0, 17.0, None, "weight"),
        (5.0, 17.0, None, "weight"),
        (15.0, 40.0, None, "speed"),
        (15.0, float("nan"), None, "speed"),
        (15.0, 17.0, (25.0, 4.0), "offset"),
        (15.0, 17.0, (2.5, 60.0), "angle"),
        (15.0, 17.0, (float("nan"), 4.0), "offset"),
    ],
)
def test_what_no_ball_does_is_refused(ball_lb, speed_mph, impact, field):
    with pytest.raises(InvalidValueError, match=field):
        carry_map(ball_lb, speed_mph, impact=impact)
