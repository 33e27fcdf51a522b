"""What a bowler can still win: stages, the final place, and the event's own prizes."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal

import numpy as np

from nextpair.domain.event import Event
from nextpair.domain.money import rounded
from nextpair.domain.standing import Prospects, StageChance
from nextpair.tournament.cut import INTERVAL_80
from nextpair.tournament.field_model import FieldModel, Wholes
from nextpair.tournament.stages import finish_of


def prospects_of(
    event: Event, model: FieldModel, totals: Wholes, rng: np.random.Generator
) -> Prospects | None:
    """The prospects of the bowler, from (draws, n) totals of the field; None where neither stages
    nor prizes are told. Without stages the places of the games that everybody bowls are final."""
    stages, prizes = event.format.stages, event.money.prizes
    if not stages and not prizes:
        return None
    finish = finish_of(stages, model, totals, rng)
    own = finish.places[:, model.me]
    low, high = np.quantile(own, INTERVAL_80, method="inverted_cdf")
    won = _won(own, prizes)
    mean, sd = _mean_and_sd(won, len(own))
    return Prospects(
        stages=tuple(
            StageChance(
                kind=stage.kind.value,
                entrants=stage.entrants,
                reach_chance=float((bowlers == model.me).any(axis=1).mean()),
                win_chance=float((bowlers[:, 0] == model.me).mean()),
            )
            for stage, bowlers in zip(stages, finish.stages, strict=True)
        ),
        cash_chance=sum(won.values()) / len(own),
        win_chance=float((own == 1).mean()),
        place_interval_80=(int(low), int(high)),
        expected_prize=rounded(mean, event.money.currency),
        prize_sd=rounded(sd, event.money.currency),
        currency=event.money.currency,
        prize_chances=tuple((prize, draws / len(own)) for prize, draws in won.items()),
    )


def _won(own: Wholes, prizes: tuple[Decimal, ...]) -> Counter[Decimal]:
    """In how many draws each prize is won, the largest first."""
    places, draws = np.unique(own[own <= len(prizes)], return_counts=True)
    won: Counter[Decimal] = Counter()
    for place, many in zip(places.tolist(), draws.tolist(), strict=True):
        if prize := prizes[place - 1]:
            won[prize] += many
    return won


def _mean_and_sd(won: Counter[Decimal], draws: int) -> tuple[Decimal, Decimal]:
    """Of what is won, in exact sums."""
    mean = sum((prize * many for prize, many in won.items()), Decimal(0)) / draws
    square = sum((prize**2 * many for prize, many in won.items()), Decimal(0)) / draws
    return mean, max(square - mean**2, Decimal(0)).sqrt()
