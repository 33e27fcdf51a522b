"""What lasts from event to event of an unknown: half of what a day shows belongs to the day.

Everything learned is drawn toward what was believed before, the more the fewer shots there are.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from nextpair.domain.house_book import Learned
from nextpair.domain.unknowns import unknown_of

LASTING_SHARE = 0.5
"""Of the variance of an unknown, what stays from event to event: the house, the number in the
file. The rest is the day's (assumption, tested by logs of several events in one house)."""
LEAST_NEWS = 1e-3
"""Precision that an event must add to what was believed of it, as a share, to count."""


@dataclass(frozen=True, slots=True)
class Lasting:
    """What lasts of one unknown: `mean` and `sd` in the unit of its name."""

    name: str
    mean: float
    sd: float

    @property
    def next_time(self) -> tuple[float, float]:
        """Mean and deviation to be believed before the next event, with the day's own part: as
        `reading.prior.usual_prior` takes it.

        Source: closed form, sum of two independent normals.
        """
        day = (1.0 - LASTING_SHARE) * unknown_of(self.name).spread ** 2
        return self.mean, math.sqrt(self.sd**2 + day)


def lasting(name: str, learned: Iterable[Learned], about: float = 0.0) -> Lasting:
    """What several events say of an unknown that lasts: of `dry_log` those in one house, of the
    release those of one bowler whose file has not changed meanwhile.

    learned : what each event said of it, all counted from one zero. about : where it is believed
    to lie before the first of them.

    Source: closed form, normal means with a known spread from event to event.
    """
    variance = unknown_of(name).spread ** 2
    precision = 1.0 / (LASTING_SHARE * variance)
    weighted = precision * about
    for one in learned:
        news = news_of(one)
        if news:
            said = (one.mean / one.sd**2 - one.before_mean / one.before_sd**2) / news
            weight = 1.0 / (1.0 / news + (1.0 - LASTING_SHARE) * variance)
            precision, weighted = precision + weight, weighted + weight * said
    return Lasting(name, weighted / precision, precision**-0.5)


def news_of(learned: Learned) -> float:
    """Precision that an event's shots added to what was believed of an unknown; 0 where it is too
    little to count."""
    before = 1.0 / learned.before_sd**2
    news = 1.0 / learned.sd**2 - before
    return news if news >= LEAST_NEWS * before else 0.0
