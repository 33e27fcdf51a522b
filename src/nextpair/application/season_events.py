"""What a season takes of each event: its games counted, beside the field, and ball by ball."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from nextpair.application.conditions import condition_of
from nextpair.application.entries import entries_of
from nextpair.application.event_statistics import written_games
from nextpair.application.game_statistics import met_racks
from nextpair.application.intervals import HALF_COUNT, HALF_OF_80
from nextpair.application.met_racks import MetRack
from nextpair.application.outings import LEAST_OTHERS
from nextpair.application.own_games import own_games
from nextpair.application.scores import field_scores, with_own_games
from nextpair.application.shot_jottings import NotedShot, noted_shots
from nextpair.domain.ball import Grit
from nextpair.domain.condition_chart import length_band
from nextpair.domain.event import Event
from nextpair.domain.field_score import FieldScore
from nextpair.domain.jotting import Kept
from nextpair.domain.season import Point
from nextpair.domain.shot_log import PRACTICE
from nextpair.domain.units import FOOT_M
from nextpair.scoring.leaves import LeaveKind

Day = date


@dataclass(frozen=True, slots=True)
class Tally:
    """So many made of so many tried."""

    made: int
    tried: int

    def point(self, day: date, event: str) -> Point | None:
        """As an event's value; None where nothing was tried."""
        if not self.tried:
            return None
        likely = (self.made + HALF_COUNT) / (self.tried + 2 * HALF_COUNT)
        luck = likely * (1 - likely)
        return Point(day, self.made / self.tried, self.tried, luck, event)


@dataclass(frozen=True, slots=True)
class BallTally:
    """What a ball did at an event on one finish; `games` are parts of games by its share of their
    shots. `put_on` is what the log says was put on it there, None for what it came with."""

    ball: str
    put_on: Grit | None
    games: float
    strikes: Tally
    spares: Tally


@dataclass(frozen=True, slots=True)
class EventFacts:
    """An event in a season. `pins` are those of the `games` that are scored; `planned_games` how
    many it has. `beside_field` is None where fewer than three others' scores are known. `cashed`
    is None until its winnings are written down."""

    key: str
    name: str
    date: date
    entry_deadline: Day | None
    house: str
    surface: str
    length: str
    planned_games: int
    games: int
    pins: int
    strikes: Tally
    spares: Tally
    single_pins: Tally
    frames_filled: Tally
    beside_field: Point | None
    cashed: bool | None
    balls: tuple[BallTally, ...]
    bag: tuple[str, ...]

    @property
    def is_bowled(self) -> bool:
        """Whether anything is known of how it went."""
        return bool(self.games or self.strikes.tried)


def facts_of_log(key: str, event: Event, log: Sequence[Kept]) -> EventFacts:
    """An event by its log."""
    return facts_of(key, event, field_scores(log, []), noted_shots(log)[0])


def facts_of(
    key: str, event: Event, scores: Sequence[FieldScore], shots: Sequence[NotedShot]
) -> EventFacts:
    """An event by everybody's scores and the bowler's shots. Nothing is planned or read for it."""
    own = [score for score in scores if score.name == event.bowler_name]
    bowled = own_games(shots, own, event.format.counting, [])
    known = with_own_games(scores, event.bowler_name, bowled, [])
    racks = met_racks(tuple(written_games(event, own)), shots)
    entries = entries_of(event, known)
    left = [rack for rack in racks if rack.second is not None and not rack.is_strike]
    over = [rack for rack in racks if rack.is_frame_over]
    winnings = event.money.winnings
    return EventFacts(
        key=key,
        name=event.name,
        date=event.date,
        entry_deadline=event.entry_deadline,
        house=event.house.name,
        surface=event.house.surface.value,
        length=_length(event),
        planned_games=event.games,
        games=len(entries.own.games),
        pins=sum(score.score for score in entries.own.games.values()),
        strikes=_struck(racks),
        spares=_spared(left),
        single_pins=_spared(rack for rack in left if rack.kind is LeaveKind.SINGLE_PIN),
        frames_filled=Tally(sum(rack.is_strike or rack.is_spare for rack in over), len(over)),
        beside_field=_beside_field(event, known),
        cashed=None if winnings is None else any(won > 0 for _, won in winnings),
        balls=tuple(_balls(shots, racks)),
        bag=tuple(ball.name for ball in event.locker),
    )


def _length(event: Event) -> str:
    """The event's length band; of two patterns that differ in it, both."""
    lengths = (event.left_pattern.length_m / FOOT_M, event.right_pattern.length_m / FOOT_M)
    return " and ".join(dict.fromkeys(length_band(length).name for length in sorted(lengths)))


def _beside_field(event: Event, scores: Sequence[FieldScore]) -> Point | None:
    """The bowler's mean against the field's, in the deviations of its bowlers' means."""
    entries = entries_of(event, scores)
    games = len(entries.own.games)
    if not games or len(entries.seen) <= LEAST_OTHERS:
        return None
    condition = condition_of(entries, with_groups=False)
    if condition.own_sds is None or condition.own_sds_interval_80 is None:
        return None
    low, high = condition.own_sds_interval_80
    error = (high - low) / 2 / HALF_OF_80
    return Point(event.date, condition.own_sds, games, error**2 * games, event.name)


def _balls(shots: Sequence[NotedShot], racks: Sequence[MetRack]) -> Iterator[BallTally]:
    """Balls in the order in which they came out, each finish by itself."""
    thrown = [noted.shot for noted in shots if noted.shot.game != PRACTICE]
    in_game = Counter(shot.game for shot in thrown)
    for ball, put_on in dict.fromkeys((shot.ball, shot.surface_grit) for shot in thrown):
        which = (ball, put_on)
        yield BallTally(
            ball=ball,
            put_on=put_on,
            games=sum(
                1 / in_game[shot.game]
                for shot in thrown
                if (shot.ball, shot.surface_grit) == which
            ),
            strikes=_struck(
                rack
                for rack in racks
                if rack.shot is not None and (rack.shot.ball, rack.shot.surface_grit) == which
            ),
            spares=_spared(
                rack
                for rack in racks
                if rack.second_shot is not None
                and (rack.second_shot.ball, rack.second_shot.surface_grit) == which
            ),
        )


def _struck(racks: Iterable[MetRack]) -> Tally:
    told = [rack.is_strike for rack in racks]
    return Tally(sum(told), len(told))


def _spared(racks: Iterable[MetRack]) -> Tally:
    told = [rack.is_spare for rack in racks]
    return Tally(sum(told), len(told))
