"""Roughness: by abrasive and tool, and smoother with play."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nextpair.domain.ball import Surface, Tool
from nextpair.domain.units import MICROINCH_UM
from nextpair.physics.constants import PLAYED_ROUGHNESS_UM, SMOOTHING_GAMES, WORKED_SHARE
from nextpair.physics.roughness import (
    POLISHED_ROUGHNESS_UIN,
    ROUGHNESS_BY_GRIT_UIN,
    fresh_roughness_um,
    surface_roughness_um,
    worked_roughness_um,
)

PLAYED_UM = PLAYED_ROUGHNESS_UM.value
grits = st.one_of(st.none(), st.integers(360, 5000))
games = st.floats(0, 200)
roughnesses_um = st.floats(0.05, 1.6)


@st.composite
def surfaces(draw):
    """A surface made on a spinner, or on top of one by either tool."""
    made = Surface(draw(grits), draw(games))
    if draw(st.booleans()):
        return made
    return Surface(draw(grits), draw(games), draw(st.sampled_from(Tool)), made)


def by_hand(grit: int | None, under: Surface, played: float = 0.0) -> float:
    return surface_roughness_um(Surface(grit, played, Tool.HAND, under))


@pytest.mark.parametrize(("grit", "roughness_uin"), ROUGHNESS_BY_GRIT_UIN)
def test_a_tabled_grit_has_its_tabled_roughness(grit, roughness_uin):
    assert fresh_roughness_um(int(grit)) == pytest.approx(roughness_uin * MICROINCH_UM)


def test_between_two_grits_the_roughness_is_between_theirs():
    halfway = round(math.sqrt(500 * 1000))
    assert fresh_roughness_um(halfway) == pytest.approx(
        math.sqrt(48.0 * 33.0) * MICROINCH_UM, rel=1e-3
    )


@given(st.integers(360, 4999))
def test_a_finer_grit_is_smoother_and_polish_is_smoothest(grit):
    coarse, fine = fresh_roughness_um(grit), fresh_roughness_um(grit + 1)
    assert coarse > fine > fresh_roughness_um(None) == POLISHED_ROUGHNESS_UIN * MICROINCH_UM


@given(roughnesses_um, roughnesses_um, st.floats(0, 1))
def test_work_ends_between_what_was_there_and_the_abrasive(before_um, abrasive_um, share):
    worked_um = worked_roughness_um(before_um, abrasive_um, share)
    low, high = sorted((before_um, abrasive_um))
    assert low - 1e-12 <= worked_um <= high + 1e-12
    assert worked_roughness_um(before_um, abrasive_um, 0.0) == before_um
    assert worked_roughness_um(before_um, abrasive_um, 1.0) == pytest.approx(abrasive_um)


def test_a_spinner_through_every_step_leaves_nothing_of_what_was_there():
    assert surface_roughness_um(Surface(1000)) == fresh_roughness_um(1000)


def test_a_pad_by_hand_gets_a_quarter_of_the_way_and_one_step_on_a_spinner_nine_tenths():
    smooth, rough = fresh_roughness_um(3000), fresh_roughness_um(500)
    for tool, share in ((Tool.HAND, 0.25), (Tool.SPINNER, 0.9)):
        worked_um = surface_roughness_um(Surface(500, by=tool, under=Surface(3000)))
        assert worked_um == pytest.approx(smooth + share * (rough - smooth))
        assert WORKED_SHARE[tool.value].value == share


@given(st.integers(360, 4999), grits, games)
def test_a_rougher_pad_by_hand_leaves_a_rougher_cover(grit, before, played):
    under = Surface(before, played)
    assert by_hand(grit, under) > by_hand(grit + 1, under)


@given(grits, st.integers(360, 4999), games)
def test_what_lay_under_a_pad_still_shows(pad, before, played):
    rougher, smoother = (by_hand(pad, Surface(grit, 0.0)) for grit in (before, before + 1))
    assert rougher > smoother
    assert by_hand(pad, Surface(before, played)) <= rougher + 1e-12


@given(surfaces(), st.floats(0.1, 50))
def test_play_takes_a_cover_toward_a_played_one_and_never_past_it(surface, more):
    made_um, now_um, later_um = (
        surface_roughness_um(Surface(surface.grit, count, surface.by, surface.under))
        for count in (0.0, surface.games, surface.games + more)
    )
    rounding_um = 1e-12
    if made_um >= PLAYED_UM:
        assert made_um + rounding_um >= now_um >= later_um - rounding_um >= PLAYED_UM - 2e-12
    elif surface.grit is None:
        assert made_um - rounding_um <= now_um <= later_um + rounding_um < PLAYED_UM
    else:
        assert made_um == pytest.approx(now_um) == pytest.approx(later_um)


def test_most_of_the_sanding_is_gone_after_six_games():
    fresh_um = 60.0 * MICROINCH_UM
    left = surface_roughness_um(Surface(360, SMOOTHING_GAMES.value)) - PLAYED_UM
    assert left == pytest.approx((fresh_um - PLAYED_UM) / math.e)


def test_what_a_pad_put_on_wears_off_as_any_sanding_does():
    under = Surface(2000)
    fresh_um, later_um = by_hand(500, under), by_hand(500, under, played=6.0)
    assert (later_um - PLAYED_UM) / (fresh_um - PLAYED_UM) == pytest.approx(1 / math.e)


@given(surfaces())
def test_no_cover_is_rougher_than_the_coarsest_grit_or_smoother_than_polish(surface):
    roughness_um = surface_roughness_um(surface)
    assert fresh_roughness_um(None) - 1e-12 <= roughness_um <= fresh_roughness_um(360) + 1e-12
