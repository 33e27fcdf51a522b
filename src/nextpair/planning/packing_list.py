"""The bag as items: every ball with what it is for and what leaving it at home costs."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from nextpair.carry.table import CarryTable
from nextpair.domain.ball import Ball
from nextpair.domain.sheet import BagItem, BagWorth
from nextpair.planning.bad_case import worst_tenth
from nextpair.planning.choice import GameChoice
from nextpair.planning.common_spares import common_spares, leaves_left
from nextpair.planning.insurance import InsuredBag
from nextpair.planning.odds import frame_odds
from nextpair.planning.options import is_resurfaced, packed_spares
from nextpair.planning.reasons import (
    NOTHING_PINS,
    insured_words,
    purpose_words,
    spare_ball_words,
)
from nextpair.planning.study import Study
from nextpair.planning.trial import Trial
from nextpair.scoring.game_value import expected_score

FloatArray = NDArray[np.float64]


def bag_worth(study: Study, bag: InsuredBag) -> BagWorth:
    """What the bag is worth, and the places it leaves."""
    limit = study.event.ball_limit
    brought = len(bag.options) + len(packed_spares(study.event))
    return BagWorth(
        mean_pins_per_game=bag.mean_pins,
        bad_case_pins_per_game=bag.bad_case_pins,
        places_free=None if limit is None else limit - brought,
    )


def bag_items(
    study: Study, bag: InsuredBag, choices: tuple[GameChoice, ...], spare_cost_pins: float
) -> tuple[BagItem, ...]:
    """Balls to bring, the costliest to leave first; balls that stand in after those that are
    thrown, and spare balls last."""
    thrown = Counter(choice.option for choice in choices)
    main = next(c.lines[0] for c in choices if c.option == thrown.most_common(1)[0][0])
    items = []
    for option, cost, bad_cost, stands_in in zip(
        bag.options, bag.cost_pins, bag.bad_case_cost_pins, bag.stands_in_for, strict=True
    ):
        games = tuple(choice.game for choice in choices if choice.option == option)
        ball = study.options[option]
        items.append(
            BagItem(
                ball=ball.name,
                surface_grit=ball.surface.named,
                cost_if_left_pins_per_game=cost,
                purpose=purpose_words(
                    study, option, games, main, insured_words(study, cost, bad_cost, stands_in)
                ),
                fresh_surface=is_resurfaced(study.event, ball),
                surface_by=ball.surface.by.value,
                games=games,
                bad_case_cost_if_left_pins_per_game=bad_cost,
                stands_in_for=None if stands_in is None else study.options[stands_in[0]].name,
            )
        )
    items.sort(key=lambda item: (item.stands_in_for is not None, -item.cost_if_left_pins_per_game))
    straightest = straightest_strike(study, bag)
    items.extend(
        BagItem(
            ball=ball.name,
            surface_grit=ball.surface.named,
            surface_by=ball.surface.by.value,
            cost_if_left_pins_per_game=0.0 if place else max(spare_cost_pins, 0.0),
            bad_case_cost_if_left_pins_per_game=0.0 if place else max(spare_cost_pins, 0.0),
            purpose=spare_ball_words(straightest.name, spare_cost_pins)
            if place == 0
            else "A second ball for spares, should the first one be out.",
        )
        for place, ball in enumerate(packed_spares(study.event))
    )
    return tuple(items)


def straightest_strike(study: Study, bag: InsuredBag) -> Ball:
    """The strike ball of the bag that would be thrown at spares without a spare ball."""
    return min((study.options[o] for o in bag.options), key=lambda ball: ball.differential_m)


def spare_ball_cost_pins(
    study: Study,
    bag: InsuredBag,
    trials: tuple[tuple[Trial, Trial], ...],
    table: CarryTable,
    spares: FloatArray,
    seed: int,
) -> float:
    """Pins a game that leaving the spare ball at home costs, the straightest strike ball being
    thrown flat in its place; 0 where there is no spare ball."""
    if not packed_spares(study.event):
        return 0.0
    left = leaves_left(trials)
    event = replace(study.event, locker=(straightest_strike(study, bag),))
    otherwise = common_spares(event, table, left, spares, seed)
    strike = float(left[table.leaves.index(0)])
    with_it, without = (
        expected_score(frame_odds(strike, table.leaves, left, made))
        for made in (spares, otherwise)
    )
    return with_it - without


def left_at_home(study: Study, bag: InsuredBag) -> tuple[BagItem, ...]:
    """Balls that stay at home, with what the best of each would add to the bag."""
    found: dict[str, BagItem] = {}
    for looked in filter(None, (study, study.first_look)):
        brought = [looked.options.index(study.options[option]) for option in bag.options]
        found = _would_add(looked, brought) | found
    for option in bag.options:
        del found[study.options[option].name]
    return tuple(sorted(found.values(), key=lambda item: -item.cost_if_left_pins_per_game))


def _would_add(study: Study, brought: list[int]) -> dict[str, BagItem]:
    """By ball, what the best option of each that was studied would add to what is brought."""
    values = study.answered_values.reshape(len(study.options), -1)
    held = values[brought].max(axis=0)
    found: dict[str, BagItem] = {}
    for ball, value in zip(study.options, values, strict=True):
        raised = np.maximum(value, held)
        gain = float(raised.mean() - held.mean())
        if ball.name not in found or gain > found[ball.name].cost_if_left_pins_per_game:
            found[ball.name] = BagItem(
                ball=ball.name,
                surface_grit=ball.surface.named,
                surface_by=ball.surface.by.value,
                cost_if_left_pins_per_game=gain,
                purpose="Adds nothing to this bag."
                if gain < NOTHING_PINS
                else "Next to come if a place opens.",
                bad_case_cost_if_left_pins_per_game=float(worst_tenth(raised) - worst_tenth(held)),
            )
    return found
