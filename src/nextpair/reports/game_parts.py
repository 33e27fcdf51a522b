"""A game's account in tenths of a pin that add up as they stand on the page."""

from __future__ import annotations

from collections.abc import Iterable
from math import floor

from nextpair.domain.debrief import GameAccount

PARTS = {
    "lane_pins": "lane",
    "release_pins": "release",
    "choice_pins": "choice",
    "strays_pins": "strays",
    "carry_pins": "carry",
    "strays_and_carry_pins": "unseen",
    "spares_pins": "spares",
}
"""What each part is called at the head of its column."""
PARTS_WORDS = (
    "lane: what the lanes were against the plan; release: your speed, revs and rotation of the "
    "day; choice: the balls and lines that you threw in place of the planned ones; strays: where "
    "the balls came in; carry: what fell of it; spares: made and missed; unseen: strays and carry "
    "of first balls that nobody saw come in."
)
TENTHS = 10


def told_parts(account: GameAccount) -> dict[str, float]:
    """The parts that are told of a game, in tenths: with the plan they add up to the score.

    Each is within a tenth of what it is; which way it goes is decided by what is left over of it.
    """
    exact = {
        name: TENTHS * value for name in PARTS if (value := getattr(account, name)) is not None
    }
    tenths = {name: floor(value) for name, value in exact.items()}
    missing = TENTHS * account.score - round(TENTHS * account.planned_score)
    missing -= sum(tenths.values())
    by_rest = sorted(exact, key=lambda name: tenths[name] - exact[name])
    for name in by_rest[:missing]:
        tenths[name] += 1
    return {name: value / TENTHS for name, value in tenths.items()}


def told_plan(account: GameAccount) -> float:
    """The planned score as it stands beside the parts."""
    return round(TENTHS * account.planned_score) / TENTHS


def told_sums(accounts: Iterable[GameAccount]) -> dict[str, float]:
    """Every part added up over games, as the page shows each."""
    sums: dict[str, int] = {}
    for account in accounts:
        for name, value in told_parts(account).items():
            sums[name] = sums.get(name, 0) + round(TENTHS * value)
    return {name: sums[name] / TENTHS for name in PARTS if name in sums}
