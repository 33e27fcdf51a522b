"""The main job: an event in, a sheet out."""

from __future__ import annotations

from nextpair.application.cautions import cautions_for, score_caution
from nextpair.application.film import pattern_card
from nextpair.application.model_version import model_version
from nextpair.application.ports import Progress, unwatched
from nextpair.carry.table import load_table
from nextpair.domain.ball import Ball
from nextpair.domain.event import Event
from nextpair.domain.sheet import Sheet
from nextpair.physics.dressing import film_of
from nextpair.planning.sheet import EventPlan, plan_event


def plan(event: Event, seed: int, progress: Progress = unwatched) -> Sheet:
    """The sheet of an event. The same event and seed give the same sheet."""
    table = load_table(typical_weight_kg(event.locker), event.house.pinfall)
    computed = plan_event(event, table, seed, progress)
    return Sheet(
        event=event.name,
        date=event.date.isoformat(),
        house=event.house.name,
        bowler=event.bowler.name,
        hand=event.bowler.hand.value,
        model_version=model_version(),
        seed=seed,
        rule_of_31_exit_board=computed.rule_of_31_exit_board,
        second_opinion=computed.second_opinion,
        pattern=pattern_card(event.left_pattern, film_of(event.left_pattern)),
        bag=computed.bag,
        bag_worth=computed.bag_worth,
        left_at_home=computed.left_at_home,
        practice=computed.practice,
        practice_options=computed.practice_options,
        games=computed.games,
        condition=computed.condition,
        guessed=event.guessed,
        cautions=(*_scores(event, computed), *_cautions(event, computed)),
        right_pattern=None
        if event.right_pattern == event.left_pattern
        else pattern_card(event.right_pattern, film_of(event.right_pattern)),
    )


def _scores(event: Event, computed: EventPlan) -> tuple[str, ...]:
    expected = sum(game.expected_score for game in computed.games) / len(computed.games)
    said = score_caution(event.bowler.average, expected)
    return () if said is None else (said,)


def _cautions(event: Event, computed: EventPlan) -> tuple[str, ...]:
    resurfaced = any(item.fresh_surface for item in computed.bag)
    return cautions_for(len(computed.bag), resurfaced, event.house.pinfall)


def typical_weight_kg(locker: tuple[Ball, ...]) -> float:
    """Middle weight of the locker, at which the carry table is read."""
    weights = sorted(ball.mass_kg for ball in locker)
    return weights[len(weights) // 2]
