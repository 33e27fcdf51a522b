"""Who the others may be and where they may play: a few equally likely crowds of one squad sheet.

A squad sheet says little of a bowler, and nothing of where they like to play. So the plan does not
believe one guess: each crowd has its own traffic, and each of those its own films.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from nextpair.domain import typical
from nextpair.domain.ball import Ball
from nextpair.domain.bowler import REV_RATES_RPM, SPEEDS_MPH
from nextpair.domain.event import Entrant, Event
from nextpair.domain.units import MPH_MPS, RPM_RADPS
from nextpair.planning.aim import PinValue
from nextpair.planning.condition import Condition
from nextpair.planning.traffic import LaneFilms, lane_films, throwers

FloatArray = NDArray[np.float64]
T = TypeVar("T")

CROWDS = 3
"""Crowds of a plan. Against 16 crowds, on eight games of 48 bowlers, the mean film from 20 to
40 ft is off by 36 % of the wear with one crowd, 27 with two, 21 with three, 19 with four; each
costs two CPU-seconds."""
HABIT_SD_BOARDS = 2.5
"""Of where people of one release like to leave the oil, by the rule of 31 (assumption; tested by
watching where a squad plays)."""
SPEED_SD_MPS = 0.5 * MPH_MPS
REV_RATE_SD_RADPS = 25.0 * RPM_RADPS
"""Of a bowler's speed and rev rate about what the squad sheet says (assumption)."""
SEEDS_APART = 100_000
"""Between the release errors of one crowd and of the next."""

HABIT, SPEED, REV_RATE, HAND, STYLE, COVER = range(6)
"""What is drawn of each of the others, in this order, needed or not: to learn one thing of one
bowler changes nothing of the rest."""


@dataclass(frozen=True, slots=True)
class Crowd:
    """An event whose squads are filled in, and boards inside (+) or outside (-) of the rule of 31
    at which each of the others likes to leave the oil, by name."""

    event: Event
    habits: Mapping[str, float]


def crowds(event: Event, count: int, seed: int) -> tuple[Crowd, ...]:
    """So many equally likely crowds: the same event and seed, the same crowds.

    Each quantity of each person is drawn once in every `count`-th part of its distribution.
    """
    # Loading it takes as long as one shot on one lane, which needs no crowd.
    from scipy.stats import norm

    blocks = (*event.earlier, event.block)
    names = dict.fromkeys(entrant.name for block in blocks for entrant in block.entrants)
    names.pop(event.bowler_name)
    rng = np.random.default_rng(seed)
    parts = np.tile(np.arange(count)[:, None, None], (1, len(names), COVER + 1))
    place = (rng.permuted(parts, axis=0) + rng.random(parts.shape)) / count
    deviation = norm.ppf(place[..., : REV_RATE + 1])
    found = []
    for number in range(count):
        drawn = {
            name: _Draw(deviation[number, person], place[number, person])
            for person, name in enumerate(names)
        }
        habits = HABIT_SD_BOARDS * deviation[number, :, HABIT]
        by_name = dict(zip(names, habits.tolist(), strict=True))
        found.append(Crowd(_filled_in(event, drawn), by_name))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Draw:
    """What chance says of one person: deviations (3,), and places from 0 to 1 (6,)."""

    deviation: FloatArray
    place: FloatArray


def _filled_in(event: Event, drawn: Mapping[str, _Draw]) -> Event:
    """The event with everybody who is drawn filled in."""

    def filled(entrants: tuple[Entrant, ...]) -> tuple[Entrant, ...]:
        return tuple(
            _entrant(one, drawn[one.name]) if one.name in drawn else one for one in entrants
        )

    earlier = tuple(replace(block, entrants=filled(block.entrants)) for block in event.earlier)
    return replace(event, squad=filled(event.squad), earlier=earlier)


def _entrant(entrant: Entrant, draw: _Draw) -> Entrant:
    """An entrant as one crowd has them: what was told, about so; what was not, drawn."""
    style = entrant.style or _pick(typical.STYLE_SHARES, draw.place[STYLE])
    usual = typical.release_of(style)
    return replace(
        entrant,
        hand=entrant.hand or _pick(typical.HAND_SHARES, draw.place[HAND]),
        style=style,
        cover=entrant.cover or _pick(typical.COVER_SHARES, draw.place[COVER]),
        speed_mps=_about(
            (entrant.speed_mps, SPEED_SD_MPS),
            (usual.speed_mps, typical.SPEED_SD_MPS),
            draw.deviation[SPEED],
            (SPEEDS_MPH[0] * MPH_MPS, SPEEDS_MPH[1] * MPH_MPS),
        ),
        rev_rate_radps=_about(
            (entrant.rev_rate_radps, REV_RATE_SD_RADPS),
            (usual.rev_rate_radps, typical.REV_RATE_SD_RADPS),
            draw.deviation[REV_RATE],
            (REV_RATES_RPM[0] * RPM_RADPS, REV_RATES_RPM[1] * RPM_RADPS),
        ),
    )


def _about(
    told: tuple[float | None, float],
    usual: tuple[float, float],
    deviation: float,
    ends: tuple[float, float],
) -> float:
    """A value about what was told, or else about what is usual, each with its spread."""
    value, spread = told
    if value is None:
        value, spread = usual
    return float(np.clip(value + spread * deviation, *ends))


def _pick(shares: Mapping[T, float], place: float) -> T:
    """What lies at a place, 0 to 1, among things with their shares."""
    ends = np.cumsum(list(shares.values()))
    return list(shares)[int(np.searchsorted(ends / ends[-1], place, side="right"))]


def likely_films(
    event: Event,
    own_ball: Ball,
    pins: PinValue,
    seed: int,
    progress: Callable[[str, int, int], None],
    count: int = CROWDS,
) -> LaneFilms:
    """Films of the lanes that the bowler meets, under the traffics of so many crowds."""
    worn = []
    for number, crowd in enumerate(crowds(event, count, seed)):

        def told(label: str, done: int, total: int, number: int = number) -> None:
            progress(label, number * total + done, count * total)

        worn.append(
            lane_films(
                crowd.event,
                throwers(crowd.event, own_ball),
                pins,
                seed + SEEDS_APART * number,
                told,
                Condition(habits=crowd.habits),
            )
        )
    return LaneFilms(
        worn[0].fresh,
        {at: np.concatenate([films.stages[at] for films in worn]) for at in worn[0].stages},
    )
