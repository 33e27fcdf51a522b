"""How a belief is said: numbers with their spread, misses by side, moves with what they gain."""

from __future__ import annotations

from nextpair.domain.belief import (
    Estimate,
    Finding,
    MoveKind,
    MoveOption,
    Read,
    ShotVerdict,
    UsualMove,
)
from nextpair.domain.sheet import MoveCard
from nextpair.domain.shot_log import PRACTICE
from nextpair.reports.wording import (
    ball_words,
    counted,
    line_words,
    move_words,
    sentence,
    sides,
    sure_words,
)

FINE_SD = 1.5
"""A spread below this is told with one decimal more."""


def number_words(number: float, finding: Finding) -> str:
    """A number of a finding, as fine as what is known of it."""
    spread, digits = finding.planned.sd, 0
    while spread < FINE_SD and digits < 2:
        spread, digits = 10.0 * spread, digits + 1
    told = f"{number:.{digits}f}"
    return told.removeprefix("-") if float(told) == 0.0 else told


def range_words(estimate: Estimate, finding: Finding) -> str:
    """'97 to 112'."""
    low, high = (number_words(number, finding) for number in (estimate.low, estimate.high))
    return f"{low} to {high}"


def finding_words(finding: Finding) -> str:
    """'More friction than planned, 80 % sure'; 'About as planned' where no side is likely."""
    sure = f", {sure_words(finding.sure_probability)}" * finding.is_likely
    return f"{sentence(finding.words)[:-1]}{sure}"


def change_words(finding: Finding) -> str:
    """'before 91 to 109, now 97 to 112 %': each holds four times in five."""
    return (
        f"before {range_words(finding.planned, finding)}, "
        f"now {range_words(finding.found, finding)} {finding.unit}"
    )


def how_far_words(read: Read) -> str:
    """'12 shots, up to frame 6 of game 1'."""
    shots = counted(read.shots, "shot")
    if read.last_game == PRACTICE:
        return f"{shots} of practice"
    return f"{shots}, up to frame {read.last_frame} of game {read.last_game}"


def miss_words(boards: float | None, hand: str) -> str:
    """A miss by its side: '1.5 left', 'on line', or '-' where nobody saw."""
    if boards is None:
        return "-"
    told = f"{abs(boards):.1f}"
    inside, outside = sides(hand)
    return "on line" if told == "0.0" else f"{told} {inside if boards > 0 else outside}"


def shot_place_words(verdict: ShotVerdict) -> str:
    """'game 1 frame 3', with the ball of the frame where it is not the first."""
    game = "practice" if verdict.game == PRACTICE else f"game {verdict.game}"
    later = f".{verdict.delivery}" if verdict.delivery > 1 else ""
    return f"{game} frame {verdict.frame}{later}"


def option_words(option: MoveOption, hand: str) -> str:
    """What to do: 'Stay', or 'Feet 2 left, target 1 left: feet 31, target 17, ...'."""
    line = line_words(option.line, hand)
    if option.kind is MoveKind.STAY:
        return f"Stay: {line}"
    moved = MoveCard(option.feet_boards, option.target_boards, ball_change=False)
    said = []
    if option.kind is MoveKind.BALL:
        said.append(ball_words(option.ball, option.surface_grit))
    if option.speed_change_mph:
        said.append(f"{option.speed_change_mph:+.1f} mph")
    if option.axis_rotation_change_deg:
        said.append(f"{option.axis_rotation_change_deg:+.0f} degrees of axis rotation")
    if option.feet_boards or option.target_boards:
        said.append(move_words(moved, hand))
    return f"{sentence(', '.join(said))[:-1]}: {line}"


def gain_words(option: MoveOption) -> str:
    """'200 pins a game, +4.2 over staying (92 % sure; worst tenth -0.8)'."""
    worth = f"{option.expected_pins_per_game:.0f} pins a game"
    if option.kind is MoveKind.STAY:
        return worth
    return (
        f"{worth}, {option.gain_pins_per_game:+.1f} over staying "
        f"({sure_words(option.better_probability)}; worst tenth "
        f"{option.bad_case_gain_pins_per_game:+.1f})"
    )


def usual_words(usual: UsualMove, hand: str) -> str:
    """The trade's move after a miss, and how it differs from the computed one."""
    if not usual.feet_boards and not usual.target_boards:
        return f"After {usual.miss} the trade stays. {usual.words} {usual.differs}".rstrip()
    move = move_words(MoveCard(usual.feet_boards, usual.target_boards, ball_change=False), hand)
    told = f"After {usual.miss} the trade moves {usual.name}: {move}. {usual.words}".rstrip()
    return f"{told} {usual.differs}".rstrip()
