"""The carry table told to people and pictures: strike chance by impact, and a ladder of impacts
with what they leave."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from nextpair.application.carried import likeliest_leaves
from nextpair.application.cautions import STRINGS
from nextpair.application.model_version import model_version
from nextpair.carry.table import CarryTable, load_table
from nextpair.domain.bowler import Hand
from nextpair.domain.carry import CarryMap, CarryRange, ImpactCard, PublishedZone, Rows, Rung
from nextpair.domain.entry import level_boards, offset_boards_of
from nextpair.domain.errors import require_within
from nextpair.domain.house import Pinfall
from nextpair.domain.lane import CENTRE_BOARD
from nextpair.domain.units import MPH_MPS, POUND_KG

FloatArray = NDArray[np.float64]

USUAL_BALL_LB = 15.0
USUAL_SPEED_MPH = 17.0
OFFSETS_SHOWN = (-4.0, 8.0)
OFFSET_STEP = 0.25
ANGLES_SHOWN_DEG = (0.0, 9.0)
ANGLE_STEP_DEG = 0.5
LEVELS_TOLD = tuple(-1.0 + 0.5 * step for step in range(17))
"""Rows of the table by board, boards to the pocket's side of the head pin."""
ANGLES_TOLD_DEG = (1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0)
WINDOW_STRIKE = 0.9
BEST_SPREAD_BOARDS = 0.5
"""The best impact is the best on average over this much to either side: no lucky node."""

LADDER = (
    ("nose", 0.0),
    ("high", 1.0),
    ("high pocket", 1.8),
    ("flush", 2.5),
    ("light", 3.5),
    ("very light", 4.8),
    ("bucket", 5.9),
    ("missed head pin", 7.0),
)
"""Impacts by the trade's words, and how far level with the head pin the ball's centre is from it.
Source: common practice; flush is board 17.5, [facts] section 5."""
LADDER_ANGLES_DEG = (2.0, 4.0, 6.0)

PUBLISHED_LEVELS = (2.0, 3.0)
PUBLISHED_ANGLES_DEG = (4.0, 6.0)
"""Boards 17 to 18 at 4 to 6 degrees hold the highest strike percentages of the governing body's
tests. Source: [facts] section 5."""

SIMULATED = (
    "Chances come from simulated racks fitted to published totals. Differences between neighbours "
    "say more than any one figure."
)
WEIGHT_OUTSIDE = (
    "Balls of this weight lie outside of what was simulated: told as the nearest weight that was."
)
FAR_SIDE = "Strikes from the far side of the head pin are held against nothing published."


@dataclass(frozen=True, slots=True)
class _Asked:
    """One table, read at one speed for one hand."""

    table: CarryTable
    speed_mps: float
    hand: Hand

    def strikes(self, offsets: FloatArray, angles_deg: FloatArray) -> FloatArray:
        """Strike chance of impacts, in the common shape of the arguments."""
        return self.table.strike_probability(offsets, angles_deg, self.speed_mps)

    def strikes_level(self, levels: Sequence[float], angles_deg: Sequence[float]) -> FloatArray:
        """Strike chance (levels, angles) of balls by where they cross the head pin's row."""
        offsets = [[offset_boards_of(level, deg) for deg in angles_deg] for level in levels]
        return self.strikes(np.array(offsets), np.array(angles_deg))

    def board(self, boards: float) -> float:
        """Board from the right edge of a place beside the head pin's centre."""
        return CENTRE_BOARD - self.hand.sign * boards


def carry_map(
    ball_lb: float = USUAL_BALL_LB,
    speed_mph: float = USUAL_SPEED_MPH,
    hand: Hand = Hand.RIGHT,
    impact: tuple[float, float] | None = None,
    pinfall: Pinfall = Pinfall.FREE,
) -> CarryMap:
    """The carry table for one weight of ball and one speed at the pins.

    `impact` is one offset [boards] and entry angle [deg] to tell in detail, `pinfall` how the pins
    are set. Raises InvalidValueError for a weight, speed, offset or angle that no ball has.
    """
    require_within("weight", ball_lb, 6, 16, "lb")
    require_within("speed", speed_mph, 8, 26, "mph at the pins")
    if impact is not None:
        require_within("offset", impact[0], -20, 20, "boards from the head pin's centre")
        require_within("angle", impact[1], -15, 15, "degrees toward the far side")
    asked = _Asked(load_table(ball_lb * POUND_KG, pinfall), speed_mph * MPH_MPS, hand)
    simulated = _simulated(asked.table)
    offsets = _axis(OFFSETS_SHOWN, OFFSET_STEP, simulated.offset_board)
    angles_deg = _axis(ANGLES_SHOWN_DEG, ANGLE_STEP_DEG, simulated.entry_angle_deg)
    strikes = asked.strikes(offsets, angles_deg[:, np.newaxis])
    errors = asked.table.strike_error(offsets, angles_deg[:, np.newaxis], asked.speed_mps)
    ladder = tuple(_rung(asked, name, level) for name, level in LADDER)
    detail = None if impact is None else _card(asked, *impact)
    return CarryMap(
        hand=hand.value,
        model_version=model_version(),
        ball_lb=ball_lb,
        speed_mph=speed_mph,
        pinfall=pinfall.value,
        simulated=simulated,
        published_zone=_zone(asked),
        offset_boards=tuple(offsets.tolist()),
        entry_angles_deg=tuple(angles_deg.tolist()),
        strike_probability=_rows(strikes),
        strike_error=_rows(errors),
        head_pin_boards=tuple(asked.board(level) for level in LEVELS_TOLD),
        told_angles_deg=ANGLES_TOLD_DEG,
        strike_probability_by_board=_rows(asked.strikes_level(LEVELS_TOLD, ANGLES_TOLD_DEG)),
        window_boards=_window_boards(asked),
        best=_best(asked, angles_deg),
        ladder=ladder,
        impact=detail,
        cautions=(
            *((STRINGS,) if pinfall is Pinfall.STRING else ()),
            *((WEIGHT_OUTSIDE,) if not asked.table.weight_inside else ()),
            *_outside(simulated, speed_mph, detail),
            SIMULATED,
            FAR_SIDE,
        ),
    )


def _simulated(table: CarryTable) -> CarryRange:
    def ends(axis: FloatArray) -> tuple[float, float]:
        return float(axis[0]), float(axis[-1])

    return CarryRange(
        ends(table.offsets_boards), ends(table.angles_deg), ends(table.speeds_mps / MPH_MPS)
    )


def _axis(shown: tuple[float, float], step: float, simulated: tuple[float, float]) -> FloatArray:
    """Even steps over what is shown, as far as it was simulated."""
    low, high = max(shown[0], simulated[0]), min(shown[1], simulated[1])
    return np.linspace(low, high, round((high - low) / step) + 1)


def _rows(values: FloatArray) -> Rows:
    return tuple(tuple(row) for row in values.tolist())


def _card(asked: _Asked, offset: float, angle_deg: float) -> ImpactCard:
    where = (offset, angle_deg, asked.speed_mps)
    chances = asked.table.leave_probability(*where)
    return ImpactCard(
        entry_angle_deg=angle_deg,
        offset_board=offset,
        head_pin_board=asked.board(level_boards(offset, angle_deg)),
        contact_board=asked.board(offset),
        inside_range=bool(asked.table.inside_range(*where)),
        strike_probability=float(asked.table.strike_probability(*where)),
        strike_error=float(asked.table.strike_error(*where)),
        mean_pins=float(asked.table.mean_pins(*where)),
        leaves=likeliest_leaves(asked.table.leaves, chances, asked.hand),
    )


def _rung(asked: _Asked, name: str, level: float) -> Rung:
    impacts = tuple(_card(asked, offset_boards_of(level, deg), deg) for deg in LADDER_ANGLES_DEG)
    return Rung(name, asked.board(level), impacts)


def _zone(asked: _Asked) -> PublishedZone:
    low, high = sorted(asked.board(level) for level in PUBLISHED_LEVELS)
    return PublishedZone((low, high), PUBLISHED_ANGLES_DEG)


def _best(asked: _Asked, angles_deg: FloatArray) -> ImpactCard:
    """Impact on the pocket's side with the best average over BEST_SPREAD_BOARDS either side."""
    offsets = np.arange(0.0, OFFSETS_SHOWN[1] + 0.01, 0.05)
    around = np.linspace(-BEST_SPREAD_BOARDS, BEST_SPREAD_BOARDS, 11)
    spread = offsets[:, np.newaxis] + around
    average = asked.strikes(spread, angles_deg[:, np.newaxis, np.newaxis]).mean(axis=-1)
    row, column = np.unravel_index(np.argmax(average), average.shape)
    return _card(asked, float(offsets[column]), float(angles_deg[row]))


def _window_boards(asked: _Asked) -> tuple[float, ...]:
    step = 0.05
    levels = np.arange(0.0, 7.0, step).tolist()
    strikes = asked.strikes_level(levels, ANGLES_TOLD_DEG)
    return tuple((step * (strikes >= WINDOW_STRIKE).sum(axis=0)).tolist())


def _outside(
    simulated: CarryRange, speed_mph: float, impact: ImpactCard | None
) -> tuple[str, ...]:
    """What lies outside of what was simulated, in words."""
    asked = [("speed", speed_mph, simulated.speed_mph, "mph")]
    if impact is not None:
        asked += [
            ("offset", impact.offset_board, simulated.offset_board, "boards"),
            ("angle", impact.entry_angle_deg, simulated.entry_angle_deg, "degrees"),
        ]
    return tuple(
        f"The {name} lies outside of what was simulated, {low:g} to {high:g} {unit}: "
        "told as at its edge."
        for name, value, (low, high), unit in asked
        if not low <= value <= high
    )
