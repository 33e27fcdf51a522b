"""A season put together: what all kept events of an account say, as of a day."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date
from uuid import UUID

from nextpair.application.ball_usage import (
    OwnedBall,
    ball_usage,
    owned_of_lockers,
    owned_of_records,
    spares_by_ball,
    strikes_by_ball,
)
from nextpair.application.bundle import EventFolder, Papers
from nextpair.application.cautions import SANDING
from nextpair.application.deadlines import deadlines_of
from nextpair.application.events import bundle_of, event_id, require_each_once
from nextpair.application.goals_progress import goals_of, progress_of
from nextpair.application.season_events import EventFacts, facts_of, facts_of_log
from nextpair.application.season_trends import LIMITS, estimates_of, trend_of
from nextpair.application.shot_jottings import NotedShot
from nextpair.application.store import Store
from nextpair.domain.errors import InputRefusedError, InvalidValueError
from nextpair.domain.goal import Goal
from nextpair.domain.record import Kind
from nextpair.domain.season import Figure, Point, Season, SeasonGroup

KINDS: dict[str, Callable[[EventFacts], str]] = {
    "length": lambda event: event.length,
    "surface": lambda event: event.surface,
    "house": lambda event: event.house,
}
HOW = (
    "Each figure stands with the interval that holds what it would be over many more such events, "
    "four times in five. One event counts as one: its games share lanes, oil and form. Where "
    "events could not be told apart, the interval knows the luck of single balls alone."
)
MANY_GROUPS = (
    "Of many groups one in five lies outside its interval by chance alone; houses and patterns "
    "come together, so a difference between houses may be one between patterns."
)
HOW_BALLS = (
    "Games on a ball are parts of games, by its share of their shots; practice is not counted."
)


def kept_season(store: Store, papers: Papers, account: UUID, today: date) -> Season:
    """The season of everything that an account keeps."""
    facts, left_out = [], []
    for record in store.records(account, Kind.EVENT):
        try:
            event = papers.event(bundle_of(store, account, record.id))
        except (InputRefusedError, InvalidValueError):
            left_out.append(record.name)
            continue
        facts.append(facts_of_log(str(record.id), event, store.log(account, record.id)))
    balls = owned_of_records(store.records(account, Kind.BALL))
    goals = goals_of(store.records(account, Kind.GOAL))
    return season_of(facts, balls, goals, today, left_out)


def season_of_folders(papers: Papers, folders: Sequence[EventFolder], today: date) -> Season:
    """The season of event folders, with the shots and scores that lie beside them. Raises
    InputRefusedError, and InvalidValueError for an event that is named twice."""
    told = [(papers.event(folder.bundle), folder) for folder in folders]
    require_each_once(event for event, _ in told)
    told.sort(key=lambda one: one[0].date)
    facts = [
        facts_of(
            str(event_id(event.name, event.date.isoformat(), event.bowler_name)),
            event,
            folder.scores,
            [NotedShot(shot, foul=False) for shot in folder.shots],
        )
        for event, folder in told
    ]
    return season_of(facts, owned_of_lockers(event.locker for event, _ in told), (), today)


def season_of(
    events: Sequence[EventFacts],
    balls: Sequence[OwnedBall],
    goals: Sequence[Goal],
    today: date,
    left_out: Sequence[str] = (),
) -> Season:
    """A season by its events' facts."""
    events = sorted(events, key=lambda event: (event.date, event.name))
    bowled = [event for event in events if event.is_bowled]
    coming = [event for event in events if event.date >= today and not event.is_bowled]
    usage = ball_usage(balls, bowled, float(coming[0].planned_games) if coming else 0.0)
    return Season(
        today=today,
        events=len(bowled),
        games=sum(event.games for event in bowled),
        trends=tuple(trend_of(figure, points_of(figure, bowled)) for figure in Figure),
        groups=(*_by_condition(bowled), *_by_ball(bowled)),
        balls=usage,
        deadlines=deadlines_of(events, usage, today),
        goals=tuple(progress_of(goal, events, today) for goal in goals),
        notes=(HOW, MANY_GROUPS, HOW_BALLS, SANDING),
        left_out=tuple(left_out),
    )


def points_of(figure: Figure, events: Sequence[EventFacts]) -> tuple[Point, ...]:
    """A figure's value at each event where it is known."""
    told = (_point(figure, event) for event in events)
    return tuple(point for point in told if point is not None)


def _point(figure: Figure, event: EventFacts) -> Point | None:
    if figure is Figure.FIELD_RELATIVE:
        return event.beside_field
    tally = event.strikes if figure is Figure.STRIKES else event.spares
    return tally.point(event.date, event.name)


def _by_condition(events: Sequence[EventFacts]) -> Iterator[SeasonGroup]:
    for kind, named in KINDS.items():
        members: dict[str, list[EventFacts]] = {}
        for event in events:
            members.setdefault(named(event), []).append(event)
        told = {
            figure: estimates_of(
                {name: points_of(figure, group) for name, group in members.items()},
                LIMITS[figure],
            )
            for figure in Figure
        }
        for name, group in sorted(members.items(), key=lambda one: (-len(one[1]), one[0])):
            yield SeasonGroup(
                kind=kind,
                name=name,
                events=len(group),
                games=float(sum(event.games for event in group)),
                strikes=told[Figure.STRIKES].get(name),
                spares=told[Figure.SPARES].get(name),
                field_relative=told[Figure.FIELD_RELATIVE].get(name),
            )


def _by_ball(events: Sequence[EventFacts]) -> Iterator[SeasonGroup]:
    """What each ball did, those with most games first; nobody's score is a ball's alone."""
    games: dict[str, list[float]] = {}
    for event in events:
        of_event: dict[str, float] = {}
        for tally in event.balls:
            of_event[tally.ball] = of_event.get(tally.ball, 0.0) + tally.games
        for ball, count in of_event.items():
            games.setdefault(ball, []).append(count)
    strikes, spares = (
        estimates_of({ball: points(events, ball) for ball in games}, LIMITS[figure])
        for figure, points in ((Figure.STRIKES, strikes_by_ball), (Figure.SPARES, spares_by_ball))
    )
    for ball, counts in sorted(games.items(), key=lambda one: (-sum(one[1]), one[0])):
        yield SeasonGroup(
            "ball", ball, len(counts), sum(counts), strikes.get(ball), spares.get(ball), None
        )
