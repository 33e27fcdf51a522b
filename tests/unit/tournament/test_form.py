"""What is believed of everybody's level: drawn toward the squad, by the closed forms."""

from __future__ import annotations

import numpy as np
import pytest

from nextpair.tournament.form import (
    AVERAGE_SLOPE,
    AVERAGE_SLOPE_WEIGHT,
    BOWLER_SD_PINS,
    GAME_SD_PINS,
    SQUAD_SD_PINS,
    USUAL_MEAN_PINS,
    FieldGames,
    form_of,
)

NAN = float("nan")


def games(pins, squads=None, averages=None) -> FieldGames:
    pins = np.array(pins, dtype=float)
    n = len(pins)
    return FieldGames(
        pins,
        np.zeros(n, dtype=np.int64) if squads is None else np.array(squads),
        np.full(n, NAN) if averages is None else np.array(averages, dtype=float),
    )


def test_the_sum_by_hand_for_three_bowlers():
    form = form_of(games([[200, 220], [180, 200], [NAN, NAN]]))
    # Squares about two means of 210 and 190: four times 10 squared, of 2 degrees of freedom.
    game_variance = (4 * 100 + 20 * 27.4**2) / 22
    # Squares of the means about 200: 200, of 1 degree, less the noise of two games each.
    bowler_variance = (200 - game_variance / 2 + 10 * 14.0**2) / 11
    kept = bowler_variance / (bowler_variance + game_variance / 2)
    assert form.game_sd_pins == pytest.approx(game_variance**0.5)
    assert form.bowler_sd_pins == pytest.approx(bowler_variance**0.5)
    assert form.level_pins == pytest.approx([200 + 10 * kept, 200 - 10 * kept, 200])
    sd = bowler_variance**0.5
    assert form.level_sd_pins == pytest.approx(
        [sd * (1 - kept) ** 0.5, sd * (1 - kept) ** 0.5, sd]
    )


def test_before_anybody_bowled_the_published_values_stand():
    form = form_of(games([[NAN], [NAN]]))
    assert form.level_pins == pytest.approx([USUAL_MEAN_PINS] * 2)
    assert (form.game_sd_pins, form.bowler_sd_pins) == (GAME_SD_PINS, BOWLER_SD_PINS)
    told = form_of(games([[NAN], [NAN]], averages=[210, 190]))
    assert told.level_pins == pytest.approx([207, 193])


def test_a_bowler_without_games_is_expected_as_the_squad_is():
    pins = [[210.0] * 6] * 10 + [[190.0] * 6] * 10 + [[NAN] * 6] * 3
    form = form_of(games(pins, squads=[0] * 10 + [1] * 10 + [0, 1, 2]))
    doubt = (form.bowler_sd_pins**2 + form.game_sd_pins**2 / 6) / 10
    kept = SQUAD_SD_PINS**2 / (SQUAD_SD_PINS**2 + doubt)
    assert form.level_pins[20:] == pytest.approx([200 + 10 * kept, 200 - 10 * kept, 200])


def test_averages_tell_of_somebody_who_has_bowled_little():
    rng = np.random.default_rng(3)
    averages = rng.normal(200, 14, 60).round()
    pins = averages[:, None] - 15 + rng.normal(0, 27, (60, 6))
    pins[0], averages[0] = NAN, 220
    form = form_of(games(pins, averages=averages))
    without = form_of(games(pins))
    assert form.level_pins[0] == pytest.approx(205, abs=5)
    assert without.level_pins[0] == pytest.approx(185, abs=5)
    assert form.bowler_sd_pins < without.bowler_sd_pins


def test_who_told_no_average_is_in_more_doubt_by_what_averages_explain():
    """Four averages and games as they promise: 40 pins apart by 20 are 400 of variance, of which a
    slope below one is explained. The squares of who told none are not taken for the others'."""
    averages = [180.0, 200.0, 220.0, 240.0, NAN, NAN]
    pins = [[180.0] * 400, [200.0] * 400, [220.0] * 400, [240.0] * 400, [NAN] * 400, [210.0] * 400]
    form = form_of(games(pins, averages=averages))
    slope = (2000 + AVERAGE_SLOPE * AVERAGE_SLOPE_WEIGHT) / (2000 + AVERAGE_SLOPE_WEIGHT)
    explained = slope**2 * np.var(averages[:4], ddof=1)
    assert form.level_sd_pins[4] ** 2 == pytest.approx(form.bowler_sd_pins**2 + explained)
    noise = form.game_sd_pins**2 / 400
    wide = form.bowler_sd_pins**2 + explained
    assert form.level_sd_pins[5] ** 2 == pytest.approx(wide * noise / (wide + noise))
    assert form.level_sd_pins[0] < form.level_sd_pins[5]


def test_few_averages_are_passed_over():
    pins = [[200, 190], [180, 170], [210, 220]]
    some = form_of(games(pins, averages=[230, NAN, NAN]))
    assert some.level_pins == pytest.approx(form_of(games(pins)).level_pins)


def test_more_games_leave_less_doubt_and_move_the_level_further():
    rng = np.random.default_rng(5)
    pins = rng.normal(200, 27, (40, 12))
    pins[0], pins[1], pins[1, 1:] = 230, NAN, NAN
    pins[1, 0] = 230
    form = form_of(games(pins))
    assert 200 < form.level_pins[1] < form.level_pins[0] < 230
    assert form.level_sd_pins[0] < form.level_sd_pins[1] < form.bowler_sd_pins
