"""What games say of a bowler: strikes, spares, splits and opens, counted rack by rack."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from nextpair.scoring.frames import Delivery, Game
from nextpair.scoring.leaves import PINS


@dataclass(frozen=True, slots=True)
class Rack:
    """Ten pins as one frame met them; no second ball after a strike or a last fill ball."""

    frame: int
    first: Delivery
    second: Delivery | None

    @property
    def is_spare(self) -> bool:
        """Whether the second ball took what the first had left."""
        return self.second is not None and self.first.pins + self.second.pins == PINS


@dataclass(frozen=True, slots=True)
class Counts:
    """Counts over games. A spare try is a second ball; a last fill ball has none."""

    first_balls: int
    first_ball_pins: int
    strikes: int
    spare_tries: int
    spares: int
    splits: int
    splits_made: int
    fouls: int

    @property
    def opens(self) -> int:
        """Racks that two balls did not clear."""
        return self.spare_tries - self.spares


def racks(game: Game) -> Iterator[Rack]:
    """Every rack of a game in the order met; fill balls meet racks of their own.

    A rack whose second ball is still to come is left out: nothing is known of its spare yet.
    """
    for number, frame in enumerate(game.frames, start=1):
        balls = list(frame)
        while balls:
            first = balls.pop(0)
            if first.pins == PINS:
                yield Rack(number, first, None)
            elif balls:
                yield Rack(number, first, balls.pop(0))
            elif game.is_complete:
                yield Rack(number, first, None)


def counts(games: Iterable[Game]) -> Counts:
    """Counts over all racks of the games."""
    met = [rack for game in games for rack in racks(game)]
    tries = [rack for rack in met if rack.second is not None]
    split = [rack for rack in met if rack.first.split]
    return Counts(
        first_balls=len(met),
        first_ball_pins=sum(rack.first.pins for rack in met),
        strikes=sum(rack.first.pins == PINS for rack in met),
        spare_tries=len(tries),
        spares=sum(rack.is_spare for rack in tries),
        splits=len(split),
        splits_made=sum(rack.is_spare for rack in split),
        fouls=sum(rack.first.foul for rack in met)
        + sum(rack.second.foul for rack in tries if rack.second),
    )
