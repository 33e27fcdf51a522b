"""How a debrief is said: what it cost, how sure that is, the field, and where a lesson shows."""

from __future__ import annotations

from collections.abc import Sequence

from nextpair.domain.debrief import (
    Debrief,
    DebriefFinding,
    FieldTold,
    GameAccount,
    LateMove,
    PracticeTold,
    SpareTold,
)
from nextpair.domain.lesson import Change, ChangeKind, Lesson
from nextpair.reports.wording import (
    ball_words,
    counted,
    line_words,
    percent,
    sentence,
    sure_words,
)

LEVEL_SD = 0.5
"""Nearer to the field's mean than this, a game was level with it."""
LOW_FIELD_PINS = 4.0
"""A game in which the field was so far under its own mean was a hard one."""
WORTH_A_WORD_PINS = 2.0
"""Below this, hindsight would have changed next to nothing."""


def cost_words(finding: DebriefFinding) -> str:
    """'About 6.4 pins a game, 93 % sure'."""
    sure = sure_words(finding.sure_probability)
    if finding.cost_pins_per_game is None:
        return sentence(sure)[:-1]
    return f"About {finding.cost_pins_per_game:.1f} pins a game, {sure}"


def decision_words(finding: DebriefFinding, lessons: Sequence[Lesson]) -> str | None:
    """'accepted', 'dropped', 'learned' once it was put to rest, or None while nobody decided."""
    for lesson in lessons:
        if lesson.key == finding.key:
            if not lesson.accepted:
                return "dropped"
            return "learned" if lesson.done else "accepted"
    return None


def where_words(change: Change) -> str:
    """Where an accepted finding shows from now on."""
    if change.kind is ChangeKind.PACKING:
        return "It stands on your packing lists, and on the sheets of the events to come."
    if change.kind is ChangeKind.DRILL:
        return "It stands on the sheets of the events to come."
    at = []
    if change.house is not None:
        at.append(f"at {change.house}")
    if change.pattern is not None:
        like = "" if change.length_ft is None else " or one about as long"
        at.append(f"on {change.pattern}{like}")
    if change.ball is not None:
        at.append(f"with the {change.ball} in the locker")
    where = f" {' and '.join(at)}" if at else ""
    return f"It stands on the sheets of the events to come{where}."


def fields_words(debrief: Debrief) -> tuple[str, ...]:
    """Every game against the field; low scores that were the whole field's are said to be so."""
    if not debrief.field:
        return ()
    mean = sum(told.field_pins for told in debrief.field) / len(debrief.field)
    planned = {game.game: game.planned_score for game in debrief.games}
    return tuple(
        field_words(told, mean, told.score < planned.get(told.game, 0.0)) for told in debrief.field
    )


def field_words(told: FieldTold, mean_pins: float, is_under_plan: bool) -> str:
    """'Game 2: 176 where the field scored 179, 6 under its mean here: low for everybody.'"""
    said = f"Game {told.game}: {told.score} where the field scored {told.field_pins:.0f}"
    is_level = abs(told.relative_sd) < LEVEL_SD
    under = mean_pins - told.field_pins
    if is_under_plan and told.relative_sd > -LEVEL_SD and under >= LOW_FIELD_PINS:
        return f"{said}, {under:.0f} under its mean here: low for everybody, not for you alone."
    if is_level:
        return f"{said}: level with it."
    size = f"{abs(told.relative_sd):.1f}"
    side = "over" if told.relative_sd >= 0 else "under"
    return f"{said}: {size} standard deviations {side} it."


def spare_words(told: SpareTold) -> str:
    """'11 of 17, 14.6 were to be expected; so few or fewer come by chance in 3 %'."""
    said = f"{told.made} of {told.tried}, {told.expected_made:.1f} were to be expected"
    if told.made < told.expected_made:
        return f"{said}; so few or fewer come by chance in {percent(told.so_few_probability)}"
    return said


def regret_words(games: Sequence[GameAccount]) -> str:
    """What the picture of hindsight shows."""
    if not games:
        return ""
    most = max(games, key=lambda game: game.regret_pins)
    total = sum(game.regret_pins for game in games)
    if most.regret_pins < WORTH_A_WORD_PINS:
        return "What you threw was as good as the best that is known now, in every game."
    each = ", ".join(f"game {game.game} {game.regret_pins:.1f}" for game in games)
    return (
        f"With what is known now, the best ball and line would have been worth {total:.1f} pins "
        f"more over {counted(len(games), 'game')}: {each}. Most of it lay in game {most.game}. "
        "Nobody knew that then."
    )


def best_words(game: GameAccount, hand: str) -> str:
    """The best ball and line that the end of the day knows of."""
    ball = ball_words(game.best_ball, game.best_surface_grit)
    left, right = line_words(game.best_line, hand), line_words(game.best_right_line, hand)
    lines = left if left == right else f"left lane {left}; right lane {right}"
    return f"{ball}, {lines}: {game.best_score:.0f}"


def late_words(move: LateMove) -> str:
    """'Lane 15 asked for a move in frame 4. About 5.2 pins.'"""
    return f"{sentence(move.words)} About {move.cost_pins:.1f} pins."


def practice_words(told: PracticeTold) -> str:
    """How practice was used, and how many of its shots told something."""
    return f"{sentence(told.words)} {told.telling_shots} of {told.shots} told something."


def went_well(debrief: Debrief) -> tuple[str, ...]:
    """What went well: never nothing, since somebody bowled it."""
    return debrief.went_well or (
        f"{counted(len(debrief.games), 'game')} finished and {counted(debrief.shots, 'shot')} "
        "written down: that is what the next plan stands on.",
    )


def lanes_named(pair: str) -> str:
    """What lanes are called: those of a pair, or all of them."""
    return f"Lanes {pair}" if pair else "All lanes"
