"""Moves that came late: what the shots so far would have had a bowler do, against what was thrown.

At a few moments of every game the log up to there is read by itself. Where it then values another
line clearly more, the shots that go on from the old one are late; what they cost is told by the
final belief, not by the one of the moment.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from nextpair.application.believed import belief_of, doubt_of
from nextpair.application.hindsight import DRAWS, Hindsight
from nextpair.application.reading import reading_of
from nextpair.domain.debrief import LateMove
from nextpair.domain.lane import BOARDS_PER_RAD
from nextpair.domain.shot_log import FIRST_DELIVERY, FRAMES, PRACTICE, LoggedShot
from nextpair.domain.units import DEGREE_RAD
from nextpair.planning.doubt import Doubt
from nextpair.planning.next_move import bench_of, lane_now, next_line, next_moves
from nextpair.planning.trial import Line

FloatArray = NDArray[np.float64]

READ_AFTER = (0, 4, 7)
"""Frames of a game after which the log is read."""
EVIDENCE_PINS = 4.0
EVIDENCE_PROBABILITY = 0.75
"""A move that is worth this much a game, with this chance of any gain, was there to be seen."""
MOVED_SHARE = 0.5
"""Of the way to the better line: who has gone as far has moved."""
DEGREES_A_BOARD = 0.4
"""Of launch angle, that count as much as a board of the feet: both move the arrows alike."""


@dataclass(frozen=True, slots=True)
class _Stretch:
    """Shots on one lane from one reading to the next, with their lines."""

    game: int
    lane: int
    shots: tuple[LoggedShot, ...]
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class LateMoves:
    """Every move of an event that came late, in the order of games and lanes; and the chance, by
    the final belief, that together they cost anything."""

    moves: tuple[LateMove, ...]
    costly_probability: float


def late_moves(hindsight: Hindsight, shots: Sequence[LoggedShot]) -> LateMoves:
    """The late moves of some shots at full racks, in the order in which they were thrown."""
    found: list[LateMove] = []
    cost_by_draw = np.zeros(len(hindsight.believed))
    for stretches, doubt in _readings(hindsight, shots):
        for stretch in stretches:
            for move, cost in _late(hindsight, stretch, doubt):
                found.append(move)
                cost_by_draw += cost
    return LateMoves(joined(found), float((cost_by_draw > 0).mean()))


def _readings(
    hindsight: Hindsight, shots: Sequence[LoggedShot]
) -> Iterator[tuple[list[_Stretch], Doubt]]:
    """The stretches of every game, with what was believed as they began."""
    event = hindsight.event
    for game in sorted({shot.game for shot in shots} - {PRACTICE}):
        for after, until in zip(READ_AFTER, (*READ_AFTER[1:], FRAMES), strict=True):
            before = [shot for shot in shots if (shot.game, shot.frame) <= (game, after)]
            here = [
                shot
                for shot in shots
                if shot.game == game
                and after < shot.frame <= until
                and shot.delivery == FIRST_DELIVERY
            ]
            stretches = list(_stretches(hindsight, game, here))
            if before and stretches:
                reading = reading_of(event, before, hindsight.ground, hindsight.seed)
                yield (
                    stretches,
                    doubt_of(belief_of(reading), event.bowler, DRAWS, hindsight.seed),
                )


def _stretches(hindsight: Hindsight, game: int, shots: Sequence[LoggedShot]) -> Iterator[_Stretch]:
    for lane in sorted({shot.lane for shot in shots}):
        on_lane = [
            (shot, line)
            for shot in shots
            if shot.lane == lane
            and (line := hindsight.meant_line(shot, hindsight.now(shot))) is not None
        ]
        if on_lane:
            thrown, lines = zip(*on_lane, strict=True)
            yield _Stretch(game, lane, thrown, lines)


def _late(
    hindsight: Hindsight, stretch: _Stretch, doubt: Doubt
) -> Iterator[tuple[LateMove, FloatArray]]:
    """The late move of a stretch, if there is one, and what it cost in each draw (d,)."""
    event, first = hindsight.event, stretch.shots[0]
    share = hindsight.share_of(first)
    now = lane_now(event, hindsight.ground.films, doubt, stretch.lane, stretch.game, share)
    bench = bench_of(event, hindsight.options, stretch.game, hindsight.ground.pins)
    stand = stretch.lines[0]
    moves = next_moves(bench, now, stand, hindsight.thrown)
    better = next_line(moves, stand, EVIDENCE_PINS)
    move = next(one for one in moves if one.line == better)
    if better == stand or move.better_probability < EVIDENCE_PROBABILITY:
        return
    late = 0
    moved_frame = None
    gain = hindsight.values_of(stretch.game, stretch.lane, better)
    cost_by_draw = np.zeros_like(gain)
    for shot, line in zip(stretch.shots, stretch.lines, strict=True):
        if has_moved(stand, better, line):
            moved_frame = shot.frame
            break
        late += 1
        cost_by_draw += (gain - hindsight.values_of(stretch.game, stretch.lane, line)) / FRAMES
    if late:
        told = LateMove(
            game=stretch.game,
            lane=stretch.lane,
            evidence_frame=first.frame,
            moved_frame=moved_frame,
            shots_late=late,
            cost_pins=float(cost_by_draw.mean()),
            words=_words(hindsight, stretch, better),
        )
        yield told, cost_by_draw


def has_moved(stand: Line, better: Line, line: Line) -> bool:
    """Whether a line is on the better side of half the way from one to another."""
    if stand.option != better.option:
        return line.option == better.option
    if line.option != stand.option:
        return True
    way, gone = _apart(stand, better), _apart(stand, line)
    return bool(np.dot(way, gone) >= MOVED_SHARE * np.dot(way, way))


def _apart(one: Line, other: Line) -> FloatArray:
    """From one line to another: boards of the feet, and of angle what counts as much."""
    degrees = (other.angle_rad - one.angle_rad) / DEGREE_RAD
    return np.array([other.own_laydown - one.own_laydown, degrees / DEGREES_A_BOARD])


def _words(hindsight: Hindsight, stretch: _Stretch, better: Line) -> str:
    ball = hindsight.options[better.option]
    stand = stretch.lines[0]
    if better.option != stand.option:
        what = f"{ball.name} was the better ball"
    else:
        what = f"{move_words(stand, better)} was the better one"
    where = f"game {stretch.game}, lane {stretch.lane}, from frame {stretch.shots[0].frame}"
    return f"{where}: {what} by the shots so far"


def move_words(stand: Line, better: Line) -> str:
    """How far a line is from another, where it is farther: at the foul line or at the arrows."""
    feet = better.own_laydown - stand.own_laydown
    target = feet - BOARDS_PER_RAD * (better.angle_rad - stand.angle_rad)
    boards, where = (feet, "foul line") if abs(feet) >= abs(target) else (target, "arrows")
    side = "inside" if boards > 0 else "outside"
    return f"a line {abs(boards):.1f} boards farther {side} at the {where}"


def joined(moves: Sequence[LateMove]) -> tuple[LateMove, ...]:
    """One move for each game and lane: stretches on which the same one was late are one."""
    found: dict[tuple[int, int], LateMove] = {}
    for move in moves:
        key = move.game, move.lane
        before = found.get(key)
        if before is None:
            found[key] = move
        else:
            found[key] = replace(
                before,
                moved_frame=move.moved_frame,
                shots_late=before.shots_late + move.shots_late,
                cost_pins=before.cost_pins + move.cost_pins,
            )
    return tuple(_counted(found[key]) for key in sorted(found))


def _counted(move: LateMove) -> LateMove:
    shots = "one shot" if move.shots_late == 1 else f"{move.shots_late} shots"
    return replace(move, words=f"{move.words}, and {shots} went on from the old one.")
