"""What a bowler's games say: strikes, pocket, carry, spares and leaves, and luck.

Documents for people and programs outside: the fields are those of `nextpair score --json`, as
docs/guide/json.md lists them. Every rate has the interval that holds 80 % of what is believed;
without one where nothing was tried.
"""

from __future__ import annotations

from dataclasses import dataclass

from nextpair.domain.standing import Interval


@dataclass(frozen=True, slots=True)
class Share:
    """So many of so many, and what share of many more it would likely be."""

    made: int
    tried: int
    mean_share: float | None
    share_interval_80: Interval | None


@dataclass(frozen=True, slots=True)
class MeanPins:
    """A mean of so many values; no interval where they are too few or all the same."""

    count: int
    mean_pins: float | None
    pins_interval_80: Interval | None


@dataclass(frozen=True, slots=True)
class KindRecord:
    """Spares of one kind: "single-pin", "makeable", "split", "washout", or "not told" where only
    counts were written down. `left` of them were left, some of which nobody shot at."""

    kind: str
    left: int
    spares: Share


@dataclass(frozen=True, slots=True)
class LeaveRecord:
    """One leave: how often it was left, and how often it was made of the times that somebody shot
    at it. `name` is what the trade calls it, where it does."""

    leave: str
    name: str | None
    kind: str
    left: int
    spares: Share


@dataclass(frozen=True, slots=True)
class Rates:
    """What some racks say.

    strikes : per full rack, fill balls among them.
    pocket : first balls in the pocket, of those whose entry somebody saw.
    carry : strikes, of those seen in the pocket.
    first_ball : pins of first balls.
    spares : of the racks at which a second ball was thrown.
    frames_filled : strike or spare, of the frames that are over; the others are open.
    by_kind : spares by kind of leave.
    by_leave : the leaves whose pins are known, commonest first.
    """

    strikes: Share
    pocket: Share
    carry: Share
    first_ball: MeanPins
    spares: Share
    frames_filled: Share
    by_kind: tuple[KindRecord, ...]
    by_leave: tuple[LeaveRecord, ...]

    @property
    def opens(self) -> int:
        """Frames that are over without strike or spare."""
        return self.frames_filled.tried - self.frames_filled.made


@dataclass(frozen=True, slots=True)
class Group:
    """The racks that have one thing in common: `kind` is "ball", "spare ball", "line", "pair",
    "lane side", "game" or "half". Of a line its middle boards are told."""

    kind: str
    name: str
    rates: Rates
    laydown_board: float | None = None
    target_board: float | None = None


@dataclass(frozen=True, slots=True)
class StrikeString:
    """So many strikes in a row, no more, and how often."""

    strikes: int
    times: int


@dataclass(frozen=True, slots=True)
class GameLuck:
    """A game's score against what was to be expected; the parts add up to score - expected.

    line_pins : by where the balls came in. None where nobody saw it, and then
    carry_pins : None too: by what fell of it.
    line_and_carry_pins : both, of first balls that nobody saw come in; None where all were seen.
    spares_pins : by spares made and missed against the own chances at those leaves.
    seen : first balls whose entry was seen, of `first_balls`.
    """

    game: int
    score: int
    expected_score: float
    line_pins: float | None
    carry_pins: float | None
    line_and_carry_pins: float | None
    spares_pins: float
    seen: int
    first_balls: int


@dataclass(frozen=True, slots=True)
class Luck:
    """Luck of the finished games whose pins are known. `notes` say against what."""

    games: tuple[GameLuck, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GameStatistics:
    """Everything that a bowler's games say.

    hand : "right" or "left".
    game_pins : scores of the finished games.
    strings : strikes in a row, two and more.
    strike_after_strike, strike_after_other : strikes on the rack right after, in the same game.
    notes : how this was counted, and what is not known.
    """

    hand: str
    games: int
    game_pins: MeanPins
    all: Rates
    groups: tuple[Group, ...]
    strings: tuple[StrikeString, ...]
    strike_after_strike: Share
    strike_after_other: Share
    notes: tuple[str, ...]
    luck: Luck | None = None
