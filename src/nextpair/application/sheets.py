"""The main job: an event in, a sheet out."""

from __future__ import annotations

from dataclasses import replace

from nextpair.application.believed import doubt_of
from nextpair.application.cautions import cautions_for, score_caution
from nextpair.application.film import pattern_card
from nextpair.application.model_version import model_version
from nextpair.application.ports import Progress, unwatched
from nextpair.carry.table import load_table
from nextpair.domain.ball import Ball, Surface
from nextpair.domain.belief import Read
from nextpair.domain.event import Event, SurfaceChanges
from nextpair.domain.sheet import Sheet
from nextpair.domain.shot_log import PRACTICE
from nextpair.physics.dressing import film_of
from nextpair.planning.sheet import DRAWS, EventPlan, plan_event


def plan(
    event: Event, seed: int, progress: Progress = unwatched, read: Read | None = None
) -> Sheet:
    """The sheet of an event. The same event, seed and read give the same sheet.

    With a read it is the sheet of the games to come, by what is believed now.
    """
    if read is not None:
        return _from_now(_planned(_as_it_is(event, read), seed, progress, read), read)
    return _planned(event, seed, progress)


def _planned(event: Event, seed: int, progress: Progress, read: Read | None = None) -> Sheet:
    """The sheet of a whole event, by what was believed before the first shot or by a read."""
    table = load_table(typical_weight_kg(event.locker), event.house.pinfall)
    doubt = None if read is None else doubt_of(read.draws, event.bowler, DRAWS, seed)
    computed = plan_event(event, table, seed, progress, doubt)
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


def _as_it_is(event: Event, read: Read) -> Event:
    """The event from now on: with the surfaces that were put on, and none where it is too late."""
    put_on = {one.ball: Surface.put_on(one.surface_grit) for one in read.surfaces}
    too_late = read.last_game > PRACTICE and event.surface_changes is SurfaceChanges.BEFORE
    return replace(
        event,
        locker=tuple(
            replace(ball, surface=put_on.get(ball.name, ball.surface)) for ball in event.locker
        ),
        surface_changes=SurfaceChanges.NONE if too_late else event.surface_changes,
    )


def _from_now(sheet: Sheet, read: Read) -> Sheet:
    """A sheet without what is over: games, and once they have begun practice and packing."""
    where = f"frame {read.last_frame} of game {read.last_game}"
    until = "practice" if read.last_game == PRACTICE else where
    stands_on = f"This sheet goes by what {read.shots} logged shots said, up to {until}."
    from_now = replace(
        sheet,
        games=tuple(game for game in sheet.games if game.game >= read.next_game),
        cautions=(stands_on, *sheet.cautions),
    )
    if read.last_game == PRACTICE:
        return from_now
    return replace(
        from_now,
        practice=(),
        practice_options=(),
        bag=tuple(item for item in sheet.bag if item.stands_in_for is None),
        bag_worth=None,
        left_at_home=(),
    )


def _scores(event: Event, computed: EventPlan) -> tuple[str, ...]:
    expected = sum(game.expected_score for game in computed.games) / len(computed.games)
    said = score_caution(event.bowler.average, expected)
    return () if said is None else (said,)


def _cautions(event: Event, computed: EventPlan) -> tuple[str, ...]:
    resurfaced = any(item.fresh_surface for item in computed.bag)
    return cautions_for(
        len(computed.bag),
        resurfaced,
        event.house.pinfall,
        release_changes=any(game.release_gain_pins_per_game for game in computed.games),
    )


def typical_weight_kg(locker: tuple[Ball, ...]) -> float:
    """Middle weight of the locker, at which the carry table is read."""
    weights = sorted(ball.mass_kg for ball in locker)
    return weights[len(weights) // 2]
