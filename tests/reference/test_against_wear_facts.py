"""Wear, contact and flare against what is published and against programs of the model sheet.

All expected numbers, with their sources, are in data/wear.toml.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from nextpair.domain.ball import BALL_RADIUS_M, Ball, Cover, Layout, Surface
from nextpair.domain.lane import BOARD_M, BOARDS, CELL_M, CELLS, board_to_x_m
from nextpair.domain.units import DEGREE_RAD, FOOT_M, INCH_M, OIL_UNIT_UM, POUND_KG
from nextpair.kernel.flare import flare_m
from nextpair.kernel.layout import NODE_M, NODES, Trace
from nextpair.kernel.wear import wear
from nextpair.physics.contact import (
    contact_modulus_pa,
    contact_radius_m,
    peak_pressure_pa,
    wetted_width_m,
)
from nextpair.physics.layout import GRIP_RADIUS_M, axes_to_quaternion, core_axes
from nextpair.physics.reference import roll
from nextpair.physics.rigid_body import to_body
from nextpair.physics.wear import (
    WearLaw,
    ball_flare_m_per_rev,
    flare_per_revolution_m,
    split_films_um,
)
from reference.record import load_entry
from reference.releases import FOOT_OF_PINS_M, B, two_zones

FACTS = "wear"
STRONG_FLARE_M = 0.010
"""Rings of a strong reactive ball, farther apart than the track is wide."""
WEAK_FLARE_M = 0.0012
"""Rings of a spare ball or an old urethane ball, which overlap."""
SHEET_LAW = WearLaw(removal_share=1.0, retained_um=0.0)
PATTERN_M = 41.0 * FOOT_M
FILM_OF_25_ML_ON_41_FT_UM = 1.898
UL_PER_CELL_UM = CELL_M * BOARD_M * 1e3


def test_a_dry_ball_takes_the_share_of_a_film_split(record):
    ratios = load_entry(FACTS, "film_split")["surface_ratio"]
    left_um = [split_films_um(1.0, 0.0, ratio, 1.0, 0.0)[0] for ratio in ratios]
    record.published(FACTS, "film_split", lost_share=1.0 - np.array(left_um))


def test_ball_and_lane_touch_on_a_patch_of_known_size(record):
    fact = load_entry(FACTS, "contact")
    modulus_pa = contact_modulus_pa(*fact["cover"], *fact["lane"])
    radius_m = contact_radius_m(fact["load_n"], fact["ball_radius_m"], modulus_pa)
    record.published(
        FACTS,
        "contact",
        radius_mm=radius_m * 1e3,
        peak_pressure_mpa=peak_pressure_pa(fact["load_n"], radius_m) * 1e-6,
    )


def test_a_thicker_film_is_wetted_wider(record):
    fact = load_entry(FACTS, "wetted_width")
    patch_m = fact["patch_radius_mm"] * 1e-3
    widths_m = [wetted_width_m(patch_m, BALL_RADIUS_M, film * 1e-6) for film in fact["film_um"]]
    record.published(FACTS, "wetted_width", width_mm=np.array(widths_m) * 1e3)


def recorded_b(rg_in, pin_angle_deg):
    """Trace (8, 121, 1) of release B by the slow oracle, and its revolutions."""
    layout = Layout(pin_angle_deg * DEGREE_RAD * GRIP_RADIUS_M, 60.0 * DEGREE_RAD, 0.0)
    axis = np.array(B.spin_radps) / np.linalg.norm(B.spin_radps)
    core = axes_to_quaternion(*core_axes(layout, tuple(axis)))
    rolled = roll(B.start(tuple(rg_in), core), two_zones, end_m=FOOT_OF_PINS_M, creep_mps=0.01)
    spin = np.array([to_body(*moment.core, *moment.spin_radps) for moment in rolled.moments])
    rate_radps = np.linalg.norm(spin, axis=1)
    down_m = [moment.y_m for moment in rolled.moments]
    trace = np.zeros((len(Trace), NODES, 1), np.float32)
    for row, part in zip(
        (Trace.AXIS_LOW, Trace.AXIS_HIGH, Trace.AXIS_MIDDLE), spin.T, strict=True
    ):
        trace[row, :, 0] = np.interp(NODE_M, down_m, part / rate_radps)
    time_s = [moment.time_s for moment in rolled.moments]
    return trace, np.trapezoid(rate_radps, time_s) / (2.0 * math.pi)


@pytest.mark.parametrize(
    "key", ["flare", "flare_asymmetric", "flare_low_differential", "flare_far_pin"]
)
def test_rings_spread_as_far_as_the_axis_wanders(record, key):
    fact = load_entry(FACTS, key)
    trace, revolutions = recorded_b(fact["radii_of_gyration_in"], fact["pin_angle_deg"])
    achieved = {"flare_in": flare_m(trace, FOOT_OF_PINS_M)[0] / INCH_M}
    if key == "flare":
        achieved["revolutions"] = revolutions
    record.published(FACTS, key, **achieved)


def test_flare_follows_the_published_path_of_the_axis(record):
    fact = load_entry(FACTS, "axis_path")
    pin_rad = fact["pin_angle_deg"] * DEGREE_RAD
    radii_m = tuple(rg_in * INCH_M for rg_in in fact["radii_of_gyration_in"])
    spacing_m = flare_per_revolution_m(radii_m, pin_rad, 60.0 * DEGREE_RAD, BALL_RADIUS_M)
    circle_m = BALL_RADIUS_M * np.sin(pin_rad)
    turned_deg = fact["revolutions"] * spacing_m / circle_m / DEGREE_RAD
    record.published(FACTS, "axis_path", round_the_pin_deg=turned_deg)


def test_flare_is_greatest_near_an_eighth_of_the_ball(record):
    pins_in = np.arange(0.5, 6.75, 0.01)
    flares_m = [
        ball_flare_m_per_rev(
            Ball(
                "even core",
                15.0 * POUND_KG,
                2.50 * INCH_M,
                0.045 * INCH_M,
                0.0,
                Cover.SOLID,
                Surface(2000),
                Layout(pin_in * INCH_M, 50.0 * DEGREE_RAD, 40.0 * DEGREE_RAD),
            )
        )
        for pin_in in pins_in
    ]
    record.published(FACTS, "greatest_flare", pin_to_pap_in=pins_in[np.argmax(flares_m)])


def surface_ratio_of_a_league_shot() -> np.ndarray:
    """0.58 at the release, 0.69 where the oil ends, 1 in roll: release B of the model sheet."""
    return np.interp(NODE_M, [0.0, 12.19, 15.42], [0.576, 0.689, 1.0])


def demonstration(spacing_m: float):
    """Oil taken, film at 9 m, oil and peak past the end, at shots 1, 5, 20 down the middle."""
    centre_m = (np.arange(CELLS) + 0.5) * CELL_M
    along_um = np.interp(centre_m, [0.0, 10.0, 12.2, 12.2 + 1e-9], [4.0, 4.0, 0.5, 0.0])
    film_um = np.repeat(along_um[:, None], BOARDS, axis=1)
    past = along_um == 0.0
    rows = []
    for shot in range(1, 21):
        worn = wear(
            film_um,
            np.zeros((1, NODES)),
            surface_ratio_of_a_league_shot()[None],
            np.array([spacing_m]),
            law=SHEET_LAW,
        )
        film_um = worn.strips_um
        if shot in (1, 5, 20):
            track_um = film_um[:, film_um.shape[1] // 2]
            past_ul = worn.film_um[past].sum() * UL_PER_CELL_UM
            at_9_m_um = np.interp(9.0, centre_m, track_um)
            rows.append((worn.cover_ul[0], at_9_m_um, past_ul, track_um[past].max()))
    return np.array(rows).T


def test_shots_with_rings_apart_take_what_a_separate_program_takes(record):
    removed_ul, at_9_m_um, past_ul, _ = demonstration(0.02)
    record.published(
        FACTS,
        "demonstration_flaring",
        removed_ul=removed_ul,
        film_at_9_m_um=at_9_m_um,
        carried_past_the_end_ul=past_ul,
    )


def test_shots_on_one_ring_carry_what_a_separate_program_carries(record):
    removed_ul, at_9_m_um, past_ul, peak_um = demonstration(0.0)
    record.published(
        FACTS,
        "demonstration_not_flaring",
        removed_ul=removed_ul,
        film_at_9_m_um=at_9_m_um,
        carried_past_the_end_ul=past_ul,
        carried_peak_um=peak_um[:2],
    )


def traffic(shots: int, scatter_boards: float) -> np.ndarray:
    """Positions (n, 121) of straight shots that scatter about board 12."""
    boards = np.random.default_rng(8).normal(12.0, scatter_boards, shots)
    return np.repeat(board_to_x_m(boards)[:, None], NODES, axis=1)


def worn_by(fact, spacing_m: float, film_um: float = FILM_OF_25_ML_ON_41_FT_UM):
    """An even film of 41 ft before and after a fact's traffic, and its wear."""
    fresh_um = np.zeros((CELLS, BOARDS))
    fresh_um[: int(PATTERN_M / CELL_M)] = film_um
    shots = fact["shots"]
    ratio = np.repeat(surface_ratio_of_a_league_shot()[None], shots, axis=0)
    x_m = traffic(shots, fact["scatter_boards"])
    return fresh_um, wear(fresh_um, x_m, ratio, np.full(shots, spacing_m))


OILED = slice(0, int(PATTERN_M / CELL_M))
PAST = slice(int(PATTERN_M / CELL_M), CELLS)


def test_practice_and_one_game_on_one_line_take_the_published_share(record):
    fresh_um, worn = worn_by(load_entry(FACTS, "oil_loss"), STRONG_FLARE_M)
    lost = 1.0 - worn.film_um[OILED] / fresh_um[OILED]
    record.published(FACTS, "oil_loss", lost_share=lost.max(axis=1).min())


def test_three_games_take_the_published_share_of_the_zone_of_a_track(record):
    fresh_um, worn = worn_by(load_entry(FACTS, "track_zone"), STRONG_FLARE_M)
    zone = slice(10, 13)
    lost = 1.0 - worn.film_um[OILED, zone] / fresh_um[OILED, zone]
    record.published(FACTS, "track_zone", lost_share=lost.mean())


def test_a_league_session_leaves_less_than_three_units_somewhere(record):
    fact = load_entry(FACTS, "league_session")
    _, worn = worn_by(fact, STRONG_FLARE_M, fact["outside_units"] * OIL_UNIT_UM)
    least_units = worn.film_um[OILED].min(axis=1).mean() / OIL_UNIT_UM
    record.published(FACTS, "league_session", least_units=least_units)


def test_weak_flare_carries_oil_past_the_end(record):
    _, worn = worn_by(load_entry(FACTS, "carrydown"), WEAK_FLARE_M)
    units = worn.film_um[PAST].max(axis=1) / OIL_UNIT_UM
    record.published(
        FACTS,
        "carrydown",
        most_units=units.max(),
        reach_m=np.count_nonzero(units > 0.5) * CELL_M,
    )


def test_strong_flare_carries_none(record):
    fresh_um, worn = worn_by(load_entry(FACTS, "carrydown"), STRONG_FLARE_M)
    removed_um = (fresh_um - worn.film_um)[OILED].sum()
    record.published(
        FACTS, "reactive_carrydown", past_share_of_removed=worn.film_um[PAST].sum() / removed_um
    )
