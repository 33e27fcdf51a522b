"""Games counted as a coach counts them: of logged shots, and of games as they were written."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise
from typing import Any, TypeVar

from nextpair.application.intervals import mean_of, share_of
from nextpair.application.met_racks import (
    MetRack,
    follows,
    game_of_racks,
    racks_of_game,
    racks_of_shots,
)
from nextpair.application.played_lines import LINE_BOARDS, lines_of
from nextpair.application.shot_jottings import NotedShot
from nextpair.domain.bowler import Hand
from nextpair.domain.event import Pair
from nextpair.domain.format import Counting
from nextpair.domain.statistics import (
    GameStatistics,
    Group,
    KindRecord,
    LeaveRecord,
    Rates,
    Share,
    StrikeString,
)
from nextpair.scoring.frames import HIGHEST_SCORE, Game
from nextpair.scoring.leaves import PINS, LeaveKind, leave_name, leave_text

Key = TypeVar("Key")

NOT_TOLD = "not told"
"""Kind of a leave of which only the count was written down."""
KINDS = (*(kind.value for kind in LeaveKind), NOT_TOLD)
HALF_FRAMES = 5

HOW_RATES = (
    "Each rate stands with what it would likely be over many more tries: four times in five it "
    "lies there."
)
HOW_POCKET = (
    "Pocket and carry count first balls whose board at the pins was seen. What a ball left does "
    "not tell where it came in, so leaves say nothing of the pocket."
)
NOT_SEEN = "Nobody saw where the balls came in: pocket and carry are not known."
COUNTS_ALONE = (
    "Of some racks, {count}, only the counts were written down: nine pins leave a single pin, a "
    "marked split is a split, and of the other leaves the kind is not told."
)


HOW_LINES = (
    "A line is the lay-down and target that were meant where that was told, else those that were "
    f"seen; within {LINE_BOARDS:g} boards of each other they are one line."
)


@dataclass(frozen=True, slots=True)
class PlayedGame:
    """A game as it was written down: `leaves` are frame by frame what stood after each ball, None
    for what was only counted."""

    number: int
    game: Game
    leaves: Sequence[Sequence[int | None]] = ()


def statistics_of(
    games: Sequence[PlayedGame],
    shots: Sequence[NotedShot] = (),
    hand: Hand = Hand.RIGHT,
    counting: Counting = Counting.TRADITIONAL,
) -> GameStatistics:
    """What one bowler's games say. Of a game whose shots were logged they say all, and what was
    written of it is passed over."""
    met = met_racks(games, shots)
    after = [(before, rack) for before, rack in pairwise(met) if follows(before, rack)]
    return GameStatistics(
        hand=hand.value,
        games=len({rack.game for rack in met}),
        game_pins=mean_of([*scores_by_game(met, games, counting).values()], HIGHEST_SCORE),
        all=rates_of(met, hand),
        groups=tuple(_groups(met, hand)),
        strings=_strings(met),
        strike_after_strike=_struck([rack for before, rack in after if before.is_strike]),
        strike_after_other=_struck([rack for before, rack in after if not before.is_strike]),
        notes=tuple(_notes(met, hand)),
    )


def met_racks(games: Sequence[PlayedGame], shots: Sequence[NotedShot]) -> tuple[MetRack, ...]:
    """Every rack in the order met: of the shots, and of written games without any."""
    logged = racks_of_shots(shots)
    numbers = {rack.game for rack in logged}
    written = (one for one in games if one.number not in numbers)
    racks = [rack for one in written for rack in racks_of_game(one.number, one.game, one.leaves)]
    return tuple(sorted([*logged, *racks], key=lambda rack: (rack.game, rack.place)))


def scores_by_game(
    racks: Sequence[MetRack], games: Sequence[PlayedGame], counting: Counting
) -> dict[int, int]:
    """Scores of the finished games, by their racks or else as they were written."""
    scores = {one.number: one.game.score for one in games}
    for number, met in groupby(racks, key=lambda rack: rack.game):
        if (game := game_of_racks(tuple(met), counting)) is not None:
            scores[number] = game.score
    return {number: score for number, score in sorted(scores.items()) if score is not None}


def rates_of(racks: Sequence[MetRack], hand: Hand) -> Rates:
    """What these racks say."""
    seen = [rack for rack in racks if rack.in_pocket(hand) is not None]
    in_pocket = [rack for rack in seen if rack.in_pocket(hand)]
    over = [rack for rack in racks if rack.is_frame_over]
    left = [rack for rack in racks if not rack.is_strike]
    of_kinds = _by(left, _kind)
    return Rates(
        strikes=_struck(racks),
        pocket=share_of(len(in_pocket), len(seen)),
        carry=_struck(in_pocket),
        first_ball=mean_of([rack.first.pins for rack in racks], PINS),
        spares=_spares(left),
        frames_filled=share_of(sum(rack.is_strike or rack.is_spare for rack in over), len(over)),
        by_kind=tuple(
            KindRecord(kind, len(of_kind), _spares(of_kind))
            for kind in KINDS
            if (of_kind := of_kinds.get(kind, []))
        ),
        by_leave=tuple(_leaves(left)),
    )


def _leaves(left: Sequence[MetRack]) -> Iterator[LeaveRecord]:
    found = _by(left, lambda rack: rack.leave)
    for leave in sorted(found, key=lambda mask: (-len(found[mask]), mask)):
        racks = found[leave]
        yield LeaveRecord(
            leave=leave_text(leave),
            name=leave_name(leave),
            kind=_kind(racks[0]),
            left=len(racks),
            spares=_spares(racks),
        )


def _groups(met: Sequence[MetRack], hand: Hand) -> Iterator[Group]:
    """Racks by what they have in common, wherever there is more than one such thing."""
    for kind, key, said in GROUPS:
        found = _by(met, key)
        if len(found) > 1:
            for name in sorted(found):
                yield Group(kind, said(name), rates_of(found[name], hand))
    lines = lines_of(met)
    if len(lines) > 1:
        for number, line in enumerate(lines, start=1):
            rates = rates_of(line.racks, hand)
            yield Group("line", f"line {number}", rates, *line.middle)


def _strings(met: Sequence[MetRack]) -> tuple[StrikeString, ...]:
    """Strikes in a row, longest first."""
    runs: list[int] = []
    last: MetRack | None = None
    for rack in (rack for rack in met if rack.is_strike):
        if last is not None and follows(last, rack):
            runs[-1] += 1
        else:
            runs.append(1)
        last = rack
    times = Counter(run for run in runs if run > 1)
    return tuple(StrikeString(run, times[run]) for run in sorted(times, reverse=True))


def _notes(met: Sequence[MetRack], hand: Hand) -> Iterator[str]:
    yield HOW_RATES
    yield HOW_POCKET if any(rack.in_pocket(hand) is not None for rack in met) else NOT_SEEN
    if unknown := sum(rack.leave is None for rack in met):
        yield COUNTS_ALONE.format(count=unknown)
    if len(lines_of(met)) > 1:
        yield HOW_LINES


def _by(
    racks: Iterable[MetRack], key: Callable[[MetRack], Key | None]
) -> dict[Key, list[MetRack]]:
    """Racks by a key, those without one left out."""
    found: dict[Key, list[MetRack]] = {}
    for rack in racks:
        if (name := key(rack)) is not None:
            found.setdefault(name, []).append(rack)
    return found


def _struck(racks: Sequence[MetRack]) -> Share:
    return share_of(sum(rack.is_strike for rack in racks), len(racks))


def _spares(left: Sequence[MetRack]) -> Share:
    tried = [rack for rack in left if rack.second is not None]
    return share_of(sum(rack.is_spare for rack in tried), len(tried))


def _kind(rack: MetRack) -> str:
    return NOT_TOLD if rack.kind is None else rack.kind.value


def _pair(rack: MetRack) -> Pair | None:
    return None if rack.shot is None else Pair((rack.shot.lane - 1) // 2 * 2 + 1)


def _is_right_lane(rack: MetRack) -> bool | None:
    return None if rack.shot is None else rack.shot.lane % 2 == 0


def _ball(rack: MetRack) -> str | None:
    return None if rack.shot is None else rack.shot.ball


def _spare_ball(rack: MetRack) -> str | None:
    return None if rack.second_shot is None else rack.second_shot.ball


HALVES = ("frames 1 to 5", "frames 6 to 10")
GROUPS: tuple[tuple[str, Callable[[MetRack], Any], Callable[[Any], str]], ...] = (
    ("game", lambda rack: rack.game, "game {}".format),
    ("half", lambda rack: rack.frame > HALF_FRAMES, HALVES.__getitem__),
    ("ball", _ball, str),
    ("spare ball", _spare_ball, str),
    ("pair", _pair, str),
    ("lane side", _is_right_lane, ("left lanes", "right lanes").__getitem__),
)
"""Kinds of groups: what the racks have in common, and how that is said."""
