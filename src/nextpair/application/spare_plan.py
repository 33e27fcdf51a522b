"""How to shoot what is left: cards for the bowler's first lane as laid."""

from __future__ import annotations

import math
from collections.abc import Sequence

from nextpair.application.cautions import ESTIMATES, STRINGS
from nextpair.application.model_version import model_version
from nextpair.application.sheets import typical_weight_kg
from nextpair.carry.leave_paths import place_boards
from nextpair.carry.spares import shipped_spares
from nextpair.carry.table import load_table
from nextpair.domain.ball import Role
from nextpair.domain.bowler import Bowler, Hand
from nextpair.domain.entry import level_boards
from nextpair.domain.errors import require
from nextpair.domain.event import Event
from nextpair.domain.house import Pinfall
from nextpair.domain.lane import BOARD_M, CENTRE_BOARD, PIN_ROW_M, PIN_ROWS
from nextpair.domain.sheet import EntryCard
from nextpair.domain.spare import (
    SpareCard,
    SpareLineCard,
    SpareSheet,
    SpareShotCard,
    SystemCard,
)
from nextpair.domain.units import DEGREE_RAD, MPH_MPS
from nextpair.kernel.throws import own_board
from nextpair.planning.spare_plan import SparePlan, StrikeLine, SystemShot, plan_spares
from nextpair.planning.spare_shots import Delivery, SpareShot
from nextpair.scoring.leaves import (
    FULL_RACK,
    PINS,
    is_split,
    is_washout,
    leave_text,
    mirrored_leave,
    parse_leave,
    pin_bit,
    pin_count,
    standing_pins,
)

LEAST_LEFT = 0.005
"""What stays less often after a miss is not told."""
LEFT_TOLD = 4
LARGE_LOSS = 0.1
"""From this much below the ball's best line on, a system's line is given a reason."""


def shoot_spares(event: Event, leave: str | None, seed: int) -> SpareSheet:
    """Best ball and line at one leave, such as "3-10", or without one at the commonest.

    Raises InvalidValueError for what is no leave, or one that nobody rolled at.
    """
    asked = () if leave is None else (_own_mask(_mask(leave), event.bowler.hand),)
    return _spare_sheet(event, asked, seed)


def shoot_every_spare(event: Event, seed: int) -> SpareSheet:
    """The same at every leave that has odds."""
    return _spare_sheet(event, leaves_with_odds(), seed)


def leaves_with_odds() -> tuple[int, ...]:
    """Every single pin, and every leave of more that was rolled at, as masks."""
    singles = (pin_bit(pin) for pin in range(1, PINS + 1))
    return (*singles, *shipped_spares().leaves)


def _spare_sheet(event: Event, asked: Sequence[int], seed: int) -> SpareSheet:
    """Cards of leaves as a right-hander would see them; without any, of the commonest."""
    hand = event.bowler.hand
    table = load_table(typical_weight_kg(event.locker), event.house.pinfall)
    found = plan_spares(event, table, seed, asked)
    lane = event.start_pair.lanes[0]
    strike = found.strike
    return SpareSheet(
        event=event.name,
        bowler=event.bowler.name,
        hand=hand.value,
        model_version=model_version(),
        seed=seed,
        lane=lane,
        pattern=event.pattern_of(lane).name,
        strike_ball=strike.ball.name,
        strike_surface_grit=strike.ball.surface.named,
        strike_line=_line(
            event.bowler,
            Delivery(strike.ball, flat=False),
            strike.line.own_laydown,
            strike.own_target,
            strike.line.angle_rad,
        ),
        spares=tuple(_card(event.bowler, plan, strike) for plan in found.plans),
        cautions=(
            ESTIMATES,
            *((STRINGS,) if event.house.pinfall is Pinfall.STRING else ()),
        ),
    )


def _mask(leave: str) -> int:
    mask = parse_leave(leave)
    require(mask != 0, "leave", leave, "at least one pin, as 10 or 1-2-10")
    return mask


def _own_mask(mask: int, hand: Hand) -> int:
    """A leave as a right-hander would see it; and back again."""
    return mask if hand is Hand.RIGHT else mirrored_leave(mask)


def _text(own: int, hand: Hand) -> str:
    return leave_text(_own_mask(own, hand))


def _kind(leave: int) -> str:
    if leave == FULL_RACK:
        return "full rack"
    if pin_count(leave) == 1:
        return "single pin"
    if is_split(leave):
        return "split"
    return "washout" if is_washout(leave) else "several pins"


def _card(bowler: Bowler, plan: SparePlan, strike: StrikeLine) -> SpareCard:
    best, *others = plan.shots
    return SpareCard(
        leave=_text(plan.leave, bowler.hand),
        kind=_kind(plan.leave),
        left_probability=strike.left.get(plan.leave, 0.0),
        best=_shot(bowler, best),
        runner_up=_shot(bowler, others[0]) if others else None,
        runner_up_loses_probability=best.chance - others[0].chance if others else 0.0,
        spare_ball=next(
            (_shot(bowler, shot) for shot in others[1:] if shot.delivery.ball.role is Role.SPARE),
            None,
        ),
        systems=tuple(_system(bowler, plan, system) for system in plan.systems),
    )


def _shot(bowler: Bowler, shot: SpareShot) -> SpareShotCard:
    ball, arrives = shot.delivery.ball, math.isfinite(shot.offset_boards)
    return SpareShotCard(
        ball=ball.name,
        surface_grit=ball.surface.named,
        surface_by=ball.surface.by.value,
        role=ball.role.value,
        flat=shot.delivery.flat,
        line=_line_of(bowler, shot),
        entry=EntryCard(
            offset_board=shot.offset_boards,
            entry_angle_deg=shot.entry_angle_deg,
            speed_mph=shot.speed_mps / MPH_MPS,
        )
        if arrives
        else None,
        spread_boards=shot.spread_boards,
        mean_pins=shot.mean_pins,
        pass_boards=_pass_boards(shot, bowler.hand) if arrives else (),
        probability=shot.chance,
        probability_error=shot.chance_error,
        leaves=tuple(
            (_text(mask, bowler.hand), chance)
            for mask, chance in shot.left[:LEFT_TOLD]
            if chance >= LEAST_LEFT
        ),
    )


def _pass_boards(shot: SpareShot, hand: Hand) -> tuple[float, ...]:
    """Board of the ball's centre level with each row of pins, on a straight path."""
    level = level_boards(shot.offset_boards, shot.entry_angle_deg)
    row_boards = PIN_ROW_M * math.tan(shot.entry_angle_deg * DEGREE_RAD) / BOARD_M
    return tuple(
        own_board(CENTRE_BOARD - level + row * row_boards, hand) for row in range(len(PIN_ROWS))
    )


def _line_of(bowler: Bowler, shot: SpareShot) -> SpareLineCard:
    return _line(bowler, shot.delivery, shot.own_laydown, shot.own_target, shot.angle_rad)


def _line(
    bowler: Bowler, delivery: Delivery, own_laydown: float, own_target: float, angle_rad: float
) -> SpareLineCard:
    laydown = own_board(own_laydown, bowler.hand)
    release = delivery.release(bowler.release)
    return SpareLineCard(
        laydown_board=laydown,
        slide_board=bowler.slide_board(laydown),
        target_board=own_board(own_target, bowler.hand),
        launch_angle_deg=angle_rad / DEGREE_RAD,
        speed_mph=release.speed_mps / MPH_MPS,
        axis_rotation_deg=release.axis_rotation_rad / DEGREE_RAD,
    )


def _system(bowler: Bowler, plan: SparePlan, system: SystemShot) -> SystemCard:
    move, shot = system.move, system.shot
    large = shot.chance < plan.shots[0].chance - LARGE_LOSS
    return SystemCard(
        system=move.system.name,
        start_move_boards=move.start_boards,
        line=_line_of(bowler, shot),
        probability=shot.chance,
        why=_why(bowler.hand, plan.leave, shot) if large else "",
    )


def _why(hand: Hand, leave: int, shot: SpareShot) -> str:
    """Why a system's line makes so much less than the computed one."""
    ball = shot.delivery.ball.name
    if not math.isfinite(shot.offset_boards):
        return f"From there {ball} goes into the gutter."
    aside = float(place_boards(leave, shot.offset_boards, shot.entry_angle_deg))
    own, far = ("right", "left") if hand is Hand.RIGHT else ("left", "right")
    pin = _text(1 << (standing_pins(leave)[0] - 1), hand)
    return (
        f"From there {ball} passes {abs(aside):.1f} boards {own if aside > 0 else far} of the "
        f"{pin} pin's middle: it does not hook the same from all boards."
    )
