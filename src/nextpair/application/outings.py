"""Kept events as outings: what lay on the lanes, what was scored there, with what and where."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from statistics import fmean
from uuid import UUID

from nextpair.application.bundle import Papers
from nextpair.application.events import bundle_of
from nextpair.application.house_book import visits_of
from nextpair.application.intervals import share_of
from nextpair.application.keeping import LIBRARY_MARK
from nextpair.application.met_racks import MetRack, racks_of_shots
from nextpair.application.played_lines import lines_of
from nextpair.application.scores import known_scores
from nextpair.application.shot_jottings import noted_shots
from nextpair.application.store import Store
from nextpair.domain.errors import InputRefusedError, InvalidValueError
from nextpair.domain.event import Event
from nextpair.domain.field_score import FieldScore
from nextpair.domain.house import LaneSurface
from nextpair.domain.jotting import Kept
from nextpair.domain.outing import BallThrown, LinePlayed, Outing
from nextpair.domain.record import Document, Kind
from nextpair.domain.statistics import Share
from nextpair.domain.typical import HAND, LANE_SURFACE
from nextpair.domain.units import FOOT_M
from nextpair.physics.dressing import film_of
from nextpair.physics.film import volume_ml

LEAST_OTHERS = 3
"""Fewer in the same game are no field."""
PATTERN_KEYS = ("pattern", "left_pattern", "right_pattern")


@dataclass(frozen=True, slots=True)
class Outings:
    """All of an account, newest first.

    bowler : the account's own, whose events most of the kept ones are; None where none is kept.
    not_bowled : names of events without a score of their bowler's. left_out : of those that are
    not in order.
    """

    bowler: str | None
    all: tuple[Outing, ...]
    not_bowled: tuple[str, ...]
    left_out: tuple[str, ...]

    @property
    def own(self) -> tuple[Outing, ...]:
        """Those of the account's own bowler."""
        return tuple(outing for outing in self.all if outing.is_own)

    def on(self, pattern: str) -> tuple[Outing, ...]:
        """Those on a pattern, by its key; the own ones first."""
        here = (outing for outing in self.all if pattern in outing.patterns)
        return tuple(sorted(here, key=lambda outing: not outing.is_own))


NO_OUTINGS = Outings(None, (), (), ())


def kept_outings(store: Store, papers: Papers, account: UUID) -> Outings:
    """The events that are kept, as far as they are bowled."""
    found: list[Outing] = []
    left_out: list[str] = []
    for record in store.records(account, Kind.EVENT):
        try:
            event = papers.event(bundle_of(store, account, record.id))
        except (InputRefusedError, InvalidValueError):
            left_out.append(record.name)
        else:
            log = store.log(account, record.id)
            found.append(outing_of(event, record.id, pattern_keys(record.document, event), log))
    own = own_bowler(found)
    bowled = [replace(outing, is_own=outing.bowler == own) for outing in found if outing.games]
    bowled += _visited(store, account, bowled)
    return Outings(
        bowler=own,
        all=tuple(sorted(bowled, key=lambda outing: outing.date, reverse=True)),
        not_bowled=tuple(
            outing.event for outing in found if not outing.games and outing.bowler == own
        ),
        left_out=tuple(left_out),
    )


def _visited(store: Store, account: UUID, bowled: Sequence[Outing]) -> Iterator[Outing]:
    """Visits at which games were scored whose event is not kept, or has no score: for conditions.
    A visit that does not say how long the pattern was, and how much, is of no condition."""
    told = {outing.event_id for outing in bowled}
    hand = next((outing.hand for outing in bowled if outing.is_own), HAND)
    own = next((outing.bowler for outing in bowled if outing.is_own), "")
    for record in store.records(account, Kind.HOUSE):
        surface = LaneSurface(record.document.get("surface") or LANE_SURFACE)
        for visit in visits_of(store, account, record.id):
            is_told = visit.event_id is not None and visit.event_id in told
            if visit.length_ft is None or visit.volume_ml is None or is_told or not visit.games:
                continue
            yield Outing(
                event=visit.event or record.name,
                event_id=visit.event_id,
                date=visit.date,
                bowler=own,
                hand=hand,
                is_own=True,
                house=record.name,
                surface=surface,
                patterns=(),
                length_ft=visit.length_ft,
                volume_ml=visit.volume_ml,
                games=visit.games,
                mean_pins=visit.pins / visit.games,
                field_pins=None,
                others=0,
            )


def own_bowler(outings: Sequence[Outing]) -> str | None:
    """Whose events these are: who has most of them, and of equals who bowls the newest."""
    events = Counter(outing.bowler for outing in outings)
    newest = max(outings, key=lambda outing: (events[outing.bowler], outing.date), default=None)
    return None if newest is None else newest.bowler


def pattern_keys(document: Document, event: Event) -> tuple[str, ...]:
    """Keys of an event's patterns, by its record: ids, or names in the library."""
    named = [str(document[key]) for key in PATTERN_KEYS if document.get(key) is not None]
    laid = (event.left_pattern, event.right_pattern)
    keys = (
        library_key(pattern.name) if key.startswith(LIBRARY_MARK) else key
        for key, pattern in zip(named, laid, strict=False)
    )
    return tuple(dict.fromkeys(keys))


def library_key(name: str) -> str:
    """The key of a pattern of the library, as an event names it."""
    return f"{LIBRARY_MARK} {name}"


def outing_of(event: Event, id: UUID, patterns: tuple[str, ...], log: Sequence[Kept]) -> Outing:
    """One event, by its log."""
    scores = known_scores(log, event.bowler_name, event.format.counting)
    own = {score.game: score.score for score in scores if score.name == event.bowler_name}
    others = [score for score in scores if score.name != event.bowler_name]
    against = tuple(_against_field(own, others))
    shots, _ = noted_shots(log)
    racks = racks_of_shots(shots)
    laid = (event.left_pattern, event.right_pattern)
    return Outing(
        event=event.name,
        event_id=id,
        date=event.date,
        bowler=event.bowler_name,
        hand=event.bowler.hand,
        is_own=True,
        house=event.house.name,
        surface=event.house.surface,
        patterns=patterns,
        length_ft=fmean(pattern.length_m / FOOT_M for pattern in laid),
        volume_ml=fmean(volume_ml(film_of(pattern)) for pattern in laid),
        games=len(own),
        mean_pins=fmean(own.values()) if own else None,
        field_pins=fmean(against) if against else None,
        others=len({score.name for score in others}),
        balls=balls_thrown(racks),
        lines=lines_played(racks),
    )


def balls_thrown(racks: Iterable[MetRack]) -> tuple[BallThrown, ...]:
    """Balls at full racks, most thrown first."""
    thrown = [BallThrown(ball, _struck(met)) for ball, met in _by_ball(racks).items()]
    return tuple(sorted(thrown, key=lambda one: (-one.strikes.tried, one.ball)))


def lines_played(racks: Iterable[MetRack]) -> tuple[LinePlayed, ...]:
    """Lines of each ball, most played first."""
    played = [
        LinePlayed(ball, *line.middle, _struck(line.racks))
        for ball, met in _by_ball(racks).items()
        for line in lines_of(met)
    ]
    return tuple(sorted(played, key=lambda one: (-one.strikes.tried, one.ball)))


def _by_ball(racks: Iterable[MetRack]) -> dict[str, list[MetRack]]:
    found: dict[str, list[MetRack]] = {}
    for rack in racks:
        if rack.shot is not None:
            found.setdefault(rack.shot.ball, []).append(rack)
    return found


def _struck(racks: Sequence[MetRack]) -> Share:
    return share_of(sum(rack.is_strike for rack in racks), len(racks))


def _against_field(own: dict[int, int], others: Sequence[FieldScore]) -> Iterator[float]:
    """How much more each game was than the mean of the others in it, handicap left out."""
    for game, pins in own.items():
        field = [score.score for score in others if score.game == game]
        if len(field) >= LEAST_OTHERS:
            yield pins - fmean(field)
