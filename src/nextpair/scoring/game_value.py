"""What a game is worth when every rack has the same odds: exact mean and exact distribution.

Racks are independent of each other. A rack's odds say how many pins its first ball takes and,
after that, how many its second ball takes. The two lanes of a pair may have different odds: the
first frame and every second one after it are bowled on the first lane.

The distribution is found frame by frame. What must be known beside the score so far is only how
often the next two balls count: once each, or more after a spare, a strike or two strikes.

Source: [facts] section 7: rules of scoring, and the figures this is checked against.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate
from operator import attrgetter

from nextpair.domain.errors import require, require_within
from nextpair.scoring.frames import FRAMES, HIGHEST_SCORE
from nextpair.scoring.leaves import PINS

ROUNDING = 1e-6
"""How far probabilities may be from adding up to one."""
MOST_RACKS = FRAMES + 2
"""Of a game: one a frame, and two of the tenth's fill balls."""

AFTER_OPEN, AFTER_SPARE, AFTER_STRIKE, AFTER_TWO_STRIKES = range(4)
BALL_COUNTS = ((1, 1), (2, 1), (2, 2), (3, 2))
"""How often the next ball and the one after it count, by what came before them."""
AFTER_A_STRIKE = (AFTER_STRIKE, AFTER_STRIKE, AFTER_TWO_STRIKES, AFTER_TWO_STRIKES)

Weight = float | int


@dataclass(frozen=True, slots=True)
class FirstBall:
    """One way a first ball can fail to strike: its pins, and what a second ball makes of it.

    `missed_pins[k]` is the chance that a second ball takes k pins, given that it takes not all.
    """

    pins: int
    probability: float
    spare_chance: float
    missed_pins: tuple[float, ...] = (1.0,)

    def __post_init__(self) -> None:
        require_within("pins", self.pins, 0, PINS - 1, "pins")
        require_within("probability", self.probability, 0, 1 + ROUNDING, "")
        require_within("spare_chance", self.spare_chance, 0, 1, "")
        require(
            len(self.missed_pins) <= PINS - self.pins
            and all(chance >= 0 for chance in self.missed_pins)
            and abs(sum(self.missed_pins) - 1) <= ROUNDING,
            "missed_pins",
            self.missed_pins,
            f"chances of 0 to {PINS - 1 - self.pins} pins that add up to 1",
        )


@dataclass(frozen=True, slots=True)
class FrameOdds:
    """Odds of one rack: `first[k]` is the chance that the first ball takes k pins, and
    `second[k][j]` the chance that the second takes j more, given k; `second[k]` ends at the spare.
    """

    first: tuple[float, ...]
    second: tuple[tuple[float, ...], ...]

    def __post_init__(self) -> None:
        require(len(self.first) == PINS + 1, "first", self.first, "chances of 0 to 10 pins")
        require(
            [len(row) for row in self.second] == [PINS + 1 - pins for pins in range(PINS)],
            "second",
            self.second,
            "for 0 to 9 pins, chances of none to all of the others",
        )
        for field, row in (("first", self.first), *(("second", row) for row in self.second)):
            require(
                all(chance >= 0 for chance in row) and abs(sum(row) - 1) <= ROUNDING,
                field,
                row,
                "chances from 0 to 1 that add up to 1",
            )

    @property
    def strike(self) -> float:
        """Chance of a strike."""
        return self.first[PINS]

    @property
    def spare(self) -> float:
        """Chance of a spare, given no strike; 0 where every ball strikes."""
        made = sum(first * row[-1] for first, row in zip(self.first, self.second, strict=False))
        return made / (1 - self.strike) if self.strike < 1 else 0.0

    @property
    def first_ball_pins(self) -> float:
        """Mean pins of a first ball."""
        return sum(pins * chance for pins, chance in enumerate(self.first))

    @property
    def two_ball_pins(self) -> float:
        """Mean pins of the rack's first ball and, where it does not strike, its second."""
        return self.first_ball_pins + sum(
            self.first[pins] * sum(more * chance for more, chance in enumerate(row))
            for pins, row in enumerate(self.second)
        )


def frame_odds_of(strike: float, others: Iterable[FirstBall]) -> FrameOdds:
    """Odds of one rack from its strike chance and every other first ball.

    First balls with the same pins are merged, weighted by their probability. Raises
    InvalidValueError where the chances do not add up to one.
    """
    first = [0.0] * PINS + [strike]
    joint = [[0.0] * (PINS + 1 - pins) for pins in range(PINS)]
    for ball in others:
        first[ball.pins] += ball.probability
        row = joint[ball.pins]
        for more, chance in enumerate(ball.missed_pins):
            row[more] += ball.probability * (1 - ball.spare_chance) * chance
        row[-1] += ball.probability * ball.spare_chance
    never = [[1.0, *[0.0] * (PINS - pins)] for pins in range(PINS)]
    second = [
        [weight / total for weight in row] if (total := sum(row)) > 0 else never[pins]
        for pins, row in enumerate(joint)
    ]
    return FrameOdds(tuple(first), tuple(tuple(row) for row in second))


def expected_score(odds: FrameOdds, other_lane: FrameOdds | None = None) -> float:
    """Mean score of a game; `other_lane` holds the odds of frames 2, 4, ... 10 where they differ.

    A mean needs no distribution: a strike earns the next two balls, a spare the next one, and
    fill balls in the tenth frame are worth what those balls are worth.
    """
    return expected_score_of_frames(_frames(odds, other_lane))


def expected_score_of_frames(frames: Sequence[FrameOdds]) -> float:
    """Mean score of a game whose ten frames have odds of their own; fill balls have the tenth's.

    Raises InvalidValueError for another number of frames.
    """
    return expected_score_of_racks(_with_fill_balls(frames))


def expected_score_of_racks(racks: Sequence[FrameOdds]) -> float:
    """Mean score of a game whose twelve racks have odds of their own: one of each frame, then the
    two that fill balls may meet.

    Raises InvalidValueError for another number of racks.
    """
    require(len(racks) == MOST_RACKS, "racks", len(racks), f"{MOST_RACKS} racks")
    first_pins, both_pins = (
        {rack: measure(rack) for rack in set(racks)}
        for measure in (attrgetter("first_ball_pins"), attrgetter("two_ball_pins"))
    )
    total = 0.0
    for here, following, last in zip(racks, racks[1:], racks[2:], strict=False):
        next_two = both_pins[following] + following.strike * first_pins[last]
        spare = (1 - here.strike) * here.spare
        total += both_pins[here] + here.strike * next_two + spare * first_pins[following]
    return total


def score_distribution(odds: FrameOdds, other_lane: FrameOdds | None = None) -> tuple[float, ...]:
    """Chance of every score from 0 to 300; `other_lane` as in `expected_score`."""
    return score_distribution_of_frames(_frames(odds, other_lane))


def score_distribution_of_frames(frames: Sequence[FrameOdds]) -> tuple[float, ...]:
    """Chance of every score from 0 to 300 where the ten frames have odds of their own."""
    racks = [(rack.first, rack.second) for rack in _with_fill_balls(frames)[:FRAMES]]
    return tuple(_score_weights(racks))


def games_by_score() -> tuple[int, ...]:
    """How many different games end with each score from 0 to 300."""
    every_count_once = (1,) * (PINS + 1)
    second = tuple((1,) * (PINS + 1 - pins) for pins in range(PINS))
    return tuple(map(int, _score_weights([(every_count_once, second)] * FRAMES)))


def score_interval(distribution: Sequence[float], share: float = 0.8) -> tuple[int, int]:
    """Lowest and highest score of the middle `share` of games: as many fall below as above."""
    require(0 < share < 1, "share", share, "between 0 and 1")
    outside = (1 - share) / 2 * sum(distribution)
    reached = list(accumulate(distribution))
    low = next(score for score, total in enumerate(reached) if total > outside)
    high = next(score for score, total in enumerate(reached) if total >= reached[-1] - outside)
    return low, high


def _frames(odds: FrameOdds, other_lane: FrameOdds | None) -> list[FrameOdds]:
    """Odds of ten frames bowled on two lanes in turn."""
    lanes = (odds, odds if other_lane is None else other_lane)
    return [lanes[number % 2] for number in range(FRAMES)]


def _with_fill_balls(frames: Sequence[FrameOdds]) -> list[FrameOdds]:
    """Odds of ten frames and of the two racks that fill balls of the tenth may meet."""
    require(len(frames) == FRAMES, "frames", len(frames), f"{FRAMES} frames")
    return [*frames, frames[-1], frames[-1]]


RackWeights = tuple[Sequence[Weight], Sequence[Sequence[Weight]]]
Step = tuple[int, int, Weight]
FrameSteps = Callable[[RackWeights, int], Iterator[Step]]
"""What a frame can do, by its rack and by what came before it."""


def _score_weights(racks: Sequence[RackWeights]) -> list[Weight]:
    """Weight of every score, the product of the weights of its balls summed over its games."""
    states: list[list[Weight]] = [[1], [], [], []]
    for rack in racks[:-1]:
        states = after_frame(states, rack, frame_steps)
    return after_frame(states, racks[-1], tenth_frame_steps)[AFTER_OPEN]


def after_frame(
    states: Sequence[Sequence[Weight]], rack: RackWeights, steps: FrameSteps
) -> list[list[Weight]]:
    """Weights of the scores by what a frame ended with, from those before it."""
    reached: list[list[Weight]] = [[0] * (HIGHEST_SCORE + 1) for _ in states]
    for before, scores in enumerate(states):
        if any(scores):
            _add_steps(reached, scores, steps(rack, before))
    return reached


def _add_steps(
    reached: list[list[Weight]], scores: Sequence[Weight], steps: Iterable[Step]
) -> None:
    """Add to `reached[state]` the scores moved up by each step's pins and times its weight."""
    top = max((score for score, weight in enumerate(scores) if weight), default=-1) + 1
    merged: dict[tuple[int, int], Weight] = {}
    for state, pins, weight in steps:
        merged[state, pins] = merged.get((state, pins), 0) + weight
    for (state, pins), weight in merged.items():
        if weight:
            target = reached[state]
            target[pins : pins + top] = [
                there + weight * here
                for there, here in zip(target[pins : pins + top], scores, strict=False)
            ]


def frame_steps(rack: RackWeights, before: int) -> Iterator[Step]:
    """What a frame before the tenth can do: state of the next frame, pins counted, weight."""
    first, second = rack
    one, two = BALL_COUNTS[before]
    yield AFTER_A_STRIKE[before], PINS * one, first[PINS]
    for pins, row in enumerate(second):
        for more, weight in enumerate(row):
            state = AFTER_SPARE if pins + more == PINS else AFTER_OPEN
            yield state, pins * one + more * two, first[pins] * weight


def tenth_frame_steps(rack: RackWeights, before: int) -> Iterator[Step]:
    """The same of the tenth frame, whose fill balls count as bonus only."""
    first, second = rack
    one, two = BALL_COUNTS[before]
    for pins, row in enumerate(second):
        for more, weight in enumerate(row[:-1]):
            yield AFTER_OPEN, pins * one + more * two, first[pins] * weight
        spare = first[pins] * row[-1]
        for fill, weight in enumerate(first):
            yield AFTER_OPEN, pins * one + (PINS - pins) * two + fill, spare * weight
        for more, weight in enumerate(row):
            yield AFTER_OPEN, PINS * one + pins * two + more, first[PINS] * first[pins] * weight
    for fill, weight in enumerate(first):
        yield AFTER_OPEN, PINS * one + PINS * two + fill, first[PINS] * first[PINS] * weight
