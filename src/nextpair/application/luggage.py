"""What the balls weigh in their cases, against what the journey allows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from nextpair.domain.event import Event
from nextpair.domain.kit import Kit
from nextpair.domain.packing import CaseWeight
from nextpair.domain.sheet import BagItem
from nextpair.domain.units import POUND_KG


def cases_of(event: Event, bag: Sequence[BagItem], kit: Kit) -> tuple[CaseWeight, ...]:
    """The cases that a bag fills, in its order, by the weights of the locker."""
    weights_lb = {ball.name: ball.mass_kg / POUND_KG for ball in event.locker}
    balls = [item.ball for item in bag if item.ball in weights_lb]
    return tuple(
        _case(balls[start : start + kit.balls_a_case], weights_lb, kit)
        for start in range(0, len(balls), kit.balls_a_case)
    )


def _case(balls: Sequence[str], weights_lb: Mapping[str, float], kit: Kit) -> CaseWeight:
    weight_lb = kit.case_lb + sum(weights_lb[ball] for ball in balls)
    return CaseWeight(tuple(balls), round(weight_lb, 3), kit.case_limit_lb)
