"""One event to be shown to anybody: what was scored, with what, on what, and what it taught."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from statistics import median

from nextpair.application.conditions import LEAST_BOWLERS, games_of_field
from nextpair.application.entries import Entries, entries_of
from nextpair.application.event_statistics import written_games
from nextpair.application.film import film_card
from nextpair.application.game_statistics import PlayedGame, met_racks, statistics_of
from nextpair.application.ledger import money_of_event
from nextpair.application.lessons import is_of
from nextpair.application.met_racks import MetRack
from nextpair.application.own_games import SHOTS, own_games
from nextpair.application.scores import with_own_games
from nextpair.application.shot_jottings import NotedShot
from nextpair.domain.event import Event
from nextpair.domain.field_score import FieldScore
from nextpair.domain.lesson import ChangeKind, Lesson
from nextpair.domain.recap import (
    Recap,
    RecapBall,
    RecapCounts,
    RecapGame,
    RecapMoney,
    RecapPattern,
)
from nextpair.domain.sheet import BagItem
from nextpair.domain.shot_log import FIRST_DELIVERY

SHARED_KINDS = frozenset(
    {
        ChangeKind.SURFACE,
        ChangeKind.BALL,
        ChangeKind.MOVES,
        ChangeKind.PATTERN_NOTE,
        ChangeKind.DRILL,
    }
)
"""Lessons that anybody may read: of balls, lines, patterns and spares; none of the bowler's own
body, release or luggage, and none of somebody else's house."""
ALL, LEFT, RIGHT = "all", "left", "right"


def recap_of(
    event: Event,
    scores: Sequence[FieldScore],
    shots: Sequence[NotedShot],
    lessons: Iterable[Lesson] = (),
    with_money: bool = False,
    planned_bag: Sequence[BagItem] = (),
) -> Recap:
    """The recap of an event by everybody's scores and the bowler's shots; `planned_bag` is the
    bag of its newest sheet, where there is one. Raises InvalidValueError where the bowler has not
    finished a game."""
    own = [score for score in scores if score.name == event.bowler_name]
    bowled = own_games(shots, own, event.format.counting, [])
    entries = entries_of(event, with_own_games(scores, event.bowler_name, bowled, []))
    numbers = sorted(entries.own.games)
    played = [noted for noted in shots if noted.shot.game in numbers]
    by_shots = {game.game for game in bowled if game.source == SHOTS}
    written = [game for game in written_games(event, own) if game.number in numbers]
    return Recap(
        event=event.name,
        date=event.date,
        bowler=event.bowler_name,
        hand=event.bowler.hand.value,
        house=event.house.name,
        surface=event.house.surface.value,
        pinfall=event.house.pinfall.value,
        games_of_event=event.games,
        games=tuple(_games(event, entries, played)),
        place=_place(entries),
        field=len(entries.seen),
        counts=_counts(event, written, [one for one in played if one.shot.game in by_shots]),
        bag=tuple(_bag(event, played, planned_bag, numbers)),
        patterns=tuple(_patterns(event)),
        learned=tuple(dict.fromkeys(_learned(event, lessons))),
        money=_money(event) if with_money else None,
    )


def _games(event: Event, entries: Entries, played: Sequence[NotedShot]) -> Iterator[RecapGame]:
    field = {one.game: one for one in games_of_field(entries.pins(False), entries.me)}
    for number, score in sorted(entries.own.games.items()):
        of_field = field[number]
        ball, target_board = _played(played, number)
        yield RecapGame(
            game=number,
            pair=score.pair or str(event.pair_in_game(event.start_pair, number)),
            score=score.score,
            handicap=score.handicap,
            field_pins=of_field.mean_pins if of_field.bowlers >= LEAST_BOWLERS else None,
            ball=ball,
            target_board=target_board,
        )


def _played(played: Sequence[NotedShot], game: int) -> tuple[str, float | None]:
    """The ball of most first balls of a game, and the middle of its targets: those that were meant
    where that was told, else those that were seen."""
    firsts = [
        noted.shot
        for noted in played
        if noted.shot.game == game and noted.shot.delivery == FIRST_DELIVERY
    ]
    balls = Counter(shot.ball for shot in firsts)
    if not balls:
        return "", None
    ball = balls.most_common(1)[0][0]
    of_ball = [shot for shot in firsts if shot.ball == ball]
    meant = [one.meant_target_board for one in of_ball if one.meant_target_board is not None]
    seen = [one.target_board for one in of_ball if one.target_board is not None]
    targets = meant or seen
    return ball, float(median(targets)) if targets else None


def _place(entries: Entries) -> int | None:
    """Place by pins a game, as a standing tells it; equals share it."""
    if len(entries.seen) < LEAST_BOWLERS:
        return None
    own = entries.own.rate_pins
    return 1 + sum(one.rate_pins > own for one in entries.seen)


def _counts(
    event: Event, written: Sequence[PlayedGame], played: Sequence[NotedShot]
) -> RecapCounts | None:
    told = statistics_of(written, played, event.bowler.hand, event.format.counting)
    rates = told.all
    if not rates.strikes.tried:
        return None
    return RecapCounts(
        games=told.games,
        strikes=rates.strikes.made,
        racks=rates.strikes.tried,
        spares=rates.spares.made,
        spares_tried=rates.spares.tried,
        opens=rates.opens,
        longest_string=max(
            (string.strikes for string in told.strings), default=int(rates.strikes.made > 0)
        ),
    )


def _bag(
    event: Event,
    played: Sequence[NotedShot],
    planned: Sequence[BagItem],
    numbers: Sequence[int],
) -> Iterator[RecapBall]:
    """The balls that were thrown, in the order in which they came out, then those that the plan
    took and nobody threw."""
    racks = met_racks((), played)
    purposes = {item.ball: item.purpose for item in planned}
    thrown = dict.fromkeys(noted.shot.ball for noted in played)
    balls = {ball.name: ball for ball in event.locker}
    for name in (*thrown, *(name for name in purposes if name not in thrown)):
        if (ball := balls.get(name)) is None:
            continue
        own = [noted.shot for noted in played if noted.shot.ball == name]
        put_on = [str(shot.surface_grit) for shot in own if shot.surface_grit is not None]
        planned_grit = [str(item.surface_grit) for item in planned if item.ball == name]
        surface = (put_on or planned_grit * (not own) or [ball.surface.words])[-1]
        yield RecapBall(
            ball=name,
            cover=ball.cover.value,
            surface=surface,
            thrown=tuple(sum(shot.game == number for shot in own) for number in numbers),
            purpose=purposes.get(name, ""),
            **_worth(name, racks),
        )


def _worth(ball: str, racks: Sequence[MetRack]) -> dict[str, int]:
    """First balls and strikes of a ball, spares it was thrown at and made."""
    first = [rack for rack in racks if rack.shot is not None and rack.shot.ball == ball]
    second = [
        rack for rack in racks if rack.second_shot is not None and rack.second_shot.ball == ball
    ]
    return {
        "first_balls": len(first),
        "strikes": sum(rack.is_strike for rack in first),
        "spares": sum(rack.is_spare for rack in second),
        "spares_tried": len(second),
    }


def _patterns(event: Event) -> Iterator[RecapPattern]:
    left, right = event.left_pattern, event.right_pattern
    told = ((ALL, left),) if left == right else ((LEFT, left), (RIGHT, right))
    for lanes, pattern in told:
        film = film_card(pattern)
        yield RecapPattern(lanes, film.pattern, film.film_units)


def _learned(event: Event, lessons: Iterable[Lesson]) -> Iterator[str]:
    """What was accepted after this event and may be read by anybody."""
    for lesson in lessons:
        if is_of(lesson, event) and lesson.accepted and lesson.change.kind in SHARED_KINDS:
            yield lesson.change.words


def _money(event: Event) -> RecapMoney:
    told = money_of_event(event)
    return RecapMoney(told.currency, told.cost, told.won, told.result)
