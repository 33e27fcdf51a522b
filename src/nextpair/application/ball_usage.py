"""What each ball has behind it on each finish, and when it asks for a new one.

Games are parts of games, by a ball's share of a game's shots, spare shots too; practice is in no
log by games and is not counted.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from nextpair.application.season_events import BallTally, EventFacts, Tally
from nextpair.application.season_trends import SHARE_LIMITS, estimate_of, slope_of
from nextpair.domain.ball import Ball, Cover, Grit
from nextpair.domain.record import Record
from nextpair.domain.season import Advice, BallUse, Finish, Point

USUAL_GAMES: dict[Cover, float | None] = {
    Cover.PLASTIC: None,
    Cover.URETHANE: 40.0,
    Cover.PEARL: 50.0,
    Cover.HYBRID: 40.0,
    Cover.SOLID: 30.0,
}
"""Games after which a cover is commonly made anew. Common practice, from memory."""
FADE_SHARE = 0.05
"""Of first balls: strikes lost to a used cover at which it is made anew. Assumption."""
LEAST_GAMES, MOST_GAMES = 6.0, 120.0
"""Between which own records may put the limit."""
FRESH_GAMES = 12.0
"""On which a finish counts as fresh."""
CLEAN_WORDS = (
    "Clean it after every block, before the oil soaks in, with what the event's rules allow "
    "(common practice)."
)
RETIRE_WORDS = (
    "On fresh finishes it strikes less than it did: ask a pro shop whether oil can be drawn out "
    "before it is retired. Look for cracks too: a cracked ball is done."
)


@dataclass(frozen=True, slots=True)
class OwnedBall:
    """A ball as its owner keeps it: what is on it, games on that, and finishes put on by day."""

    name: str
    cover: Cover
    surface_grit: Grit
    games: float = 0.0
    history: tuple[tuple[date, Grit], ...] = ()


@dataclass(slots=True)
class _OnFinish:
    """A finish while its events are gone through."""

    surface_grit: Grit
    on: date | None
    used: list[tuple[float, BallTally, EventFacts]] = field(default_factory=list)
    games: float = 0.0

    def take(self, tally: BallTally, event: EventFacts) -> None:
        self.used.append((self.games + tally.games / 2, tally, event))
        self.games += tally.games

    def points(self) -> tuple[Point, ...]:
        told = (tally.strikes.point(event.date, event.name) for _, tally, event in self.used)
        return tuple(point for point in told if point is not None)


def owned_of_records(records: Iterable[Record]) -> tuple[OwnedBall, ...]:
    """The balls of records that are not retired, by name."""
    kept = (record for record in records if not record.document.get("retired"))
    return tuple(_owned(record) for record in kept)


def owned_of_lockers(lockers: Iterable[Sequence[Ball]]) -> tuple[OwnedBall, ...]:
    """The balls of lockers; of one that is in several the last one counts."""
    named = {ball.name: ball for locker in lockers for ball in locker}
    return tuple(
        OwnedBall(ball.name, ball.cover, ball.surface.named, ball.surface.games)
        for ball in named.values()
    )


def ball_usage(
    balls: Sequence[OwnedBall], events: Sequence[EventFacts], next_games: float = 0.0
) -> tuple[BallUse, ...]:
    """What balls have behind them by events, first ones first; `next_games` are those of the next
    event. Those longest on their cover come first."""
    told = [_use(ball, events, next_games) for ball in balls]
    return tuple(sorted(told, key=lambda use: (-use.games_on_cover, use.ball)))


def _owned(record: Record) -> OwnedBall:
    document = record.document
    history = tuple(
        sorted(
            (date.fromisoformat(str(one["date"])), one["surface_grit"])
            for one in document.get("surface_history") or ()
        )
    )
    grit = document.get("surface_grit")
    last: Grit = history[-1][1] if history else "as new"
    return OwnedBall(
        name=record.name,
        cover=Cover(document.get("cover") or Cover.SOLID),
        surface_grit=last if grit is None else grit,
        games=float(document.get("games_on_surface") or 0),
        history=history,
    )


def _use(ball: OwnedBall, events: Sequence[EventFacts], next_games: float) -> BallUse:
    walked = _walk(ball, events)
    finishes = tuple(_finish(one) for one in walked)
    if walked[-1].on == (ball.history[-1][0] if ball.history else None):
        # The owner may have counted games that are in no log.
        most = max(finishes[-1].games, ball.games)
        finishes = (*finishes[:-1], replace(finishes[-1], games=most))
    limit, by_own = _limit(ball.cover, walked)
    on_cover = finishes[-1].games
    fades = _strikes_less(walked)
    advice = _advice(on_cover, limit, next_games, fades)
    return BallUse(
        ball=ball.name,
        cover=ball.cover,
        games=sum(finish.games for finish in finishes),
        finishes=finishes,
        limit_games=limit,
        by_own_records=by_own,
        last_used=max((event.date for one in walked for _, _, event in one.used), default=None),
        advice=advice,
        words=tuple(_words(limit, by_own, advice)),
    )


def _walk(ball: OwnedBall, events: Sequence[EventFacts]) -> list[_OnFinish]:
    """The finishes of a ball with the events that it was thrown at on each."""
    told = list(ball.history)
    first: Grit = "as it came" if told else ball.surface_grit
    walked = [_OnFinish(first, None)]
    for event in events:
        while told and told[0][0] <= event.date:
            day, grit = told.pop(0)
            walked.append(_OnFinish(grit, day))
        for tally in event.balls:
            if tally.ball != ball.name:
                continue
            if tally.put_on is not None and tally.put_on != walked[-1].surface_grit:
                walked.append(_OnFinish(tally.put_on, event.date))
            walked[-1].take(tally, event)
    walked += [_OnFinish(grit, day) for day, grit in told]
    return [one for one in walked[:-1] if one.used] + walked[-1:]


def _finish(one: _OnFinish) -> Finish:
    return Finish(one.surface_grit, one.on, one.games, estimate_of(one.points(), SHARE_LIMITS))


def _limit(cover: Cover, walked: Sequence[_OnFinish]) -> tuple[float | None, bool]:
    """After how many games the cover is made anew, and whether its own strikes say so: they do
    where the whole interval of their slope lies below nothing."""
    usual = USUAL_GAMES[cover]
    at, points = [], []
    for one in walked:
        for games, tally, event in one.used:
            if (point := tally.strikes.point(event.date, event.name)) is not None:
                at.append(games)
                points.append(point)
    found = slope_of(at, points)
    if usual is None or found is None or found[2] >= 0:
        return usual, False
    return min(max(FADE_SHARE / -found[0], LEAST_GAMES), MOST_GAMES), True


def _strikes_less(walked: Sequence[_OnFinish]) -> bool:
    """Whether strikes on fresh finishes fell from finish to finish, by the whole interval."""
    at, points = [], []
    for number, one in enumerate(walked):
        for games, tally, event in one.used:
            point = tally.strikes.point(event.date, event.name)
            if games <= FRESH_GAMES and point is not None:
                at.append(float(number))
                points.append(point)
    found = slope_of(at, points)
    return found is not None and found[2] < 0


def _advice(on_cover: float, limit: float | None, next_games: float, fades: bool) -> Advice:
    if fades:
        return Advice.RETIRE
    if limit is None:
        return Advice.CLEAN
    if on_cover >= limit:
        return Advice.RESURFACE
    return Advice.SOON if next_games and on_cover + next_games > limit else Advice.CLEAN


def _words(limit: float | None, by_own: bool, advice: Advice) -> Iterator[str]:
    yield CLEAN_WORDS
    if limit is None:
        yield "Not made anew by games: plastic hardly wears (common practice, from memory)."
    elif by_own:
        yield f"Its strikes fade with games on the finish: anew after about {limit:.0f}."
    else:
        yield (
            f"Its own records do not tell when it fades: anew after about {limit:.0f} games "
            "(common practice, from memory)."
        )
    if advice is Advice.RETIRE:
        yield RETIRE_WORDS


def strikes_by_ball(events: Sequence[EventFacts], ball: str) -> tuple[Point, ...]:
    """A ball's strikes, event by event."""
    return _by_event(events, ball, "strikes")


def spares_by_ball(events: Sequence[EventFacts], ball: str) -> tuple[Point, ...]:
    """A ball's spares, event by event."""
    return _by_event(events, ball, "spares")


def _by_event(events: Sequence[EventFacts], ball: str, figure: str) -> tuple[Point, ...]:
    points = []
    for event in events:
        told: list[Tally] = [getattr(one, figure) for one in event.balls if one.ball == ball]
        tally = Tally(sum(one.made for one in told), sum(one.tried for one in told))
        if (point := tally.point(event.date, event.name)) is not None:
            points.append(point)
    return tuple(points)
