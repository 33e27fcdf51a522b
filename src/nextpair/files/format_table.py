"""The keys of event.toml that say how it is decided: `counting`, `[handicap]` and `[[stage]]`."""

from __future__ import annotations

from itertools import pairwise

from pydantic import Field

from nextpair.domain.format import (
    Counting,
    Format,
    HandicapRule,
    PinsTaken,
    Rounding,
    Stage,
    StageKind,
)
from nextpair.files.fields import Whole
from nextpair.files.forms import Form, make
from nextpair.files.intake import Intake, Source


class HandicapForm(Form):
    """The keys of `[handicap]`."""

    base: Whole = Field(description="average that nothing is added to", examples=[220])
    percent: Whole = Field(description="share that is added", examples=[90])
    rounding: Rounding = Field(
        default=Rounding.DOWN, description="what becomes of a fraction of a pin"
    )
    most: Whole | None = Field(default=None, description="the most that is added to a game")


class StageForm(Form):
    """One of `[[stage]]`."""

    kind: StageKind = Field(description="how the stage is bowled", examples=[StageKind.BLOCK])
    entrants: Whole = Field(description="how many go into it", examples=[2])
    games: Whole = Field(default=1, description="games of a block, or of each match")
    pins: PinsTaken = Field(
        default=PinsTaken.RESET, description="what becomes of the pins bowled before"
    )
    win_bonus_pins: Whole = Field(default=30, description="for a match won in a round robin")
    tie_bonus_pins: Whole = Field(default=15, description="for a match tied in a round robin")


def format_of(
    counting: Counting,
    handicap: HandicapForm | None,
    stages: tuple[StageForm, ...],
    entries: int | None,
    source: Source,
    intake: Intake,
) -> Format:
    """How an event is decided, from its filled forms; `entries` of the whole event, if known."""
    rule = None
    if handicap is not None:
        rule = make(_handicap, handicap, source, intake, at="handicap.")
    made = tuple(
        make(_stage, stage, source, intake, at=f"stage {number}: ")
        for number, stage in enumerate(stages, start=1)
    )
    if made and entries is not None and made[0].entrants > entries:
        allowed = f"at most {entries}, the entries of the event"
        intake.refuse(source, "stage 1: entrants", made[0].entrants, allowed)
        made = ()
    for number, (before, stage) in enumerate(pairwise(made), start=2):
        if stage.entrants > before.entrants:
            allowed = f"at most {before.entrants}, as many as in the stage before"
            intake.refuse(source, f"stage {number}: entrants", stage.entrants, allowed)
            made = ()
    return Format(counting, rule, made)


def _handicap(form: HandicapForm) -> HandicapRule:
    return HandicapRule(form.base, form.percent, form.rounding, form.most)


def _stage(form: StageForm) -> Stage:
    return Stage(
        form.kind, form.entrants, form.games, form.pins, form.win_bonus_pins, form.tie_bonus_pins
    )
