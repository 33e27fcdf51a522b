"""Changes in a bowler's words: every one that the program tells, up and down, for both hands."""

from __future__ import annotations

import pytest

from nextpair.application.what_moves import LANE_AND_CORE, RELEASE
from nextpair.domain.shot import Effect
from nextpair.reports.effect_words import effect_words


def said(parameter: str, change: float | str, hand: str = "right") -> str:
    return effect_words(Effect(parameter, change, 0.0, 0.0), hand)


@pytest.mark.parametrize("change", [*RELEASE, *LANE_AND_CORE], ids=lambda change: change.parameter)
def test_every_change_has_words_that_turn_with_its_sign(change):
    there, back = said(change.parameter, change.change), said(change.parameter, -change.change)
    assert there != back
    assert f"{abs(change.change):g}" in there
    assert "-" not in there


def test_a_change_is_said_as_the_trade_says_it():
    assert said("speed_mph", -1.0) == "1 mph slower"
    assert said("rev_rate_rpm", 10.0) == "10 rpm more"
    assert said("surface_grit", 1000) == "cover made fresh at 1000"
    assert said("surface_grit", "polished") == "cover polished"


def test_inside_is_left_for_a_right_hander_and_right_for_a_left_hander():
    assert said("feet_boards", 1.0) == "feet 1 left, same target"
    assert said("feet_boards", 1.0, "left") == "feet 1 right, same target"
    assert said("target_boards", -2.0) == "target 2 right, feet stay"
    assert said("feet_and_target_boards", 1.0, "left") == "feet and target 1 right"
    assert said("tilt_in", 0.01) == "lane 0.01 in lower on the right"
    assert said("tilt_in", 0.01, "left") == "lane 0.01 in lower on the left"
