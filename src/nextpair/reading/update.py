"""The update: beliefs of lanes and bowler before some shots into beliefs after them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.errors import require
from nextpair.domain.house_book import Learned
from nextpair.reading.answers import RELEASE, Answers, Mark, answers_about
from nextpair.reading.lane_story import LaneStory
from nextpair.reading.likelihood import Likelihood, number_rows
from nextpair.reading.particles import tempered
from nextpair.reading.prior import Prior
from nextpair.reading.releases import Releases, releases_of
from nextpair.reading.seen import Seen

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

DRAWS = 512
REACH = 1.0
"""How far about what is believed beforehand shots are rolled, in deviations of it."""


@dataclass(frozen=True)
class Reading:
    """What is believed after n shots.

    prior : what was believed before. draws : (m, p), equally likely, columns as `names`.
    used : (n,) shots that told anything; the arrays below hold NaN for the others.
    planned_entry, planned_breakpoint : (n,) own boards expected before the shots of the line that
        was meant; expected_entry, expected_breakpoint : the same after them.
    entry_off_boards, breakpoint_off_boards : (n,) seen less planned, positive to the inside; NaN
        where nobody saw it.
    release_probability : (n,) chance that release and reading account for more of the miss at the
        pins than the lane does.
    bad_probability : (n,) chance that a shot was bad, or badly read, beyond all scatter.
    """

    prior: Prior
    draws: FloatArray
    used: BoolArray
    planned_entry: FloatArray
    planned_breakpoint: FloatArray
    expected_entry: FloatArray
    expected_breakpoint: FloatArray
    entry_off_boards: FloatArray
    breakpoint_off_boards: FloatArray
    release_probability: FloatArray
    bad_probability: FloatArray

    @property
    def names(self) -> tuple[str, ...]:
        """Names (p) of the unknowns, see domain.unknowns."""
        return self.prior.names

    @cached_property
    def mean(self) -> FloatArray:
        """Means (p,)."""
        return np.asarray(self.draws.mean(axis=0))

    @cached_property
    def sd(self) -> FloatArray:
        """Standard deviations (p,)."""
        return np.asarray(self.draws.std(axis=0))

    @cached_property
    def correlation(self) -> FloatArray:
        """Correlations (p, p)."""
        return np.asarray(np.corrcoef(self.draws.T))

    def column(self, name: str) -> FloatArray:
        """Draws (m,) of one unknown."""
        return self.draws[:, self.prior.place(name)]

    def learned(self, name: str) -> Learned:
        """What was believed of one unknown before the shots and after them."""
        place = self.prior.place(name)
        before = float(self.prior.mean[place]), float(self.prior.sd[place])
        return Learned(name, *before, float(self.mean[place]), float(self.sd[place]))


def update(prior: Prior, story: LaneStory, seen: Seen, seed: int, draws: int = DRAWS) -> Reading:
    """Beliefs after n shots: so many equally likely draws, the same for the same seed.

    prior must name every lane of the story. Raises InvalidValueError where the three do not speak
    of the same shots and lanes.
    """
    likelihood = likelihood_of(prior, story, seen)
    found = _draws(prior, likelihood, np.random.default_rng(seed), draws)
    return _reading(prior, found, likelihood, seen)


def likelihood_of(prior: Prior, story: LaneStory, seen: Seen) -> Likelihood:
    """How likely n shots are under any belief near the prior; refuses what `update` refuses."""
    require(len(seen) > 0, "seen", len(seen), "at least one shot")
    require(np.array_equal(story.lane, seen.lane), "seen", len(seen), "the shots of the story")
    for lane in np.unique(seen.lane).tolist():
        require(lane in prior.lanes, "lane", lane, f"lanes of the prior, {prior.lanes}")
    rows = number_rows(prior, seen.lane)
    releases = releases_of(story, seen, rows @ prior.mean)
    return Likelihood(prior, story, seen, releases, _answers(prior, story, releases, rows))


def _draws(
    prior: Prior,
    likelihood: Likelihood,
    rng: np.random.Generator,
    draws: int,
) -> FloatArray:
    """Draws (draws, p): of the unknowns that the shots depend on (p,) after them, of the others,
    which lanes not met have for themselves, as beforehand."""
    found = prior.mean + prior.sd * rng.normal(size=(draws, len(prior)))
    everything, told = np.tile(prior.mean, (draws, 1)), likelihood.told

    def log_likelihood(some: FloatArray) -> FloatArray:
        unknowns = everything[: len(some)].copy()
        unknowns[:, told] = some
        return likelihood.of(unknowns)

    found[:, told] = tempered(prior.mean[told], prior.sd[told], log_likelihood, rng, draws)
    return found


def _answers(prior: Prior, story: LaneStory, releases: Releases, rows: FloatArray) -> Answers:
    """Answers of the shots about what is believed beforehand."""
    centre = releases.numbers(rows @ prior.mean)
    centre[:, RELEASE] += releases.likely
    covariance = np.einsum("nip,p,njp->nij", rows, prior.sd**2, rows)
    covariance[:, RELEASE, RELEASE] += releases.covariance
    return answers_about(story, range(len(story)), centre, REACH**2 * covariance)


def _reading(
    prior: Prior,
    draws: FloatArray,
    likelihood: Likelihood,
    seen: Seen,
) -> Reading:
    """What the draws say of every shot."""
    releases, judged = likelihood.releases, likelihood.judged(draws)
    before = likelihood.judged(prior.mean[None])
    lane = judged.entry - before.entry
    release = judged.came_in - judged.entry
    blamed = np.where(np.abs(release) > np.abs(lane), 1.0, judged.bad_probability)

    def told(values: FloatArray) -> FloatArray:
        return np.asarray(np.where(releases.known, values, np.nan))

    planned_entry = told(releases.planned[:, Mark.ENTRY])
    planned_breakpoint = told(releases.planned[:, Mark.BREAKPOINT])
    return Reading(
        prior=prior,
        draws=draws,
        used=releases.known,
        planned_entry=planned_entry,
        planned_breakpoint=planned_breakpoint,
        expected_entry=told(judged.entry.mean(axis=0)),
        expected_breakpoint=told(judged.breakpoint.mean(axis=0)),
        entry_off_boards=seen.entry - planned_entry,
        breakpoint_off_boards=seen.breakpoint - planned_breakpoint,
        release_probability=told(blamed.mean(axis=0)),
        bad_probability=told(judged.bad_probability.mean(axis=0)),
    )
