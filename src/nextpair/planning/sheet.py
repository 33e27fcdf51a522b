"""The sheet put together: study, choices, trials and reasons for every game."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from nextpair.carry.table import CarryTable
from nextpair.domain.errors import require
from nextpair.domain.event import Event
from nextpair.domain.sheet import BagItem, BagWorth, GameCard, PracticeOption, PracticeShot
from nextpair.domain.units import DEGREE_RAD, MPH_MPS, RPM_RADPS
from nextpair.kernel.throws import release_errors
from nextpair.physics.film import rule_of_31_exit_board
from nextpair.planning.aim import PinValue, pin_value
from nextpair.planning.cards import Desk, game_card
from nextpair.planning.choice import GameChoice, bag_choice, game_choices, insured_bag
from nextpair.planning.common_spares import leaves_left
from nextpair.planning.crowd import likely_films
from nextpair.planning.doubt import Doubt, lane_doubt
from nextpair.planning.field import condition_words, conditions
from nextpair.planning.first_look import studied
from nextpair.planning.packing_list import (
    bag_items,
    bag_worth,
    left_at_home,
    spare_ball_cost_pins,
)
from nextpair.planning.practice import corner_pin_shot, weighed_practice
from nextpair.planning.practice_cards import practice_cards, practice_option_cards
from nextpair.planning.reasons import opinion_words
from nextpair.planning.release_choice import with_release_changes
from nextpair.planning.second_opinion import second_opinion
from nextpair.planning.spare_shots import spare_chances
from nextpair.planning.study import Study
from nextpair.planning.traffic import starting_ball
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
    bag_worth: BagWorth
    left_at_home: tuple[BagItem, ...]
    practice: tuple[PracticeShot, ...]
    practice_options: tuple[PracticeOption, ...]
    games: tuple[GameCard, ...]
    condition: str


def plan_event(
    event: Event,
    table: CarryTable,
    seed: int,
    progress: Callable[[str, int, int], None],
    doubt: Doubt | None = None,
) -> EventPlan:
    """Plan an event: same event, seed and doubt, same plan.

    The doubt left out is the one before the first shot.
    """
    bowler = event.bowler
    spares = spare_chances(event, table.leaves, seed)

    @cache
    def pins_at(speed_change_mps: float) -> PinValue:
        speed_mps = bowler.release.speed_mps + speed_change_mps
        return pin_value(table, spares, SPEED_KEPT * speed_mps)

    pins = pins_at(0.0)
    films = likely_films(event, starting_ball(event), pins, seed, progress)
    usual = studied(event, doubt or lane_doubt(DRAWS, seed), films, pins, progress)
    best = bag_choice(usual)
    bag = insured_bag(usual, best)
    study, choices = with_release_changes(usual, game_choices(usual, best), best.options, pins_at)
    desk = Desk(study, table, spares, bowler, pins)
    trials = _trials(study, choices, table, pins, seed, progress)
    practice = weighed_practice(study, choices, best.options, pins, seed)
    spare_cost_pins = spare_ball_cost_pins(study, bag, trials, table, spares, seed)
    others = conditions(study, table, pins, leaves_left(trials), spares, seed)
    games = tuple(
        game_card(desk, choices, trials, game, other) for game, other in enumerate(others, 1)
    )
    return EventPlan(
        rule_of_31_exit_board=rule_of_31_exit_board(event.left_pattern.length_m, bowler.hand),
        second_opinion=opinion_words(
            second_opinion(study.of_game(1)[0], trials[0][0]), trials[0][0]
        ),
        bag=bag_items(usual, bag, choices, spare_cost_pins),
        bag_worth=bag_worth(usual, bag),
        left_at_home=left_at_home(usual, bag),
        practice=practice_cards(desk, practice, corner_pin_shot(event, seed)),
        practice_options=practice_option_cards(desk, practice),
        games=games,
        condition=condition_words(bowler.average, [card.expected_score for card in games], others),
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
