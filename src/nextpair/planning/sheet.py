"""The sheet put together: study, choices, trials and reasons for every game."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from nextpair.carry.table import CarryTable
from nextpair.domain.errors import require
from nextpair.domain.event import Event
from nextpair.domain.sheet import BagItem, GameCard, PracticeShot
from nextpair.domain.units import DEGREE_RAD, MPH_MPS, RPM_RADPS
from nextpair.physics.film import rule_of_31_exit_board
from nextpair.planning.aim import PinValue, pin_value
from nextpair.planning.bag import BagChoice
from nextpair.planning.cards import Desk, game_card, practice_cards
from nextpair.planning.choice import GameChoice, bag_choice, game_choices
from nextpair.planning.doubt import lane_doubt
from nextpair.planning.options import ball_options, is_resurfaced, packed_spares
from nextpair.planning.reasons import NOTHING_PINS, opinion_words, purpose_words
from nextpair.planning.second_opinion import second_opinion
from nextpair.planning.spare_shots import spare_chances
from nextpair.planning.study import Study, lane_study
from nextpair.planning.throws import release_errors
from nextpair.planning.traffic import lane_films, starting_ball, throwers
from nextpair.planning.trial import Trial, try_line

DRAWS = 12
"""Draws of the doubt about each lane."""
ERRORS = 64
"""Release errors with which a chosen line is tried, for each draw."""
GUTTER_OWN_BOARD = 0.5
"""Own board at the lane's edge."""
WIDEST_BOARDS = 8.0
"""Offset, either way, beyond which a planned shot is no line."""
SPEED_KEPT = 0.83
"""Usual speed at the pins over speed at release, where the value map is read; a chosen line is
read at its own. [facts] section 5: loses 2.5 to 3 mph."""


@dataclass(frozen=True, slots=True)
class EventPlan:
    """Everything on a sheet that is computed from the event."""

    rule_of_31_exit_board: float
    second_opinion: str
    bag: tuple[BagItem, ...]
    left_at_home: tuple[BagItem, ...]
    practice: tuple[PracticeShot, ...]
    games: tuple[GameCard, ...]


def plan_event(
    event: Event, table: CarryTable, seed: int, progress: Callable[[str, int, int], None]
) -> EventPlan:
    """Plan an event: same event and seed, same plan."""
    bowler = event.bowler
    spares = spare_chances(event, table.leaves, seed)
    pins = pin_value(table, spares, SPEED_KEPT * bowler.release.speed_mps)
    people = throwers(event, starting_ball(event))
    films = lane_films(event, people, pins, seed, progress)
    study = lane_study(event, ball_options(event), lane_doubt(DRAWS, seed), films, pins, progress)
    bag = bag_choice(study)
    choices = game_choices(study, bag)
    desk = Desk(study, table, spares, bowler)
    trials = _trials(study, choices, table, pins, seed, progress)
    return EventPlan(
        rule_of_31_exit_board=rule_of_31_exit_board(event.left_pattern.length_m, bowler.hand),
        second_opinion=opinion_words(
            second_opinion(study.of_game(1)[0], trials[0][0]), trials[0][0]
        ),
        bag=_bag_items(study, bag, choices),
        left_at_home=_left_at_home(study, bag),
        practice=practice_cards(desk, choices, bag.options),
        games=tuple(game_card(desk, choices, trials, game) for game in range(1, event.games + 1)),
    )


def _trials(
    study: Study,
    choices: tuple[GameChoice, ...],
    table: CarryTable,
    pins: PinValue,
    seed: int,
    progress: Callable[[str, int, int], None],
) -> tuple[tuple[Trial, Trial], ...]:
    bowler = study.event.bowler
    errors = release_errors(bowler.scatter, ERRORS, seed)
    found = []
    for choice in choices:
        left, right = (
            try_line(line, lane, bowler, table, pins, errors)
            for line, lane in zip(choice.lines, study.of_game(choice.game), strict=True)
        )
        for trial in (left, right):
            _require_on_lane(study.event, trial)
        found.append((left, right))
        progress("rolling the chosen lines", choice.game, len(choices))
    return tuple(found)


def _require_on_lane(event: Event, trial: Trial) -> None:
    """Refuse a reach in which even the best line runs into the gutter or past the head pin."""
    release = event.bowler.release
    require(
        trial.breakpoint_board > GUTTER_OWN_BOARD and abs(trial.offset_boards) < WIDEST_BOARDS,
        "range.laydown_boards, range.launch_angle_deg",
        f"{list(event.bowler.reach.laydown_boards)}, "
        f"{[round(angle / DEGREE_RAD, 2) for angle in event.bowler.reach.launch_angle_rad]}",
        f"a range with a line that stays on the lane and meets the head pin, which at "
        f"{release.speed_mps / MPH_MPS:.1f} mph and "
        f"{release.rev_rate_radps / RPM_RADPS:.0f} rpm none of these does",
    )


def _bag_items(
    study: Study, bag: BagChoice, choices: tuple[GameChoice, ...]
) -> tuple[BagItem, ...]:
    items = []
    thrown = Counter(choice.option for choice in choices)
    main = next(c.lines[0] for c in choices if c.option == thrown.most_common(1)[0][0])
    for option, cost in zip(bag.options, bag.cost_if_left_pins_per_game, strict=True):
        games = tuple(choice.game for choice in choices if choice.option == option)
        ball = study.options[option]
        items.append(
            BagItem(
                ball=ball.name,
                surface_grit=ball.surface.named,
                cost_if_left_pins_per_game=cost,
                purpose=purpose_words(study, option, games, main),
                fresh_surface=is_resurfaced(study.event, ball),
                surface_by=ball.surface.by.value,
                games=games,
            )
        )
    items.sort(key=lambda item: -item.cost_if_left_pins_per_game)
    items.extend(
        BagItem(
            ball=ball.name,
            surface_grit=ball.surface.named,
            surface_by=ball.surface.by.value,
            cost_if_left_pins_per_game=0.0,
            purpose="Spares: goes straight on any oil.",
        )
        for ball in packed_spares(study.event)
    )
    return tuple(items)


def _left_at_home(study: Study, bag: BagChoice) -> tuple[BagItem, ...]:
    """Balls that stay at home, with what the best of each would add to the bag."""
    values = study.answered_values.reshape(len(study.options), -1)
    taken = {study.options[option].name for option in bag.options}
    held = values[list(bag.options)].max(axis=0)
    best: dict[str, tuple[float, int]] = {}
    for option, ball in enumerate(study.options):
        if ball.name not in taken:
            gain = float(np.maximum(values[option] - held, 0.0).mean())
            if ball.name not in best or gain > best[ball.name][0]:
                best[ball.name] = (gain, option)
    return tuple(
        BagItem(
            ball=name,
            surface_grit=study.options[option].surface.named,
            surface_by=study.options[option].surface.by.value,
            cost_if_left_pins_per_game=gain,
            purpose="Adds nothing to this bag."
            if gain < NOTHING_PINS
            else "Next to come if a place opens.",
        )
        for name, (gain, option) in sorted(best.items(), key=lambda item: -item[1][0])
    )
