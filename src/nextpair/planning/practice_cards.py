"""The practice as cards: what uses of it were weighed, and what to throw when on which lane."""

from __future__ import annotations

from dataclasses import replace

from nextpair.domain.sheet import PracticeOption, PracticeShot
from nextpair.kernel.layout import bodies_of
from nextpair.planning.cards import Desk, meant_line_card
from nextpair.planning.practice import Drill, Practice, minutes_a_shot, practice_plan
from nextpair.planning.practice_words import drill_words, spare_drill_words, use_words
from nextpair.planning.spare_shots import SpareShot
from nextpair.planning.trial import Line


def practice_option_cards(desk: Desk, practice: Practice | None) -> tuple[PracticeOption, ...]:
    """The uses that were weighed, the one taken first; none without practice."""
    if practice is None:
        return ()
    ranked = sorted(practice.uses, key=lambda use: (use is not practice.best, -use.gain_pins))
    return tuple(
        PracticeOption(
            name=use.name,
            expected_gain_pins_per_game=use.gain_pins,
            told_pins_per_game=use.told_pins,
            worn_pins_per_game=use.worn_pins,
            chosen=use is practice.best,
            words=use_words(desk.study, practice, use),
        )
        for use in ranked
    )


def practice_cards(
    desk: Desk, practice: Practice | None, corner_pin: SpareShot | None
) -> tuple[PracticeShot, ...]:
    """The best use of the practice as cards, spare shot last."""
    drills = practice_plan(desk.study, practice)
    if not drills:
        return ()
    shots = [_shot(desk, drill, drill.line == drills[0].line) for drill in drills]
    if corner_pin is not None:
        end = drills[-1].minute + drills[-1].shots * minutes_a_shot(desk.study)
        shots.append(_spare_shot(desk, corner_pin, end))
    return tuple(shots)


def _shot(desk: Desk, drill: Drill, first: bool) -> PracticeShot:
    study = desk.study
    ball = study.options[drill.line.option]
    return PracticeShot(
        minute=drill.minute,
        lane=drill.lane,
        ball=ball.name,
        surface_grit=ball.surface.named,
        shots=drill.shots,
        line=meant_line_card(desk, study.of_game(1)[drill.lane_side], drill.line),
        why=drill_words(study, drill, first),
    )


def _spare_shot(desk: Desk, shot: SpareShot, minute: float) -> PracticeShot:
    """The corner pin's shot on the pair's left lane, as `spares` has it."""
    ball, bowler = shot.delivery.ball, desk.bowler
    flat = replace(desk, bowler=replace(bowler, release=shot.delivery.release(bowler.release)))
    lane = desk.study.of_game(1)[0]
    bodies = bodies_of([ball], desk.study.event.house, bowler.pap_m)
    line = meant_line_card(flat, lane, Line(0, shot.own_laydown, shot.angle_rad), bodies)
    return PracticeShot(
        minute=minute,
        lane=lane.lane,
        ball=ball.name,
        surface_grit=ball.surface.named,
        shots=1,
        line=replace(line, target_board=desk.right_edge(shot.own_target)),
        why=spare_drill_words(shot),
    )
