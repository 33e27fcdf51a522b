"""Finishes of covers against what is published of them, in data/ball_surfaces.toml."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from event_folder import DEMO
from nextpair.application.one_path import roll_one
from nextpair.domain import typical
from nextpair.domain.ball import SMALLEST_GRIT, Cover, Role, Surface, Tool
from nextpair.domain.house import LaneSurface
from nextpair.domain.units import MICROINCH_UM
from nextpair.files import load_event
from nextpair.physics.constants import SMOOTHING_GAMES
from nextpair.physics.friction import dry_friction
from nextpair.physics.roughness import fresh_roughness_um, surface_roughness_um
from reference.record import load_authority, load_entry

AUTHORITY = "ball_surfaces"
FACTS = load_authority(AUTHORITY)


def reading_grit(surface: Surface) -> float:
    """The grit that a fresh surface of the same roughness has."""
    grits = np.arange(SMALLEST_GRIT, 5001)
    rough_um = [fresh_roughness_um(int(grit)) for grit in grits]
    return float(np.interp(-surface_roughness_um(surface), np.negative(rough_um), grits))


def test_a_500_pad_by_hand_leaves_a_3000_ball_near_1650(record):
    entry = load_entry(AUTHORITY, "pad_by_hand")
    worked = Surface(entry["pad_grit"], by=Tool.HAND, under=Surface(entry["before_grit"]))
    record.published(AUTHORITY, "pad_by_hand", reading_grit=reading_grit(worked))


def test_a_1000_ball_wears_to_4000_or_5000(record):
    entry = load_entry(AUTHORITY, "played")
    played = Surface(entry["fresh_grit"], games=entry["games"])
    record.published(AUTHORITY, "played", reading_grit=reading_grit(played))


def test_a_worn_ball_made_fresh_hooks_some_boards_more(record):
    entry = load_entry(AUTHORITY, "resurfaced")
    event = load_event(DEMO / "event.toml")
    ball = next(ball for ball in event.locker if ball.role is Role.STRIKE)

    def offset_boards(games: float) -> float:
        worn = replace(ball, surface=Surface(entry["grit"], games=games))
        shot = roll_one(replace(event, locker=(worn,)), worn.name, 24.0, 3.0)
        assert shot.entry is not None
        return shot.entry.offset_board

    record.published(
        AUTHORITY,
        "resurfaced",
        more_hook_boards=offset_boards(entry["games"]) - offset_boards(0.0),
    )


@pytest.mark.parametrize("shots_a_game", FACTS["wear"]["shots_a_game"])
def test_sanding_wears_off_over_the_shots_that_are_supposed(shots_a_game):
    fewest, most = FACTS["wear"]["shots_to_smooth"]
    assert fewest <= SMOOTHING_GAMES.value * shots_a_game <= most


def test_no_finish_is_rougher_than_a_ball_may_be():
    roughest_uin = fresh_roughness_um(SMALLEST_GRIT) / MICROINCH_UM
    assert roughest_uin <= FACTS["rule"]["largest_of_one_ball_uin"]


@pytest.mark.parametrize("cover", Cover)
def test_balls_are_sold_with_finishes_that_a_model_may_have(cover):
    roughness_uin = fresh_roughness_um(typical.ball_of(cover).surface_grit) / MICROINCH_UM
    assert roughness_uin <= FACTS["rule"]["largest_mean_uin"]


def test_grits_rank_from_rough_to_smooth():
    rough_um = [fresh_roughness_um(grit) for grit in FACTS["grit_order"]["grits_rough_to_smooth"]]
    assert rough_um == sorted(set(rough_um), reverse=True)


@pytest.mark.parametrize("cover", Cover)
def test_a_hard_new_synthetic_lane_grips_less_than_wood(cover):
    """Source: [lane-surfaces-2019]."""
    new, wood = (
        dry_friction(cover, lane, 0.0) for lane in (LaneSurface.SYNTHETIC, LaneSurface.WOOD)
    )
    assert new < wood
