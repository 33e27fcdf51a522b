"""What practice shots would tell of the lanes, and what knowing it is worth before the first game.

A shot that is thrown as meant arrives where the lane sends it, so where it arrives tells the
draws of the doubt apart, as far as the bowler's own scatter lets it. Each draw in turn is taken
for true, shots are seen on it, every draw is weighed again by how well it explains them (Bayes),
and the best ball and line by those weights are worth what they are worth. Every use of the
practice is held against the others with the same draws and the same luck.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri
from scipy.stats import qmc

from nextpair.domain.bowler import Bowler
from nextpair.kernel.roll import roll
from nextpair.kernel.throws import release_errors
from nextpair.planning.doubt import Doubt
from nextpair.planning.lines import FINER
from nextpair.planning.study import ANSWERED_SHARE, LaneStudy, Study, doubted_films
from nextpair.planning.trial import Line, line_shots, meant_offsets_boards

FloatArray = NDArray[np.float64]

SEEN_BOARDS = 0.7
"""How far off a bowler reads where a ball arrives, one standard deviation. Assumption: half a
pin's width and a little; tested by logged shots."""
OTHER_PAIR_SHARE = 0.5
"""Share of what a pair has told that holds on another one: air, ball and how the house dresses are
the same, the lanes are not. Assumption, tested by logged shots."""
LUCK = 8
"""Sets of seen shots for each draw."""
ERRORS = 64


@dataclass(frozen=True, slots=True)
class Sight:
    """One ball on its line on both lanes of the first pair, as practice shows it.

    offset_boards : (2, d) where the meant shot arrives on the left and right lane in each draw.
    noise_boards : standard deviation of one shot about it, as seen.
    """

    lines: tuple[Line, Line]
    offset_boards: FloatArray
    noise_boards: float

    @property
    def tells_boards(self) -> float:
        """Standard deviation of the arrival over the draws: what there is to be told."""
        return float(self.offset_boards.std(axis=1).mean())


def sight_of(study: Study, lines: tuple[Line, Line], seed: int) -> Sight:
    """What a ball on its line on each lane shows in practice."""
    bowler, lanes = study.event.bowler, study.of_game(1)
    offsets = [
        _arrivals(line, lane, study.doubt, bowler) for line, lane in zip(lines, lanes, strict=True)
    ]
    return Sight(lines, np.stack(offsets), _noise_boards(lines[0], lanes[0], bowler, seed))


def _arrivals(line: Line, lane: LaneStudy, doubt: Doubt, bowler: Bowler) -> FloatArray:
    """Offset (d,) of the meant shot half-way through practice in each draw."""
    half = 0.5 * (lane.fresh + lane.start)
    films = doubted_films(lane.fresh, half, half, doubt, lane.length_m)
    return meant_offsets_boards(line, films, lane, bowler)


def _noise_boards(line: Line, lane: LaneStudy, bowler: Bowler, seed: int) -> float:
    errors = release_errors(bowler.scatter, ERRORS, seed)
    shots = line_shots(line, bowler.release, lane.kind, errors)
    paths = roll(lane.kind.under(lane.start), lane.bodies, shots)
    return float(np.hypot(np.std(paths.lane_impact.offset_boards), SEEN_BOARDS))


@dataclass(frozen=True, slots=True, eq=False)
class Lessons:
    """What seeing is worth, over all games of an event, with some options in the bag.

    planned : for each lane of each game the value (d, options, lines) of every rolled line.
    answered : (g, d, options) value once the lane has shown itself.
    share : (g,) how far what the first pair told holds in each game.
    """

    sights: tuple[Sight, ...]
    planned: tuple[tuple[FloatArray, FloatArray], ...]
    answered: FloatArray
    share: FloatArray
    luck: FloatArray

    def gain_pins(self, shots: Sequence[int]) -> float:
        """Pins a game, mean over all games, that so many shots at each sight would gain.

        Odd shots are thrown on the left lane. Never less than nothing, as what has been seen can
        be left unused: before the shots draws weigh what they weigh on average after them.
        """
        weight = self._weights(np.asarray(shots, float))
        before = weight.mean(axis=0, keepdims=True)
        gains = [
            share * (_best(pair, answered, weight) - _best(pair, answered, before))
            for pair, answered, share in zip(self.planned, self.answered, self.share, strict=True)
        ]
        return float(np.mean(gains))

    def _weights(self, shots: FloatArray) -> FloatArray:
        """Weight of every draw (cases, d) in every case, which is a true draw and its luck."""
        draws = self.answered.shape[1]
        surprise = np.zeros((draws, LUCK, draws))
        for place, (sight, count) in enumerate(zip(self.sights, shots, strict=True)):
            for side, thrown in enumerate((np.ceil(count / 2), np.floor(count / 2))):
                if thrown:
                    spread = sight.noise_boards / np.sqrt(thrown)
                    arrives = sight.offset_boards[side]
                    seen = arrives[:, None] + spread * self.luck[:, 2 * place + side]
                    surprise += ((seen[:, :, None] - arrives) / spread) ** 2
        likelihood = np.exp(-0.5 * (surprise - surprise.min(axis=2, keepdims=True)))
        weight = likelihood / likelihood.sum(axis=2, keepdims=True)
        return np.asarray(weight.reshape(-1, draws))


def lessons_of(
    study: Study, options: tuple[int, ...], sights: tuple[Sight, ...], seed: int
) -> Lessons:
    """What these sights can teach a bowler who has these options along."""
    games = range(1, study.event.games + 1)
    first = study.pair(1)
    sampler = qmc.Halton(d=2 * len(sights), scramble=True, rng=np.random.default_rng(seed))
    return Lessons(
        sights=sights,
        planned=tuple(
            (
                _rolled_values(study.of_game(game)[0], options),
                _rolled_values(study.of_game(game)[1], options),
            )
            for game in games
        ),
        answered=study.answered_values[list(options)].transpose(1, 2, 0),
        share=np.array([1.0 if study.pair(game) == first else OTHER_PAIR_SHARE for game in games]),
        luck=ndtri(sampler.random(LUCK)),
    )


def _rolled_values(lane: LaneStudy, options: tuple[int, ...]) -> FloatArray:
    """Value (d, options, lines) of each option's lines that were rolled."""
    value = lane.values.value[list(options), :, ::FINER, ::FINER]
    return np.ascontiguousarray(value.reshape(*value.shape[:2], -1).transpose(1, 0, 2))


def _best(pair: tuple[FloatArray, FloatArray], answered: FloatArray, weight: FloatArray) -> float:
    """Mean over cases of the best option's value, with the lines that are best by the weights."""
    planned = np.mean([_best_lines(lane, weight) for lane in pair], axis=0)
    value = (1 - ANSWERED_SHARE) * planned + ANSWERED_SHARE * (weight @ answered)
    return float(value.max(axis=1).mean())


def _best_lines(value: FloatArray, weight: FloatArray) -> FloatArray:
    draws, options, lines = value.shape
    # Not by a matrix product: for so small ones its threads cost a hundred times what they save.
    by_case = np.einsum("cd,dx->cx", weight.astype(value.dtype), value.reshape(draws, -1))
    return np.asarray(by_case.reshape(-1, options, lines).max(axis=2), float)
