"""Events drawn from what tournaments are like: what a planner would be told of each.

The sizes of the spreads are assumptions, told in docs/guide/proof.md. Names carry no meaning.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

import numpy as np

from nextpair.domain.ball import Ball, Cover, Role, Surface
from nextpair.domain.bowler import Bowler, Hand, Release, Style
from nextpair.domain.event import Entrant, Event, Pair, SurfaceChanges
from nextpair.domain.house import House, LaneSurface
from nextpair.domain.money import Money
from nextpair.domain.pattern import Pattern
from nextpair.domain.typical import (
    BALL_MASS_KG,
    LAYOUT,
    PAP_OVER_M,
    PAP_UP_M,
    SLIDE_TO_LAYDOWN_BOARDS,
    ball_of,
    reach_of,
    release_of,
    scatter_of,
)
from nextpair.domain.units import DEGREE_RAD, INCH_M, MPH_MPS, RPM_RADPS

GAMES = 4
PAIRS = 6
MOVE_PAIRS = 1
BALL_LIMIT = 5
PRACTICE_S = 10 * 60.0
BOWLERS_A_PAIR = (3, 4, 5)
LEFT_SHARE = 0.15
"""Left-handers on a pair that nobody sorted: about one bowler in ten, somewhat more on tours.
Source: [facts] section 8, weak; assumption."""
SORTED_SHARE = 0.25
"""Share of pairs whose bowlers are all of the bowler's own hand, and again of the other hand: far
more than at an event, so that each kind of pair is met often enough to be measured."""
LEFT_HANDED_SCENARIOS = 0.3
STYLES = ((Style.ONE_HANDED, 0.7), (Style.TWO_HANDED, 0.22), (Style.NO_THUMB, 0.08))
COVERS = (Cover.URETHANE, Cover.PEARL, Cover.HYBRID, Cover.SOLID)
COVER_SHARES = (0.1, 0.3, 0.25, 0.35)
LOCKER = (
    Cover.URETHANE, Cover.PEARL, Cover.PEARL, Cover.HYBRID, Cover.HYBRID, Cover.SOLID, Cover.SOLID,
)  # fmt: skip
SPEED_SD_MPS = 0.6 * MPH_MPS
REVS_SD_RADPS = 40.0 * RPM_RADPS
ROTATION_SD_RAD = 8.0 * DEGREE_RAD


def drawn_event(patterns: Sequence[Pattern], number: int, seed: int) -> Event:
    """Event `number` of a seed, on one of the patterns."""
    rng = np.random.default_rng([seed, number])
    pattern = patterns[int(rng.integers(len(patterns)))]
    hand = Hand.LEFT if rng.random() < LEFT_HANDED_SCENARIOS else Hand.RIGHT
    bowler = _bowler(rng, hand)
    pairs = [Pair(2 * place + 1) for place in range(PAIRS)]
    squad = [entrant for pair in pairs for entrant in _group(rng, pair, hand)]
    start = int(rng.integers(len(squad)))
    squad[start] = _own_row(squad[start].pair, bowler)
    return Event(
        name=f"Drawn event {number}",
        date=date(2026, 1, 1),
        games=GAMES,
        practice_s=PRACTICE_S,
        ball_limit=BALL_LIMIT,
        surface_changes=SurfaceChanges.BEFORE,
        house=House(
            name="Drawn house",
            lanes=2 * PAIRS,
            surface=LaneSurface.SYNTHETIC,
            surface_age_years=float(rng.uniform(0.0, 20.0)),
            temperature_c=float(rng.uniform(19.0, 24.0)),
        ),
        left_pattern=pattern,
        right_pattern=pattern,
        bowler=bowler,
        locker=_locker(rng),
        squad=tuple(squad),
        bowler_name=bowler.name,
        move_pairs=MOVE_PAIRS,
        money=Money(),
    )


def _release(rng: np.random.Generator, style: Style) -> Release:
    usual = release_of(style)
    return replace(
        usual,
        speed_mps=usual.speed_mps + SPEED_SD_MPS * float(np.clip(rng.normal(), -2, 2)),
        rev_rate_radps=usual.rev_rate_radps + REVS_SD_RADPS * float(np.clip(rng.normal(), -2, 2)),
        axis_rotation_rad=usual.axis_rotation_rad
        + ROTATION_SD_RAD * float(np.clip(rng.normal(), -2, 2)),
    )


def _style(rng: np.random.Generator) -> Style:
    return STYLES[int(rng.choice(len(STYLES), p=[share for _, share in STYLES]))][0]


def _bowler(rng: np.random.Generator, hand: Hand) -> Bowler:
    style = _style(rng)
    release = _release(rng, style)
    average = float(rng.uniform(185.0, 220.0))
    return Bowler(
        name="The bowler",
        hand=hand,
        style=style,
        release=release,
        pap_over_m=PAP_OVER_M,
        pap_up_m=PAP_UP_M,
        slide_to_laydown_boards=SLIDE_TO_LAYDOWN_BOARDS,
        average=average,
        scatter=scatter_of(average, release),
        reach=reach_of(hand, SLIDE_TO_LAYDOWN_BOARDS),
    )


def _group(rng: np.random.Generator, pair: Pair, hand: Hand) -> list[Entrant]:
    """Everybody who starts on a pair."""
    kind = rng.random()
    found = []
    for place in range(int(rng.choice(BOWLERS_A_PAIR))):
        left = rng.random() < LEFT_SHARE
        if kind < SORTED_SHARE:
            left = hand is Hand.LEFT
        elif kind < 2 * SORTED_SHARE:
            left = hand is Hand.RIGHT
        style = _style(rng)
        release = _release(rng, style)
        found.append(
            Entrant(
                pair=pair,
                name=f"{pair} {place + 1}",
                hand=Hand.LEFT if left else Hand.RIGHT,
                style=style,
                rev_rate_radps=release.rev_rate_radps,
                speed_mps=release.speed_mps,
                cover=COVERS[int(rng.choice(len(COVERS), p=COVER_SHARES))],
            )
        )
    return found


def _own_row(pair: Pair, bowler: Bowler) -> Entrant:
    return Entrant(
        pair=pair,
        name=bowler.name,
        hand=bowler.hand,
        style=bowler.style,
        rev_rate_radps=bowler.release.rev_rate_radps,
        speed_mps=bowler.release.speed_mps,
        cover=Cover.HYBRID,
    )


def _locker(rng: np.random.Generator) -> tuple[Ball, ...]:
    """Strike balls about the middle ball of each cover, and a plastic one for spares."""
    balls = []
    for place, cover in enumerate((*LOCKER, Cover.PLASTIC)):
        usual = ball_of(cover)
        spread = usual.role is Role.STRIKE
        differential_m = usual.differential_m + spread * rng.uniform(-0.012, 0.010) * INCH_M
        grits: tuple[int | None, ...] = (1000, 2000, 3000, 4000, None)
        grit = grits[int(rng.integers(len(grits)))] if spread else None
        balls.append(
            Ball(
                name=f"{cover.value} {place + 1}",
                mass_kg=BALL_MASS_KG,
                rg_m=usual.rg_m + spread * rng.uniform(-0.03, 0.05) * INCH_M,
                differential_m=float(differential_m),
                intermediate_m=float(spread * rng.choice([0.0, 0.012]) * INCH_M),
                cover=cover,
                surface=Surface(grit, float(rng.uniform(0.0, 12.0))),
                layout=replace(LAYOUT, pin_to_pap_m=float(rng.uniform(3.25, 5.25)) * INCH_M),
                role=usual.role,
            )
        )
    return tuple(balls)
