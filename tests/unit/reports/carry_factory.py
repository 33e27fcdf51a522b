"""A carry map as the program makes them, its chances invented: for tests of reports."""

from __future__ import annotations

import math

from nextpair.domain.bowler import Hand
from nextpair.domain.carry import CarryMap, CarryRange, ImpactCard, PublishedZone, Rung
from nextpair.domain.entry import level_boards, offset_boards_of
from nextpair.scoring.leaves import leave_text, mirrored_leave, parse_leave

RUNGS = (
    ("nose", 0.0, ("4-6-7-10", "3-6-10", "4-6")),
    ("high pocket", 1.8, ("4", "9")),
    ("flush", 2.5, ("8",)),
    ("light", 3.5, ("10", "5-7", "8-10")),
    ("missed head pin", 7.0, ("1-2-4-10", "1-2-10", "1-2-4-8-10")),
)
ANGLES_DEG = (2.0, 4.0, 6.0)
HIGHEST_DEG = 8.0


def a_carry_map(
    hand: str = "right",
    impact: tuple[float, float] | None = None,
    highest_strike: float = 0.97,
    error: float = 0.0123,
    pinfall: str = "free",
) -> CarryMap:
    """Strikes in a band about 2.6 boards that widens with the angle, up to 8 degrees."""
    sign = Hand(hand).sign

    def strike(offset: float, angle_deg: float) -> float:
        wide = 0.5 + 0.1 * angle_deg
        return highest_strike * math.exp(-((abs(offset - 2.6) / wide) ** 4))

    def card(offset: float, angle_deg: float, leaves: tuple[str, ...]) -> ImpactCard:
        chance = strike(offset, angle_deg)
        shares = (0.5, 0.3, 0.2)[: len(leaves)]
        named = leaves if hand == "right" else tuple(map(mirrored, leaves))
        return ImpactCard(
            entry_angle_deg=angle_deg,
            offset_board=offset,
            head_pin_board=20.0 - sign * level_boards(offset, angle_deg),
            contact_board=20.0 - sign * offset,
            inside_range=angle_deg <= HIGHEST_DEG,
            strike_probability=chance,
            strike_error=error,
            mean_pins=10.0 - 2.0 * (1.0 - chance),
            leaves=tuple(
                (pins, share * (1.0 - chance)) for pins, share in zip(named, shares, strict=True)
            ),
        )

    offsets = tuple(0.25 * step - 4.0 for step in range(49))
    angles = tuple(0.5 * step for step in range(round(2 * HIGHEST_DEG) + 1))
    levels, told = tuple(0.5 * step - 1.0 for step in range(17)), (1.0, 4.0, 6.0)
    return CarryMap(
        hand=hand,
        model_version="0123456789ab",
        ball_lb=14.5,
        speed_mph=16.5,
        pinfall=pinfall,
        simulated=CarryRange((-20.0, 20.0), (-2.0, HIGHEST_DEG), (13.0, 20.0)),
        published_zone=PublishedZone(
            (17.0, 18.0) if hand == "right" else (22.0, 23.0), (4.0, 6.0)
        ),
        offset_boards=offsets,
        entry_angles_deg=angles,
        strike_probability=tuple(
            tuple(strike(offset, angle) for offset in offsets) for angle in angles
        ),
        strike_error=((error,) * len(offsets),) * len(angles),
        head_pin_boards=tuple(20.0 - sign * level for level in levels),
        told_angles_deg=told,
        strike_probability_by_board=tuple(
            tuple(strike(offset_boards_of(level, angle), angle) for angle in told)
            for level in levels
        ),
        window_boards=(0.5, 1.0, 1.5),
        best=card(2.6, 7.5, ("8",)),
        ladder=tuple(
            Rung(
                name,
                20.0 - sign * level,
                tuple(card(offset_boards_of(level, angle), angle, leaves) for angle in ANGLES_DEG),
            )
            for name, level, leaves in RUNGS
        ),
        impact=None if impact is None else card(*impact, ("4-9", "7")),
        cautions=("Chances come from invented racks.",),
    )


def mirrored(pins: str) -> str:
    """A leave as the other hand sees it."""
    return leave_text(mirrored_leave(parse_leave(pins)))
