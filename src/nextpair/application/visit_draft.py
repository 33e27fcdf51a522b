"""A visit drafted out of an event: what its log and its read say, to be looked over and kept."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import count, groupby, pairwise
from uuid import UUID, uuid4, uuid5

from nextpair.application.film import film_card
from nextpair.application.house_book import pages_of
from nextpair.application.journal import versions
from nextpair.application.met_racks import racks_of_shots
from nextpair.application.own_games import GameScore
from nextpair.application.played_lines import PlayedLine, lines_of
from nextpair.application.scores import scores_of
from nextpair.application.shot_jottings import NotedShot, noted_shots
from nextpair.application.store import Store
from nextpair.application.visit_jottings import DIGITS
from nextpair.domain.belief import Draws, Read
from nextpair.domain.event import Event
from nextpair.domain.house_book import LONGEST_NOTE, Learned, Visit
from nextpair.domain.jotting import Kept
from nextpair.domain.unknowns import DRY_LOG, OWN_DRY_LOG
from nextpair.reading.prior import usual_prior

MOST_LINES = 3
"""Lines told of one event. Common practice: what a bowler remembers."""
LEAST_MOVE_BOARDS = 1.0
"""A line that went on by less is the same line. Common practice: a board is the least move."""


def visit_from_read(
    event: Event,
    read: Read | None,
    shots: Sequence[NotedShot] = (),
    games: Sequence[GameScore] = (),
    event_id: UUID | None = None,
    id: UUID | None = None,
) -> Visit:
    """The visit that an event was: what lay on the lanes, what was bowled and scored, what was
    played and how that went on, and what the read learned of the house; without a read, nothing.

    shots, games : of its log. The read must be of the house as its file is now.
    """
    finished = [game.total for game in games if game.total is not None]
    lines = _lines_by_game(shots)
    left, right = film_card(event.left_pattern).pattern, film_card(event.right_pattern).pattern
    alike = event.left_pattern == event.right_pattern
    return Visit(
        id=id or uuid4(),
        date=event.date,
        event=event.name,
        event_id=event_id,
        pattern=left.name if alike else f"{left.name} / {right.name}",
        length_ft=left.length_ft if left.length_ft == right.length_ft else None,
        volume_ml=round(left.volume_ml, 2) if alike else None,
        games=len(finished),
        pins=sum(finished),
        played=_fitting(_played_words(shots)),
        changed=_fitting(_changed_words(lines, event.bowler.hand.sign)),
        learned=() if read is None else learned_of(read.draws),
        friction=event.house.friction,
        lane_friction=tuple(
            (trait.number, trait.friction) for trait in event.house.traits if trait.friction != 1
        ),
    )


def draft_visit(
    store: Store, account: UUID, event_id: UUID, event: Event, house: UUID, read: Read | None
) -> Visit:
    """The visit of an event that is kept. Where its house has one of it already, that one with
    what its log says now: its notes stay, and what was learned where there is no read."""
    log = store.log(account, event_id)
    shots, _ = noted_shots(log)
    games = scores_of(log, event.bowler_name, event.format.counting).bowler
    book = store.log(account, house)
    drafted = visit_from_read(event, read, shots, games, event_id, _next_id(book, house, event_id))
    here = next((page.visit for page in pages_of(book) if page.visit.event_id == event_id), None)
    if here is None:
        return drafted
    drafted = replace(
        drafted, id=here.id, notes=here.notes, lanes=here.lanes, private=here.private
    )
    if read is not None:
        return drafted
    return replace(
        drafted,
        learned=here.learned,
        friction=here.friction,
        lane_friction=here.lane_friction,
    )


def _next_id(book: Sequence[Kept], house: UUID, event: UUID) -> UUID:
    """The id of an event's next visit to a house: every draft has the same one until it is
    written, so that two pages that are open at once do not write two visits."""
    written = versions(book)
    ids = (uuid5(house, f"visit {number} of {event}") for number in count(1))
    return next(id for id in ids if id not in written)


def learned_of(draws: Draws) -> tuple[Learned, ...]:
    """What draws say of a house's friction, and of that of its lanes, against what is usually
    believed beforehand."""
    named = set(draws.names)
    lanes = sorted(
        int(name.split("_")[1])
        for name in named
        if name.startswith("lane_") and name.endswith(f"_{OWN_DRY_LOG.name}")
    )
    prior = usual_prior(lanes)
    names = [DRY_LOG.name] if DRY_LOG.name in named else []
    return tuple(
        Learned(
            name,
            float(prior.mean[prior.place(name)]),
            float(prior.sd[prior.place(name)]),
            *_mean_and_sd(draws.column(name)),
        )
        for name in (*names, *(OWN_DRY_LOG.on(lane) for lane in lanes))
    )


def _mean_and_sd(drawn: Sequence[float]) -> tuple[float, float]:
    mean = sum(drawn) / len(drawn)
    sd = (sum((one - mean) ** 2 for one in drawn) / len(drawn)) ** 0.5
    return round(mean, DIGITS), round(sd, DIGITS)


def _lines_by_game(shots: Sequence[NotedShot]) -> list[tuple[int, PlayedLine]]:
    """The line most played in each game that has one."""
    of_game = groupby(racks_of_shots(shots), key=lambda rack: rack.game)
    found = ((game, lines_of(tuple(racks))) for game, racks in of_game)
    return [(game, lines[0]) for game, lines in found if lines]


def _ball_of(line: PlayedLine) -> str:
    balls = Counter(rack.shot.ball for rack in line.racks if rack.shot is not None)
    return balls.most_common(1)[0][0]


def _played_words(shots: Sequence[NotedShot]) -> Iterator[str]:
    for line in lines_of(racks_of_shots(shots))[:MOST_LINES]:
        laydown_board, target_board = line.middle
        yield (
            f"{laydown_board:.1f} at the foul line to {target_board:.1f} at the arrows with "
            f"{_ball_of(line)}, {len(line.racks)} first balls"
        )


def _changed_words(lines: Iterable[tuple[int, PlayedLine]], sign: int) -> Iterator[str]:
    for (_, before), (game, line) in pairwise(lines):
        moves = [
            f"{name} {abs(boards):.1f} {'in' if boards * sign > 0 else 'out'}"
            for name, boards in zip(
                ("feet", "target"),
                (now - then for now, then in zip(line.middle, before.middle, strict=True)),
                strict=True,
            )
            if abs(boards) >= LEAST_MOVE_BOARDS
        ]
        if _ball_of(line) != _ball_of(before):
            moves.append(f"{_ball_of(line)} for {_ball_of(before)}")
        if moves:
            yield f"game {game}: {', '.join(moves)}"


def _fitting(told: Iterable[str]) -> str:
    """As many of some words as a note holds."""
    note = ""
    for words in told:
        longer = f"{note}; {words}" if note else words
        if len(longer) > LONGEST_NOTE:
            break
        note = longer
    return note
