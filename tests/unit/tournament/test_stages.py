"""Stages one after the other: who goes on, with which pins, and everybody's final place."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from nextpair.domain.errors import InvalidValueError
from nextpair.domain.format import PinsTaken, Stage, StageKind
from nextpair.tournament.cut import places_held
from nextpair.tournament.field_model import FieldModel
from nextpair.tournament.stages import finish_of
from nextpair.tournament.totals import draw_totals
from unit.tournament.match_play import DRAWS, GAME_SD_PINS, errors_of

CARRIED, RESET = PinsTaken.CARRIED, PinsTaken.RESET
EVERY_KIND = [
    (Stage(StageKind.BLOCK, 6, 4, CARRIED),),
    (Stage(StageKind.BLOCK, 6, 4, RESET), Stage(StageKind.STEP_LADDER, 3)),
    (Stage(StageKind.ROUND_ROBIN, 6, 1, CARRIED), Stage(StageKind.STEP_LADDER, 4)),
    (Stage(StageKind.SINGLE_ELIMINATION, 7, 3),),
    (Stage(StageKind.DOUBLE_ELIMINATION, 8, 2), Stage(StageKind.BLOCK, 2, 2)),
]


def field(totals, forms=None, left=0, doubt=0.0):
    """Bowlers of one squad with these totals, and so many games left each."""
    n = len(totals)
    return FieldModel(
        names=tuple(f"bowler {number}" for number in range(n)),
        totals=np.asarray(totals),
        games_left=np.full(n, left),
        form_pins=np.full(n, 200.0) if forms is None else np.asarray(forms, dtype=float),
        form_sd_pins=np.full(n, doubt),
        game_sd_pins=GAME_SD_PINS,
        squads=np.zeros(n, dtype=int),
        squad_sd_pins=5.0,
        me=0,
    )


def finish(stages, model, draws=DRAWS, seed=1):
    rng = np.random.default_rng(seed)
    return finish_of(stages, model, draw_totals(model, draws, rng), rng)


def winning(stages, model):
    return np.mean(finish(stages, model).places == 1, axis=0)


@pytest.mark.parametrize("stages", [(), *EVERY_KIND])
def test_everybody_has_a_place_and_those_out_of_a_stage_keep_theirs(stages):
    end = finish(stages, field([0] * 12, np.linspace(215, 180, 12), 6, 9.0), draws=500)
    assert np.array_equal(np.sort(end.places, axis=1), np.tile(np.arange(1, 13), (500, 1)))
    own = [np.take_along_axis(end.places, bowlers, axis=1) for bowlers in end.stages]
    for stage, places in zip(stages, own, strict=True):
        assert places.max() == stage.entrants
    for before, after, places in zip(end.stages, end.stages[1:], own, strict=False):
        on = after.shape[1]
        assert np.array_equal(np.sort(before[:, :on]), np.sort(after))
        assert np.all(places[:, on:] == np.arange(on + 1, before.shape[1] + 1))


@pytest.mark.parametrize("stages", EVERY_KIND)
def test_equals_reach_and_win_alike(stages):
    model = field([0] * 12, left=6, doubt=9.0)
    end = finish(stages, model)
    assert np.all(np.abs(np.mean(end.places == 1, axis=0) - 1 / 12) <= 4 * errors_of(1 / 12))
    for stage, bowlers in zip(stages, end.stages, strict=True):
        there = np.bincount(bowlers.ravel(), minlength=12) / DRAWS
        share = stage.entrants / 12
        assert np.all(np.abs(there - share) <= 4 * errors_of(share))


@pytest.mark.parametrize("stages", EVERY_KIND)
def test_a_better_bowler_never_wins_less_often(stages):
    chances = winning(stages, field([0] * 8, np.linspace(214, 186, 8), 6, 6.0))
    assert np.all(np.diff(chances) <= 0)


def test_a_tie_at_the_cut_gives_everybody_their_share_of_the_places():
    model = field([600, 580, 580, 580, 570, 580])
    end = finish((Stage(StageKind.STEP_LADDER, 3),), model)
    (bowlers,) = end.stages
    there = np.bincount(bowlers.ravel(), minlength=6) / DRAWS
    held = places_held(model.totals[None, :], 3)[0]
    assert held.tolist() == [1, 0.5, 0.5, 0.5, 0, 0.5]
    assert np.all(np.abs(there - held) <= 4 * errors_of(held))


@pytest.mark.parametrize("games", [2, 6])
def test_carried_pins_are_a_lead_and_reset_ones_are_none(games):
    model = field([1230, 1200])
    lead = stats.norm.cdf(30 / (np.sqrt(2 * games) * GAME_SD_PINS))
    carried, reset = (
        winning((Stage(StageKind.BLOCK, 2, games, pins),), model)[0] for pins in (CARRIED, RESET)
    )
    assert carried == pytest.approx(lead, abs=4 * errors_of(lead))
    assert reset == pytest.approx(0.5, abs=4 * errors_of(0.5))


def test_a_round_robin_adds_its_bonus_to_what_is_carried():
    model = field([1230, 1200])
    stage = Stage(StageKind.ROUND_ROBIN, 2, 1, CARRIED)
    # Behind by 30, of two equals: with 60 for a win every match that is won wins, a tied one not.
    won = winning((replace(stage, win_bonus_pins=60),), model)[1]
    tied = stats.norm.pdf(0, 0, np.sqrt(2) * GAME_SD_PINS)
    assert won == pytest.approx((1 - tied) / 2, abs=4 * errors_of(0.5))
    behind = stats.norm.sf(30 / (np.sqrt(2) * GAME_SD_PINS))
    bonus_free = winning((replace(stage, win_bonus_pins=0, tie_bonus_pins=0),), model)[1]
    assert bonus_free == pytest.approx(behind, abs=4 * errors_of(behind))


def test_pins_of_a_block_seed_the_next_stage_and_are_carried_on():
    far_ahead = field([3000, 1200, 1200, 1200])
    block = Stage(StageKind.BLOCK, 4, 2, CARRIED)
    assert winning((block, block), far_ahead)[0] == 1
    ladder = winning((block, Stage(StageKind.STEP_LADDER, 3)), far_ahead)
    assert ladder[0] == pytest.approx(0.5, abs=4 * errors_of(0.5))
    matches = Stage(StageKind.SINGLE_ELIMINATION, 4)
    after_matches = winning((block, matches, replace(block, entrants=2)), far_ahead)
    # Once through the first match of equals, what is carried cannot be made up.
    assert after_matches[0] == pytest.approx(0.5, abs=4 * errors_of(0.5))


def test_who_scores_more_to_come_than_believed_wins_more_after_the_cut():
    stages = (Stage(StageKind.SINGLE_ELIMINATION, 2, 3),)
    model = field([0, 0, 0, 0], left=6, doubt=14.0)
    rng = np.random.default_rng(1)
    totals = draw_totals(model, DRAWS, rng)
    end = finish_of(stages, model, totals, rng)
    (bowlers,) = end.stages
    best_two = np.sort(totals, axis=1)[:, -2:]
    apart = best_two[:, 1] - best_two[:, 0]
    first = np.take_along_axis(totals, bowlers[:, :1], axis=1)[:, 0] == best_two[:, 1]
    assert first[apart > np.median(apart)].mean() > 0.5 + 4 * errors_of(0.5, DRAWS / 2)


def test_more_entrants_than_bowlers_are_all_bowlers():
    end = finish((Stage(StageKind.DOUBLE_ELIMINATION, 8),), field([500, 400, 300]), draws=50)
    assert end.stages[0].shape == (50, 3)
    alone = finish((Stage(StageKind.ROUND_ROBIN, 8),), field([500]), draws=50)
    assert np.all(alone.places == 1)


def test_a_round_robin_of_too_many_is_refused():
    with pytest.raises(InvalidValueError):
        Stage(StageKind.ROUND_ROBIN, 65)
    assert Stage(StageKind.STEP_LADDER, 65).entrants == 65
