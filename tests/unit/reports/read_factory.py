"""A made-up read."""

from __future__ import annotations

from dataclasses import replace

from nextpair.domain.belief import (
    Draws,
    Estimate,
    FileValue,
    Finding,
    LaneMoves,
    MoveKind,
    MoveOption,
    PutOn,
    Read,
    ShotVerdict,
    Tie,
    UsualMove,
)
from nextpair.domain.sheet import LineCard

LINE = LineCard(
    laydown_board=24.5,
    slide_board=31.0,
    target_board=17.5,
    launch_angle_deg=2.4,
    breakpoint_board=9.0,
    breakpoint_ft=42.0,
    exit_board=10.0,
    speed_mph=17.4,
)


def a_finding(name: str, words: str, planned: Estimate, found: Estimate, more: float) -> Finding:
    return Finding(name, "% of plan", words, planned, found, more)


FRICTION = a_finding(
    "dry friction",
    "more friction than planned",
    Estimate(100.0, 7.0, 91.0, 109.0),
    Estimate(106.4, 3.5, 101.9, 110.9),
    0.96,
)
FILM = a_finding(
    "oil",
    "about as planned",
    Estimate(100.0, 7.0, 91.0, 109.0),
    Estimate(99.2, 5.5, 92.2, 106.2),
    0.44,
)
WEAR = a_finding(
    "wear",
    "about as planned",
    Estimate(100.0, 25.0, 73.0, 138.0),
    Estimate(100.0, 24.0, 74.0, 137.0),
    0.49,
)
SPEED = Finding(
    "speed of the day",
    "mph",
    "slower than usual",
    Estimate(17.4, 0.2, 17.1, 17.7),
    Estimate(17.31, 0.09, 17.19, 17.43),
    0.16,
)


def an_option(kind: MoveKind, gain: float, **changed: object) -> MoveOption:
    option = MoveOption(
        kind=kind,
        ball="Slate Weir",
        surface_grit=2000,
        lane=13,
        line=LINE,
        feet_boards=0.0,
        target_boards=0.0,
        speed_change_mph=0.0,
        expected_pins_per_game=196.0 + gain,
        gain_pins_per_game=gain,
        bad_case_gain_pins_per_game=gain - 5.0,
        better_probability=0.5 + 0.1 * gain,
        why=("it comes in at the pocket where staying goes high",),
    )
    return replace(option, **changed)


def a_read(hand: str = "right") -> Read:
    moves = LaneMoves(
        lane=13,
        game=1,
        options=(
            an_option(MoveKind.FEET_AND_TARGET, 4.2, feet_boards=2.0, target_boards=1.0),
            an_option(MoveKind.SPEED, 1.1, speed_change_mph=0.5),
            an_option(MoveKind.BALL, 0.4, ball="Dunlin Flock", surface_grit="polished"),
            an_option(MoveKind.HAND, 0.2, axis_rotation_change_deg=-10.0),
            an_option(MoveKind.STAY, 0.0),
        ),
        usual=UsualMove(
            "a high hit", "2-and-1", 2.0, 1.0, "Common practice.", "The same as the first."
        ),
        would_change="a shot that stays right of 17 at the pins would keep you where you are",
    )
    verdicts = tuple(
        ShotVerdict(
            id=f"6f1c1d0e-5b0a-4b57-9d5e-3a2f3c1b9a{number:02d}",
            game=min(number, 1),
            frame=max(number, 1),
            delivery=1,
            lane=13 + number % 2,
            ball="Slate Weir",
            breakpoint_miss_boards=None if number == 1 else 0.4 * number,
            entry_miss_boards=-0.04 if number == 1 else 1.5 * number,
            release_probability=0.12 * number,
            words="the lane hooks more than planned" if number == 3 else "",
        )
        for number in range(4)
    )
    return Read(
        event="Samphire Scratch Singles",
        bowler="Maren Tolvane",
        hand=hand,
        model_version="abc",
        seed=7,
        shots=4,
        last_game=1,
        last_frame=3,
        next_game=1,
        surfaces=(PutOn("Slate Weir", 2000),),
        findings=(FRICTION, FILM, SPEED, WEAR),
        ties=(Tie("dry friction", "oil", -0.74, "Dry friction and oil: one takes the other."),),
        verdicts=verdicts,
        moves=(moves,),
        cautions=("Believe what you see.",),
        draws=Draws(("dry", "film"), ((1.0625, 0.98), (1.0, 1.01234))),
        for_files=(
            FileValue("bowler.toml", "speed_mph", 17.4, 17.28),
            FileValue("bowler.toml", "rev_rate_rpm", 365.0, 365.2),
        ),
    )
