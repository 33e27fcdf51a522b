"""Typical values move the way the trade says, and never jump."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import CubicHermiteSpline, PchipInterpolator

from nextpair.domain import typical
from nextpair.domain.ball import Ball, Cover, Surface
from nextpair.domain.bowler import Hand, Style
from nextpair.domain.units import DEGREE_RAD, MPH_MPS, RPM_RADPS

RELEASE = typical.release_of(Style.ONE_HANDED)
KNOTS = np.array([120.0, 160.0, 200.0, 240.0])
BOARDS = np.array([1.0, 0.8, 0.5, 0.3])


def scatter(average):
    return typical.scatter_of(average, RELEASE)


@given(st.floats(50, 280), st.floats(0, 5))
def test_a_better_bowler_never_scatters_more(average, step):
    worse, better = scatter(average), scatter(min(average + step, 280))
    assert better.laydown_boards <= worse.laydown_boards + 1e-12
    assert better.launch_angle_rad <= worse.launch_angle_rad + 1e-12
    assert better.speed_mps <= worse.speed_mps + 1e-12
    assert better.rev_rate_radps <= worse.rev_rate_radps + 1e-12


@given(st.floats(50, 280))
def test_a_pin_of_average_changes_little(average):
    here, there = scatter(average), scatter(min(average + 1, 280))
    assert here.laydown_boards - there.laydown_boards < 0.02
    assert (here.launch_angle_rad - there.launch_angle_rad) / DEGREE_RAD < 0.01


def test_between_the_knots_it_is_the_usual_monotone_cubic():
    slopes = PchipInterpolator(KNOTS, BOARDS).derivative()(KNOTS)
    slopes[[0, -1]] = 0.0
    curve = CubicHermiteSpline(KNOTS, BOARDS, slopes)
    averages = np.linspace(120, 240, 97)
    ours = [scatter(average).laydown_boards for average in averages]
    assert ours == pytest.approx(curve(averages), abs=1e-12)


def test_revs_scatter_in_proportion():
    fast = typical.release_of(Style.TWO_HANDED)
    one, two = scatter(200), typical.scatter_of(200, fast)
    assert two.rev_rate_radps / one.rev_rate_radps == pytest.approx(
        fast.rev_rate_radps / RELEASE.rev_rate_radps
    )


@pytest.mark.parametrize("style", Style)
def test_a_typical_release_is_one_that_bowlers_deliver(style):
    release = typical.release_of(style)
    assert 16 < release.speed_mps / MPH_MPS < 20
    assert 250 < release.rev_rate_radps / RPM_RADPS < 500


@pytest.mark.parametrize("cover", Cover)
def test_a_typical_ball_is_within_the_rules(cover):
    usual = typical.ball_of(cover)
    Ball(
        name="usual",
        mass_kg=typical.BALL_MASS_KG,
        rg_m=usual.rg_m,
        differential_m=usual.differential_m,
        intermediate_m=typical.INTERMEDIATE_M,
        cover=cover,
        surface=Surface(usual.surface_grit, typical.GAMES_ON_SURFACE),
        layout=typical.LAYOUT,
        role=usual.role,
    )


@given(st.floats(0, 15))
def test_reach_is_mirrored_between_the_hands(slide_to_laydown_boards):
    right = typical.reach_of(Hand.RIGHT, slide_to_laydown_boards)
    left = typical.reach_of(Hand.LEFT, slide_to_laydown_boards)
    assert left.laydown_boards[0] == pytest.approx(40 - right.laydown_boards[1])
    assert left.laydown_boards[1] == pytest.approx(40 - right.laydown_boards[0])
    assert left.launch_angle_rad == right.launch_angle_rad
