"""A game under way: what it can still become, and what it will be by the odds of a rack.

Exact, for both countings. The frame under way is played out ball by ball; what follows is added
frame by frame, as `game_value` does it for a whole game.

Source: [facts] section 7: rules of scoring.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from nextpair.domain.format import Counting
from nextpair.scoring.current_frame import STRIKE_PINS
from nextpair.scoring.frames import (
    FRAMES,
    HIGHEST_SCORE,
    Delivery,
    Game,
    balls_at_rack,
    is_spare,
    is_strike,
)
from nextpair.scoring.game_value import (
    AFTER_OPEN,
    AFTER_SPARE,
    AFTER_STRIKE,
    AFTER_TWO_STRIKES,
    FirstBall,
    FrameOdds,
    RackWeights,
    Step,
    Weight,
    after_frame,
    frame_odds_of,
    frame_steps,
    tenth_frame_steps,
)
from nextpair.scoring.leaves import PINS
from nextpair.scoring.statistics import Counts

PRIOR_RACKS = 30
"""Racks of one's own that the usual odds weigh as much as: about three games. Assumption, tested
by how well early games foretell later ones."""
USUAL_STRIKE_CHANCE = 0.475
"""[facts] section 9: a 200-average bowler strikes 45 to 50 times in 100."""
USUAL_PINS = (0.01, 0.005, 0.005, 0.01, 0.015, 0.025, 0.05, 0.10, 0.22, 0.56)
"""Shares of first balls that take 0 to 9 pins. Assumption; [facts] section 9: few take under 5."""
USUAL_SPARES = (0.25, 0.25, 0.25, 0.30, 0.30, 0.40, 0.50, 0.60, 0.65, 0.87)
"""Chance of the spare by the pins of the first ball, splits among the leaves. Assumption, between
[facts] section 9's single pins of a 200-average bowler, 85 to 90 in 100, and half as many spares
after a count of 5 as after one of 9."""
BISECTIONS = 60
STEEPEST = 40.0
"""Of a tilt: beyond any that whole pins and counts ask for."""


def lowest_possible(game: Game) -> int:
    """Final score if no ball still to come takes a pin."""
    while (score := game.score) is None:
        game = game.with_ball(Delivery(0))
    return score


def pace(game: Game) -> int | None:
    """What ten frames come to at the rate of those whose score is known, fraction dropped as in an
    average; None before the first."""
    known = [total for total in game.running_scores if total is not None]
    return FRAMES * known[-1] // len(known) if known else None


def expected_finish(game: Game, odds: FrameOdds) -> float:
    """Mean final score of a game under way whose racks to come all have these odds."""
    return sum(score * chance for score, chance in enumerate(finish_distribution(game, odds)))


def finish_distribution(game: Game, odds: FrameOdds) -> tuple[float, ...]:
    """Chance of every final score from 0 to 300 of a game under way, by the odds of a rack."""
    if game.is_complete:
        return tuple(float(score == game.score) for score in range(HIGHEST_SCORE + 1))
    begun = game.frame_under_way
    states: list[list[Weight]] = [[0.0] * (HIGHEST_SCORE + 1) for _ in range(4)]
    for ended, chance in _ends(game, odds) if begun else [(game, 1.0)]:
        states[_ended_with(ended)][lowest_possible(ended)] += chance
    rack = (odds.first, odds.second)
    is_traditional = game.counting is Counting.TRADITIONAL
    for number in range(len(game.frames) + 1, FRAMES + 1):
        last = tenth_frame_steps if number == FRAMES else frame_steps
        states = after_frame(states, rack, last if is_traditional else _current_frame_steps)
    return tuple(map(sum, zip(*states, strict=True)))


def odds_of_counts(counts: Counts) -> FrameOdds:
    """Odds of a rack by one's own counts, beside the usual ones worth 30 racks.

    How many pins first balls leave, and how the spare depends on them, has the usual shape, tilted
    until strikes, pins and spares are in all what the counts say. A second ball that misses its
    spare takes any number of the other pins, equally likely.
    """
    usual_pins = _mean(USUAL_PINS)
    usual_spares = sum(map(_product, zip(USUAL_PINS, USUAL_SPARES, strict=True)))
    others = counts.first_balls - counts.strikes
    strike = _share(counts.strikes, counts.first_balls, USUAL_STRIKE_CHANCE)
    mean_pins = _share(counts.first_ball_pins - PINS * counts.strikes, others, usual_pins)
    spare = _share(counts.spares, counts.spare_tries, usual_spares)
    pins = _tilted(lambda tilt: _with_odds(USUAL_PINS, tilt), _mean, mean_pins)
    chances = _tilted(
        lambda tilt: tuple(1 / (1 + (1 / usual - 1) * math.exp(-tilt)) for usual in USUAL_SPARES),
        lambda tried: sum(map(_product, zip(pins, tried, strict=True))),
        spare,
    )
    return frame_odds_of(
        strike,
        [
            FirstBall(count, (1 - strike) * share, made, (1 / (PINS - count),) * (PINS - count))
            for count, (share, made) in enumerate(zip(pins, chances, strict=True))
        ],
    )


def _ends(game: Game, odds: FrameOdds) -> Iterator[tuple[Game, float]]:
    """Every way the frame under way can end, with its chance."""
    waiting = [(game, 1.0)]
    while waiting:
        game, so_far = waiting.pop()
        rack = balls_at_rack(game.frame_under_way)
        for pins, chance in enumerate(odds.second[rack[0].pins] if rack else odds.first):
            if chance:
                after = game.with_ball(Delivery(pins))
                outcome = after, so_far * chance
                if after.frame_under_way:
                    waiting.append(outcome)
                else:
                    yield outcome


def _ended_with(game: Game) -> int:
    """What the last frame means for the balls to come."""
    if game.counting is Counting.CURRENT_FRAME or game.is_complete or not game.frames:
        return AFTER_OPEN
    if is_strike(game.frames[-1]):
        return AFTER_TWO_STRIKES if any(map(is_strike, game.frames[-2:-1])) else AFTER_STRIKE
    return AFTER_SPARE if is_spare(game.frames[-1]) else AFTER_OPEN


def _current_frame_steps(rack: RackWeights, before: int) -> Iterator[Step]:
    """What a frame can do where it counts alone."""
    first, second = rack
    yield before, STRIKE_PINS, first[PINS]
    for pins, row in enumerate(second):
        for more, weight in enumerate(row):
            spare = pins + more == PINS
            yield before, PINS + pins if spare else pins + more, first[pins] * weight


def _share(found: int, tried: int, usual: float) -> float:
    """A rate, with the usual one weighed in."""
    return (found + PRIOR_RACKS * usual) / (tried + PRIOR_RACKS)


def _tilted(
    shape: Callable[[float], tuple[float, ...]],
    measure: Callable[[Sequence[float]], float],
    wanted: float,
) -> tuple[float, ...]:
    """The shape whose measure, which rises with the tilt, is the one that is wanted."""
    low, high = -STEEPEST, STEEPEST
    for _ in range(BISECTIONS):
        middle = (low + high) / 2
        low, high = (middle, high) if measure(shape(middle)) < wanted else (low, middle)
    return shape((low + high) / 2)


def _with_odds(shares: Sequence[float], tilt: float) -> tuple[float, ...]:
    """Shares of the counts 0, 1, ..., each count likelier than the one below by the tilt."""
    top = len(shares) - 1
    steps = [count - top * (tilt > 0) for count in range(len(shares))]
    pulls = [share * math.exp(tilt * step) for share, step in zip(shares, steps, strict=True)]
    return tuple(pull / sum(pulls) for pull in pulls)


def _mean(shares: Sequence[float]) -> float:
    return sum(count * share for count, share in enumerate(shares)) / sum(shares)


def _product(factors: tuple[float, float]) -> float:
    return factors[0] * factors[1]
