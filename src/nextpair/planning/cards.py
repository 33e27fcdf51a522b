"""From trials to the cards of the sheet: boards from the right edge, trade units."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from nextpair.carry.table import CarryTable
from nextpair.domain.bowler import Bowler
from nextpair.domain.sheet import (
    FILM_TOLD_FT,
    EntryCard,
    FallbackCard,
    GameCard,
    LaneCard,
    LaterLineCard,
    LineCard,
    MoveCard,
    RoomCard,
)
from nextpair.domain.units import DEGREE_RAD, FOOT_M, MPH_MPS
from nextpair.kernel.layout import Bodies
from nextpair.kernel.roll import roll
from nextpair.kernel.throws import own_board, own_boards_of
from nextpair.physics.film import film_by_foot_units, film_line_units
from nextpair.planning.aim import PinValue
from nextpair.planning.choice import Fallback, GameChoice
from nextpair.planning.field import FieldScores
from nextpair.planning.moves import move_name, move_reason
from nextpair.planning.odds import bad_case_score, game_numbers, odds_by_draw
from nextpair.planning.reasons import (
    ball_reason,
    fallback_words,
    film_words,
    opinion_words,
    release_reason,
)
from nextpair.planning.rotation import FRAMES_PER_LANE, LANES_PER_PAIR, ShotsBefore, shots_before
from nextpair.planning.second_half import MIDDLES, film_at, second_half
from nextpair.planning.second_opinion import second_opinion
from nextpair.planning.study import LaneStudy, Study
from nextpair.planning.trial import Line, Trial, line_shots

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Desk:
    """What every card is written from."""

    study: Study
    table: CarryTable
    spares: FloatArray
    bowler: Bowler
    pins: PinValue

    def right_edge(self, own: float) -> float:
        """An own board counted from the right edge."""
        return own_board(own, self.bowler.hand)


def game_card(
    desk: Desk,
    choices: tuple[GameChoice, ...],
    trials: tuple[tuple[Trial, Trial], ...],
    game: int,
    field: FieldScores,
) -> GameCard:
    """The card of one game."""
    study, choice, tried = desk.study, choices[game - 1], trials[game - 1]
    ball = study.options[choice.option]
    lanes = tuple(
        _lane_card(desk, lane, trial)
        for lane, trial in zip(study.of_game(game), tried, strict=True)
    )
    odds = [odds_by_draw(trial.leaves_by_draw, desk.table.leaves, desk.spares) for trial in tried]
    strike = float(np.mean([trial.strike_by_draw.mean() for trial in tried]))
    score, interval = game_numbers(odds[0], odds[1])
    before = shots_before(study.event, game)
    return GameCard(
        game=game,
        pair=str(study.pair(game)),
        shots_before_on_my_side=before.own_side,
        shots_before_other_side=before.other_side,
        shots_before_unknown_side=before.unknown_side,
        shots_before_by_earlier_squads=before.earlier_squads,
        lanes=lanes,
        ball=ball.name,
        surface_grit=ball.surface.named,
        line=lanes[0].line,
        entry=lanes[0].entry,
        room=RoomCard(
            boards=float(np.mean([trial.room_boards for trial in tried])),
            mph=float(np.mean([trial.room_mph for trial in tried])),
            laydown_boards=float(np.mean([trial.room_laydown_boards for trial in tried])),
            launch_angle_deg=float(np.mean([trial.room_angle_rad for trial in tried]))
            / DEGREE_RAD,
        ),
        strike_probability=strike,
        spare_probability=float(np.mean([frame.spare for lane in odds for frame in lane])),
        expected_score=score,
        score_interval_80=interval,
        move_from_previous_game=_move(choices, trials, study, game),
        fallback=_fallback_card(desk, choice, choice.fallback) if choice.fallback else None,
        bad_case_score=bad_case_score(odds[0], odds[1]),
        field_score=field.field_score,
        usual_score=field.usual_score,
        why=_why(desk, choices, trials, game, before, strike),
        later_line=later_line_card(desk, choice, tuple(lane.line for lane in lanes)),
        release_gain_pins_per_game=choice.release_gain_pins,
    )


def _lane_card(desk: Desk, lane: LaneStudy, trial: Trial) -> LaneCard:
    hand = desk.bowler.hand

    def mirrored(row: tuple[float, ...]) -> tuple[float, ...]:
        return row if hand.sign > 0 else row[::-1]

    band = [sorted(desk.right_edge(edge) for edge in pair) for pair in trial.band]
    return LaneCard(
        lane=lane.lane,
        film_units_at={
            str(feet): mirrored(film_line_units(lane.start, feet * FOOT_M))
            for feet in FILM_TOLD_FT
        },
        line=_line_card(desk, trial),
        entry=EntryCard(
            offset_board=trial.offset_boards,
            entry_angle_deg=trial.entry_angle_deg,
            speed_mph=trial.entry_speed_mps / MPH_MPS,
        ),
        strike_probability=float(trial.strike_by_draw.mean()),
        path_boards=tuple(desk.right_edge(board) for board in trial.path),
        band_boards=tuple((low, high) for low, high in band),
        film_units=tuple(mirrored(row) for row in film_by_foot_units(lane.start)),
    )


def _line_card(desk: Desk, trial: Trial) -> LineCard:
    return _line_card_of(
        desk,
        trial.line,
        target=trial.target,
        breakpoint_board=trial.breakpoint_board,
        breakpoint_ft=trial.breakpoint_ft,
        exit_board=trial.exit_board,
    )


def _line_card_of(
    desk: Desk,
    line: Line,
    *,
    target: float,
    breakpoint_board: float,
    breakpoint_ft: float,
    exit_board: float,
) -> LineCard:
    """Card of a line and of where its meant shot goes, in own boards."""
    laydown = desk.right_edge(line.own_laydown)
    return LineCard(
        laydown_board=laydown,
        slide_board=desk.bowler.slide_board(laydown),
        target_board=desk.right_edge(target),
        launch_angle_deg=line.angle_rad / DEGREE_RAD,
        breakpoint_board=desk.right_edge(breakpoint_board),
        breakpoint_ft=breakpoint_ft,
        exit_board=desk.right_edge(exit_board),
        speed_mph=line.change.released(desk.bowler.release).speed_mps / MPH_MPS,
        speed_change_mph=line.change.speed_mps / MPH_MPS,
        axis_rotation_change_deg=line.change.rotation_rad / DEGREE_RAD,
    )


def meant_line_card(
    desk: Desk, lane: LaneStudy, line: Line, bodies: Bodies | None = None
) -> LineCard:
    """Card of a line that was not tried with scatter: one meant shot on the lane as planned.

    `bodies` left out are the lane's own options.
    """
    shots = line_shots(line, desk.bowler.release, lane.kind)
    paths = roll(lane.kind.under(lane.middle), bodies or lane.bodies, shots)
    return _line_card_of(
        desk,
        line,
        target=float(own_boards_of(paths.arrows_x_m[0])),
        breakpoint_board=float(own_boards_of(paths.break_x_m[0])),
        breakpoint_ft=float(paths.break_m[0] / FOOT_M),
        exit_board=float(own_boards_of(paths.exit_x_m[0])),
    )


def _move(
    choices: tuple[GameChoice, ...],
    trials: tuple[tuple[Trial, Trial], ...],
    study: Study,
    game: int,
) -> MoveCard | None:
    """Change of feet and target on the pair's left lane, positive toward the inside."""
    if game == 1:
        return None
    now, before = trials[game - 1][0], trials[game - 2][0]
    balls = [study.options[choices[g - 1].option].name for g in (game, game - 1)]
    feet = now.line.own_laydown - before.line.own_laydown
    target = now.target - before.target
    return MoveCard(
        feet_boards=feet,
        target_boards=target,
        ball_change=balls[0] != balls[1],
        name=move_name(feet, target),
        why=move_reason(study, choices, (before, now), game),
    )


def _fallback_card(desk: Desk, choice: GameChoice, fallback: Fallback) -> FallbackCard:
    study = desk.study
    ball = study.options[fallback.lines[0].option]
    left, right = (
        meant_line_card(desk, lane, line)
        for lane, line in zip(study.of_game(choice.game), fallback.lines, strict=True)
    )
    return FallbackCard(
        ball=ball.name,
        surface_grit=ball.surface.named,
        line=left,
        when=fallback_words(study, choice, fallback),
        right_line=right,
    )


def later_line_card(
    desk: Desk, choice: GameChoice, planned: tuple[LineCard, ...]
) -> LaterLineCard | None:
    """Card of the second half of a game, each lane with its own meant shot on its worn film."""
    later = second_half(desk.study, choice, desk.pins)
    if later is None:
        return None
    left, right = (
        before
        if line == first
        else meant_line_card(desk, replace(lane, middle=film_at(lane, MIDDLES[1])), line)
        for lane, line, first, before in zip(
            desk.study.of_game(choice.game), later.lines, choice.lines, planned, strict=True
        )
    )
    return LaterLineCard(
        from_frame=FRAMES_PER_LANE * LANES_PER_PAIR // 2 + 1,
        line=left,
        right_line=right,
        move=_move_between(desk, planned[0], left),
        right_move=_move_between(desk, planned[1], right),
        gain_pins=float(np.mean(later.gain_pins)),
    )


def _move_between(desk: Desk, before: LineCard, now: LineCard) -> MoveCard:
    """The move from a line to another of the same ball."""
    sign = desk.bowler.hand.sign
    feet = sign * (now.laydown_board - before.laydown_board)
    target = sign * (now.target_board - before.target_board)
    return MoveCard(feet, target, ball_change=False, name=move_name(feet, target))


def _why(
    desk: Desk,
    choices: tuple[GameChoice, ...],
    trials: tuple[tuple[Trial, Trial], ...],
    game: int,
    shots: ShotsBefore,
    strike: float,
) -> tuple[str, ...]:
    study, choice, trial = desk.study, choices[game - 1], trials[game - 1][0]
    lane = study.of_game(game)[0]
    found: list[str | None] = [
        film_words(study, lane, trial, shots),
        ball_reason(study, choice, strike),
        release_reason(choice),
    ]
    opinion = second_opinion(lane, trial)
    if not opinion.agrees:
        found.append(opinion_words(opinion, trial))
    return tuple(words for words in found if words)
