"""The list of what is not known."""

from __future__ import annotations

import pytest

from nextpair.domain.errors import InvalidValueError
from nextpair.domain.unknowns import (
    OF_A_LANE,
    OF_THE_BOWLER,
    OWN_DRY_LOG,
    SHARED,
    WEAR_LOG,
    unknown_of,
)
from nextpair.planning import doubt, worlds

EVERYTHING = (*SHARED, *OF_A_LANE, *OF_THE_BOWLER)


@pytest.mark.parametrize("unknown", EVERYTHING, ids=lambda unknown: unknown.more)
def test_an_unknown_says_its_unit_its_spread_and_its_source(unknown):
    assert unknown.name.endswith(("_log", "_m", "_mps", "_rad", "_boards"))
    assert unknown.spread > 0
    assert unknown.more != unknown.less
    assert unknown.source.startswith("assumption")
    assert "tested by" in unknown.source


def test_what_all_share_has_a_name_of_its_own():
    names = [unknown.name for unknown in (*SHARED, *OF_THE_BOWLER)]
    assert len(set(names)) == len(names)


def test_a_name_leads_back_to_its_unknown():
    assert unknown_of("wear_log") is WEAR_LOG
    assert unknown_of(OWN_DRY_LOG.on(14)) is OWN_DRY_LOG
    assert all(unknown_of(unknown.name) is unknown for unknown in (*SHARED, *OF_THE_BOWLER))


@pytest.mark.parametrize("name", ["lane_14_wear_log", "lane_x_dry_log", "luck", ""])
def test_a_name_of_nothing_is_refused(name):
    with pytest.raises(InvalidValueError, match="name"):
        unknown_of(name)


def test_the_plan_and_the_worlds_doubt_as_much():
    assert unknown_of("wear_log").spread == doubt.WEAR_SD
    assert unknown_of("dry_log").spread == doubt.DRY_FRICTION_SD
    assert unknown_of("film_log").spread == doubt.FILM_SD
    assert unknown_of("lane_1_dry_log").spread == worlds.LANE_DRY_SD
    assert unknown_of("lane_1_film_log").spread == worlds.LANE_FILM_SD
