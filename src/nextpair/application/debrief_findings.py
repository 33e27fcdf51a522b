"""What an event taught, as at most five findings: each with what shows it, what it is believed to
have cost, and one thing to do otherwise.

The bounds below are where a finding starts to be told. They were set on simulated events, so that
what was planted in them is found and what was not is rarely told (docs/guide/debrief.md).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np
from numpy.typing import NDArray

from nextpair.application.hindsight import Hindsight
from nextpair.application.late_moves import LateMoves
from nextpair.application.met_racks import MetRack
from nextpair.application.played_lines import line_boards
from nextpair.application.spare_record import ALL
from nextpair.domain.ball import Role
from nextpair.domain.belief import Finding
from nextpair.domain.debrief import (
    MOST_FINDINGS,
    DebriefFinding,
    GameAccount,
    PracticeTold,
    SpareTold,
)
from nextpair.domain.lesson import Change, ChangeKind
from nextpair.domain.units import FOOT_M
from nextpair.scoring.leaves import LeaveKind

FloatArray = NDArray[np.float64]

FEW_SPARES_PROBABILITY = 0.05
"""So few spares, by chance alone, that it is told; of single kinds, of which there are several,
half of it."""
SPARE_PINS = 11.0
"""What a spare missed costs of a score: ten, and the next first ball once more, less the pins that
a miss takes. Common practice."""
OTHER_RELEASE_SDS = 2.5
"""Of how days differ from each other: farther off than this is told."""
SURE_PROBABILITY = 0.9
SURFACE_PINS = 3.0
BALL_PINS = 8.0
"""A game: that another surface of the same ball, or another ball, was worth more."""
LATE_PINS_PER_GAME = 1.0
LATE_SHOTS_PER_GAME = 1.5
LANE_SDS = 1.6
"""Of what was believed of the lanes before the event."""
DRILLS = {
    LeaveKind.SINGLE_PIN.value: "Ten corner pins each side before every practice; keep the count.",
    LeaveKind.MAKEABLE.value: "A rack of pairs: front pin first, ten of each; keep the count.",
    LeaveKind.SPLIT.value: "Take the sure pin of wide splits; five tries at those within reach.",
    LeaveKind.WASHOUT.value: "Ten washouts from the spare line that the sheet gives.",
    ALL: "Twenty spares of the kinds you left, before every practice; keep the count.",
}
KIND_WORDS = {
    LeaveKind.SINGLE_PIN.value: "single pins",
    LeaveKind.MAKEABLE.value: "leaves of several pins without a split",
    LeaveKind.SPLIT.value: "splits",
    LeaveKind.WASHOUT.value: "washouts",
    ALL: "spares",
}


@dataclass(frozen=True, slots=True)
class Told:
    """Everything that findings are made of."""

    hindsight: Hindsight
    games: tuple[GameAccount, ...]
    racks: tuple[MetRack, ...]
    spares: tuple[SpareTold, ...]
    release: tuple[Finding, ...]
    lanes: tuple[Finding, ...]
    late_moves: LateMoves
    practice: PracticeTold | None

    @property
    def games_bowled(self) -> int:
        """Games of the log, finished or not."""
        return len({rack.game for rack in self.racks})

    @property
    def lines_told_share(self) -> float:
        """Of first balls: those whose line is in the log; all of none."""
        told = [
            rack.shot is not None and line_boards(rack.shot) is not None for rack in self.racks
        ]
        return sum(told) / len(told) if told else 1.0


def findings_of_event(told: Told) -> tuple[DebriefFinding, ...]:
    """The findings that weigh most, by what they cost and how sure that is; of several on one
    thing, a ball with two finishes, the first."""
    found = chain(
        _of_spares(told), _of_release(told), _of_surfaces(told), _of_balls(told),
        _of_moves(told), _of_lanes(told), _of_practice(told),
    )  # fmt: skip
    ranked: dict[str, DebriefFinding] = {}
    for finding in sorted(found, key=_weight, reverse=True):
        ranked.setdefault(finding.key, finding)
    return tuple(ranked.values())[:MOST_FINDINGS]


def _weight(finding: DebriefFinding) -> float:
    return finding.sure_probability * (finding.cost_pins_per_game or 0.0)


def _of_spares(told: Told) -> Iterator[DebriefFinding]:
    """The kind of leave that lacks most spares, where all or one kind were missed too often: of
    kinds that were by themselves, where there are such."""
    few = [
        row
        for row in told.spares
        if row.so_few_probability <= FEW_SPARES_PROBABILITY * (1.0 if row.kind == ALL else 0.5)
    ]
    if not few:
        return
    of_few = [row for row in few if row.kind != ALL]
    kinds = of_few or [row for row in told.spares if row.kind != ALL]
    worst = max(kinds, key=_lacking)
    by = few[0] if few[0].kind == ALL else worst
    missed = Counter(
        rack.shot.standing_after and "-".join(map(str, sorted(rack.shot.standing_after)))
        for rack in told.racks
        if rack.shot is not None
        and rack.kind is not None
        and rack.kind.value == worst.kind
        and rack.second is not None
        and not rack.is_spare
    )
    often = ", ".join(
        f"{leave} left {times} times" for leave, times in missed.most_common(3) if leave
    )
    yield DebriefFinding(
        key=f"spares: {worst.kind}",
        words=f"Fewer {KIND_WORDS[worst.kind]} were made than your own chances say.",
        evidence=(
            *(
                f"{KIND_WORDS[row.kind]}: {row.made} of {row.tried} made, "
                f"{row.expected_made:.1f} were to be expected; so few come about by chance in "
                f"{100 * row.so_few_probability:.0f} of 100 such events"
                for row in dict.fromkeys((*few, worst))
            ),
            *((f"missed: {often}",) if often else ()),
        ),
        cost_pins_per_game=SPARE_PINS * _lacking(by) / max(told.games_bowled, 1),
        sure_probability=1.0 - by.so_few_probability,
        change=Change(ChangeKind.DRILL, DRILLS[worst.kind]),
    )


def _lacking(row: SpareTold) -> float:
    return row.expected_made - row.made


def _of_release(told: Told) -> Iterator[DebriefFinding]:
    """A release of the day that is another than the file's."""
    games = [game.release_pins for game in told.games]
    cost = -float(np.mean(games)) if games else 0.0
    for finding in told.release:
        off = finding.found.mean - finding.planned.mean
        if abs(off) < OTHER_RELEASE_SDS * finding.planned.sd:
            continue
        sure = finding.sure_probability
        if sure < SURE_PROBABILITY:
            continue
        yield DebriefFinding(
            key=f"release: {finding.name}",
            words=f"{finding.name.capitalize()}: {finding.words}.",
            evidence=(
                f"{finding.found.mean:.1f} {finding.unit} (80 % within {finding.found.low:.1f} to "
                f"{finding.found.high:.1f}); your file says {finding.planned.mean:.1f}",
                f"all of the day's release came to {-cost:+.1f} pins a game on the planned lines",
            ),
            cost_pins_per_game=max(cost, 0.0),
            sure_probability=sure,
            change=Change(
                ChangeKind.RELEASE,
                f"Measure {finding.name.removesuffix(' of the day')} in the next practice; if it "
                "stays so, put it into your file. If it was fatigue or something hurt, rest or "
                "ask somebody qualified first.",
            ),
        )


def _of_surfaces(told: Told) -> Iterator[DebriefFinding]:
    """A ball that was worth more with another finish on most of what it was thrown on."""
    options = told.hindsight.options
    for option in told.hindsight.thrown:
        ball = options[option]
        others = [
            row
            for row, other in enumerate(options)
            if other.name == ball.name and other.surface.named != ball.surface.named
        ]
        better = _better(told, option, others)
        if ball.role is Role.SPARE or better is None or better.pins < SURFACE_PINS:
            continue
        other = options[better.option]
        yield _instead(
            told,
            better,
            key=f"surface: {ball.name}",
            words=f"{ball.name} at {ball.surface.named} was the wrong surface for these lanes.",
            kind=ChangeKind.SURFACE,
            proposal=f"Bring {ball.name} at {other.surface.named} to a condition like this one.",
        )


def _of_balls(told: Told) -> Iterator[DebriefFinding]:
    """Another ball of the locker that was worth clearly more than the one that was thrown most."""
    options = told.hindsight.options
    thrown = _options_by_game(told)
    if not thrown:
        return
    option = Counter(thrown.values()).most_common(1)[0][0]
    ball = options[option]
    others = [row for row, one in enumerate(options) if one.name != ball.name]
    better = _better(told, option, others)
    if better is None or better.pins < BALL_PINS:
        return
    other = options[better.option]
    yield _instead(
        told,
        better,
        key=f"ball: {other.name}",
        words=f"{other.name} was the better ball where {ball.name} was thrown.",
        kind=ChangeKind.BALL,
        proposal=f"Try {other.name} at {other.surface.named} early on a condition like this one.",
    )


@dataclass(frozen=True, slots=True)
class _Better:
    """Another option that was worth more, by so many pins a game, in the games in which one was
    thrown."""

    option: int
    pins: float
    sure: float
    games: Sequence[int]


def _instead(
    told: Told, better: _Better, key: str, words: str, kind: ChangeKind, proposal: str
) -> DebriefFinding:
    """A ball that was worth more; its cost is spread over all games of the event, and it is to be
    thought of on patterns like this one."""
    other, games = told.hindsight.options[better.option], better.games
    pattern = told.hindsight.event.left_pattern
    named = f"game{'' if len(games) == 1 else 's'} {', '.join(map(str, games))}"
    return DebriefFinding(
        key=key,
        words=words,
        evidence=(
            f"at {other.surface.named} the best lines of {other.name} were worth "
            f"{better.pins:.1f} pins more in {named}, in {100 * better.sure:.0f} of 100 draws of "
            "what is believed of the lanes now",
        ),
        cost_pins_per_game=better.pins * len(games) / told.games_bowled,
        sure_probability=better.sure,
        change=Change(
            kind,
            proposal,
            ball=other.name,
            surface_grit=other.surface.named,
            pattern=pattern.name,
            length_ft=pattern.length_m / FOOT_M,
        ),
    )


def _better(told: Told, option: int, others: Sequence[int]) -> _Better | None:
    """The best of some options beside one, over the games in which that one was thrown most, each
    on its own best lines."""
    games = [game for game, thrown in _options_by_game(told).items() if thrown == option]
    if not games or not others:
        return None
    own = _best_by_draw(told.hindsight, option, games)
    gains = {row: _best_by_draw(told.hindsight, row, games) - own for row in others}
    best = max(gains, key=lambda row: float(gains[row].mean()))
    return _Better(best, float(gains[best].mean()), float((gains[best] > 0).mean()), games)


def _best_by_draw(hindsight: Hindsight, option: int, games: Sequence[int]) -> FloatArray:
    """Value (d,) of an option's best lines, mean over some games and both of their lanes."""
    values = []
    for game in games:
        for lane in hindsight.study.of_game(game):
            row, column = lane.values.best_cell(option)
            values.append(np.asarray(lane.values.value[option, :, row, column], float))
    return np.asarray(np.mean(values, axis=0))


def _options_by_game(told: Told) -> dict[int, int]:
    """By game, the option that was thrown at most of its racks."""
    counts: dict[int, Counter[int]] = {}
    for rack in told.racks:
        if rack.shot is not None:
            counts.setdefault(rack.game, Counter())[told.hindsight.option_of(rack.shot)] += 1
    return {game: count.most_common(1)[0][0] for game, count in counts.items()}


def _of_moves(told: Told) -> Iterator[DebriefFinding]:
    """Moves that came late, over the whole event."""
    games = max(told.games_bowled, 1)
    moves = told.late_moves.moves
    cost = sum(move.cost_pins for move in moves) / games
    late = sum(move.shots_late for move in moves)
    if cost < LATE_PINS_PER_GAME or late < LATE_SHOTS_PER_GAME * games:
        return
    worst = sorted(moves, key=lambda move: -move.cost_pins)[:3]
    yield DebriefFinding(
        key="moves: late",
        words="Moves came late: shots went on from a line after others had shown a better one.",
        evidence=(
            f"{late} first balls, about {cost:.1f} pins a game",
            *(move.words for move in worst if move.cost_pins > 0),
        ),
        cost_pins_per_game=cost,
        sure_probability=told.late_moves.costly_probability,
        change=Change(
            ChangeKind.MOVES,
            "After two shots on a lane that miss to the same side, move: ask the read, or make "
            "the sheet's move. Carry what a pair taught to the next one before its first shot.",
        ),
    )


def _of_lanes(told: Told) -> Iterator[DebriefFinding]:
    """What the lanes were, where that is far from what was planned: a note for the next visit."""
    house = told.hindsight.event.house.name
    far = [
        finding
        for finding in told.lanes
        if abs(finding.found.mean - finding.planned.mean) >= LANE_SDS * finding.planned.sd
        and finding.sure_probability >= SURE_PROBABILITY
    ]
    if not far:
        return
    most = max(far, key=lambda one: abs(one.found.mean - one.planned.mean) / one.planned.sd)
    cost = -float(np.mean([game.lane_pins for game in told.games])) if told.games else 0.0
    yield DebriefFinding(
        key=f"lanes: {most.name}",
        words=f"The lanes had {most.words}.",
        evidence=tuple(
            f"{one.name}: {one.found.mean:.3g} {one.unit} "
            f"(80 % within {one.found.low:.3g} to {one.found.high:.3g})"
            for one in far
        ),
        cost_pins_per_game=max(cost, 0.0),
        sure_probability=most.sure_probability,
        change=Change(
            ChangeKind.HOUSE_NOTE,
            f"Write the visit into the house's book: {most.words}.",
            house=house,
        ),
    )


def _of_practice(told: Told) -> Iterator[DebriefFinding]:
    """Practice that told of one lane alone."""
    practice = told.practice
    if practice is None or len(practice.lanes) > 1 or not told.racks:
        return
    yield DebriefFinding(
        key="practice: one lane",
        words="Practice told of one lane of the pair alone.",
        evidence=(practice.words,),
        cost_pins_per_game=None,
        sure_probability=1.0,
        change=Change(
            ChangeKind.PRACTICE, "Throw the first two shots of practice on different lanes."
        ),
    )
