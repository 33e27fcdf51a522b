"""What everybody is believed to score in a game to come, from the games that they bowled.

A game's pins are the field's mean, plus what the bowler is above it, plus what the squad's lanes
give or take, plus noise. The noise of one game and the spread of bowlers come from the field's own
games and from published ones, so that four games of six bowlers do not decide them alone; each
bowler's mean is then drawn toward what is expected of somebody in that squad.

Source: [facts] section 9: one game's standard deviation about a bowler's own level 27.4 pins,
pooled from tour records; standard deviations of 12-game means 14.3 and 17.9, of which the noise of
12 games is 7.9. [gelman-2013] chapter 5: means drawn toward the mean of their group.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from nextpair.tournament.field_model import Floats, Wholes

GAME_SD_PINS, GAME_SD_WEIGHT = 27.4, 20
"""Of one game about a bowler's level, and how many degrees of freedom the published value is
worth."""
BOWLER_SD_PINS, BOWLER_SD_WEIGHT = 14.0, 10
"""Of bowlers' levels in one event, and what the published value is worth. The published standard
deviations of 12-game means, less the noise of 12 games, are 12.0 and 16.1."""
SQUAD_SD_PINS = 5.0
"""Of what a squad's lanes give or take a game. Assumption."""
LEAST_BOWLER_SD_PINS = 3.0
AVERAGE_SLOPE, AVERAGE_SLOPE_WEIGHT = 0.7, 10 * 14.0**2
"""Pins of level for one pin of the average somebody entered with, before the field says otherwise,
and the sum of squared averages that this is worth. Assumption."""
USUAL_MEAN_PINS = 200.0
"""Of a field of whom no game and no average is known. [facts] section 9: pattern means of one
world series lie between 196.5 and 215.9."""


@dataclass(frozen=True, slots=True, eq=False)
class FieldGames:
    """The games of n bowlers, in one order.

    pins : (n, games); not a number for a game that nobody wrote down.
    squads : (n,) number of everybody's squad, from 0.
    averages : (n,) entered with; not a number where unknown.
    """

    pins: Floats = field(repr=False)
    squads: Wholes = field(repr=False)
    averages: Floats = field(repr=False)


@dataclass(frozen=True, slots=True, eq=False)
class Form:
    """What is believed of n bowlers' levels.

    mean_pins, mean_sd_pins : of the field, and the doubt of that.
    level_pins, level_sd_pins : (n,) of everybody's games to come.
    expected_pins : (n,) what would be believed of them without their own games.
    game_sd_pins, bowler_sd_pins : of one game about a level, of levels about what is expected;
        where others told averages, levels of who told none lie farther about it.
    """

    mean_pins: float
    mean_sd_pins: float
    level_pins: Floats = field(repr=False)
    level_sd_pins: Floats = field(repr=False)
    expected_pins: Floats = field(repr=False)
    game_sd_pins: float
    bowler_sd_pins: float


def form_of(games: FieldGames) -> Form:
    """Everybody's form."""
    bowled = np.sum(~np.isnan(games.pins), axis=1)
    seen = bowled > 0
    means = np.full(len(bowled), np.nan)
    means[seen] = np.nanmean(games.pins[seen], axis=1)
    if not seen.any():
        return _unseen(games)
    game_variance = _game_variance(games.pins[seen], means[seen])
    from_averages = average_effects(means, games.squads, games.averages)
    noise = game_variance / np.maximum(bowled, 1)
    rest = means - from_averages
    mean = float(np.mean(rest[seen]))
    unexplained = unexplained_variances(from_averages, seen, games.averages)
    squad_rests = {
        one: rest[seen & (games.squads == one)] for one in np.unique(games.squads[seen])
    }
    added = (unexplained[seen & (games.squads == one)] for one in squad_rests)
    bowler_variance = _bowler_variance(
        squad_rests.values(), float(np.mean(noise[seen])), sum(map(_added_squares, added))
    )
    variances = bowler_variance + unexplained
    mean_variance = float(np.mean((variances + noise)[seen])) / int(seen.sum())
    expected = mean + from_averages
    for one, rests in squad_rests.items():
        here = games.squads == one
        doubt = float(np.mean((variances + noise)[seen & here])) / len(rests)
        kept = SQUAD_SD_PINS**2 / (SQUAD_SD_PINS**2 + doubt)
        expected[here] += kept * (float(np.mean(rests)) - mean)
    kept_of = np.where(seen, variances / (variances + noise), 0.0)
    return Form(
        mean_pins=mean,
        mean_sd_pins=float(np.sqrt(mean_variance + SQUAD_SD_PINS**2 / len(squad_rests))),
        level_pins=expected + kept_of * np.where(seen, means - expected, 0.0),
        level_sd_pins=np.sqrt(variances * (1 - kept_of)),
        expected_pins=expected,
        game_sd_pins=float(np.sqrt(game_variance)),
        bowler_sd_pins=float(np.sqrt(bowler_variance)),
    )


def average_effects(means: Floats, squads: Wholes, averages: Floats) -> Floats:
    """(n,) pins that everybody's average promises over the field's mean; 0 for all where fewer
    than half of those seen told theirs."""
    seen, told = ~np.isnan(means), ~np.isnan(averages)
    both = seen & told
    if 2 * both.sum() < max(seen.sum(), 1):
        return np.zeros(len(means))
    centred, scored = averages - np.mean(averages[both]), means.copy()
    for one in np.unique(squads[both]):
        scored[squads == one] -= np.mean(means[both & (squads == one)])
    x, y = centred[both], scored[both]
    slope = (x @ y + AVERAGE_SLOPE * AVERAGE_SLOPE_WEIGHT) / (x @ x + AVERAGE_SLOPE_WEIGHT)
    return np.where(told, float(np.clip(slope, 0, 1)) * np.nan_to_num(centred), 0.0)


def unexplained_variances(
    from_averages: Floats, known: NDArray[np.bool_], averages: Floats
) -> Floats:
    """(n,) by how much levels vary more where no average was told: as much as averages explain of
    those who are known and told theirs."""
    told = ~np.isnan(averages)
    explained = from_averages[told & known]
    variance = float(np.var(explained, ddof=1)) if len(explained) > 1 else 0.0
    return np.where(told, 0.0, variance)


def _added_squares(unexplained: Floats) -> float:
    """What variances of their own add, expected, to the squares of a squad about its mean."""
    return float(np.sum(unexplained)) * (1 - 1 / len(unexplained))


def _game_variance(pins: Floats, means: Floats) -> float:
    """Of one game about its bowler's level, drawn toward the published one."""
    squares = float(np.nansum((pins - means[:, None]) ** 2))
    freedom = int(np.sum(~np.isnan(pins))) - len(means)
    return (squares + GAME_SD_WEIGHT * GAME_SD_PINS**2) / (freedom + GAME_SD_WEIGHT)


def _bowler_variance(of_squads: Iterable[Floats], noise: float, added_squares: float) -> float:
    """Of levels about their squad's mean: what is left of the spread of means once the noise of
    their games is taken off, and what those add who told no average, drawn toward the published
    one."""
    squares, freedom = -added_squares, 0
    for means in of_squads:
        squares += float(np.sum((means - np.mean(means)) ** 2))
        freedom += len(means) - 1
    known = squares - freedom * noise + BOWLER_SD_WEIGHT * BOWLER_SD_PINS**2
    return max(known / (freedom + BOWLER_SD_WEIGHT), LEAST_BOWLER_SD_PINS**2)


def _unseen(games: FieldGames) -> Form:
    """Before anybody bowled: averages, where they are told, and published spreads."""
    told = ~np.isnan(games.averages)
    mean = float(np.mean(games.averages[told])) if told.any() else USUAL_MEAN_PINS
    promised = np.where(told, AVERAGE_SLOPE * np.nan_to_num(games.averages - mean), 0.0)
    unexplained = unexplained_variances(promised, told, games.averages)
    level = mean + promised
    return Form(
        mean_pins=mean,
        mean_sd_pins=SQUAD_SD_PINS,
        level_pins=level,
        level_sd_pins=np.sqrt(BOWLER_SD_PINS**2 + unexplained),
        expected_pins=level,
        game_sd_pins=GAME_SD_PINS,
        bowler_sd_pins=BOWLER_SD_PINS,
    )
