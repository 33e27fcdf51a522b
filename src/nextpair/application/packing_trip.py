"""What an event asks for in games, blocks, hours and days, to pack by."""

from __future__ import annotations

import math
from dataclasses import dataclass

from nextpair.domain.ball import Role
from nextpair.domain.bowler import Style
from nextpair.domain.event import Event, SurfaceChanges
from nextpair.domain.format import Stage, StageKind
from nextpair.domain.sheet import BagItem

MINUTES_A_GAME = 10.0
"""That one bowler's game takes on a pair, others waiting. Common practice, from memory."""
HOURS_A_DAY = 9.0
"""That are bowled on one day at most. Common practice, from memory."""
IN_A_MATCH = 2
THUMBLESS = (Style.NO_THUMB, Style.TWO_HANDED)


@dataclass(frozen=True, slots=True)
class Trip:
    """An event and the bag for it, as the packing rules look at them.

    games, blocks, hours, days : with every stage that a bowler can get into, since who makes the
    cut needs the tape too.
    """

    event: Event
    bag: tuple[BagItem, ...]
    games: int
    blocks: int
    hours: float
    days: int

    @property
    def has_thumb(self) -> bool:
        """Whether a thumb is in the ball."""
        return self.event.bowler.style not in THUMBLESS

    @property
    def sands(self) -> bool:
        """Whether the rules let a surface be changed at all."""
        return self.event.surface_changes is not SurfaceChanges.NONE

    @property
    def has_spare_ball(self) -> bool:
        """Whether a ball for spares is in the bag."""
        spares = {ball.name for ball in self.event.locker if ball.role is Role.SPARE}
        return any(item.ball in spares for item in self.bag)


def trip_of(event: Event, bag: tuple[BagItem, ...]) -> Trip:
    """What an event asks for."""
    stages = event.format.stages
    hours = hours_there(event)
    return Trip(
        event=event,
        bag=bag,
        games=event.games + sum(most_games(stage) for stage in stages),
        blocks=1 + len(stages),
        hours=hours,
        days=max(1, math.ceil(hours / HOURS_A_DAY)),
    )


def hours_there(event: Event) -> float:
    """Hours from the start of practice to the last ball, by how full the bowler's pair is; a stage
    after the cut has a practice of its own, and its matches are bowled by two."""
    bowlers = len(event.block.entrants_on(event.start_pair, 1))
    hours = event.practice_s / 3600 + event.games * bowlers * MINUTES_A_GAME / 60
    for stage in event.format.stages:
        on_pair = bowlers if stage.kind is StageKind.BLOCK else IN_A_MATCH
        hours += event.practice_s / 3600 + most_games(stage) * on_pair * MINUTES_A_GAME / 60
    return hours


def most_games(stage: Stage) -> int:
    """The most games that one bowler can bowl in a stage."""
    rounds = math.ceil(math.log2(stage.entrants))
    met = {
        StageKind.BLOCK: 1,
        StageKind.ROUND_ROBIN: stage.entrants - 1,
        StageKind.SINGLE_ELIMINATION: rounds,
        StageKind.DOUBLE_ELIMINATION: 2 * rounds,
        StageKind.STEP_LADDER: stage.entrants - 1,
    }
    return stage.games * met[stage.kind]
