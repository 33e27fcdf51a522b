"""Who bowls in the demo season: invented people, the same ones from event to event."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from nextpair.domain.ball import Cover
from nextpair.domain.bowler import Hand, Style

SEED = 61
MANY = 150
MEAN_LEVEL, LEVEL_SD_PINS = 203.0, 12.0
AVERAGE_ERROR_PINS = 5.0
LEFT_SHARE = 0.14
STYLE_SHARES = {Style.ONE_HANDED: 0.68, Style.TWO_HANDED: 0.25, Style.NO_THUMB: 0.07}
REVS_RPM = {Style.ONE_HANDED: (325, 30), Style.TWO_HANDED: (450, 28), Style.NO_THUMB: (405, 25)}
SPEED_MPH = {
    Style.ONE_HANDED: (17.2, 0.6),
    Style.TWO_HANDED: (18.3, 0.5),
    Style.NO_THUMB: (17.0, 0.5),
}
"""Mean and deviation by style: ordinary figures, from memory."""
COVER_SHARES = {Cover.SOLID: 0.36, Cover.HYBRID: 0.3, Cover.PEARL: 0.26, Cover.URETHANE: 0.08}
FIRST = (
    "Aldith", "Borm", "Cathal", "Dunja", "Eskil", "Fenella", "Grimwald", "Hedvig", "Ishbel",
    "Jorun", "Ketil", "Lowena", "Morwen", "Njord", "Oswin", "Petra", "Quillon", "Roswitha",
    "Sigrun", "Tancred", "Ursel", "Vigdis", "Wystan", "Ylva", "Zenna",
)  # fmt: skip
LAST = (
    "Applegarth", "Brackenrigg", "Copplestone", "Dunnockby", "Elderfold", "Furzeman",
    "Gillstrand", "Hawthornby", "Inglewater", "Juniperholt", "Kestevold", "Larksgard",
    "Mossbanner", "Nettlecombe", "Osierdale", "Plovergate", "Quickbeam", "Rushholm",
    "Sedgeworthy", "Tansyfield", "Umberstone", "Vetchling", "Wrackstead", "Yarrowby",
    "Zinnerholt",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody of the field: how they bowl, and how well. `average` is what they enter with."""

    name: str
    hand: Hand
    style: Style
    revs_rpm: int
    speed_mph: float
    cover: Cover
    level: float
    average: int


def people() -> tuple[Person, ...]:
    """Everybody, the same every time."""
    rng = np.random.default_rng(SEED)
    places = rng.choice(len(FIRST) * len(LAST), MANY, replace=False)
    names = [f"{FIRST[place % len(FIRST)]} {LAST[place // len(FIRST)]}" for place in places]
    return tuple(_person(name, rng) for name in names)


def _person(name: str, rng: np.random.Generator) -> Person:
    style = list(STYLE_SHARES)[int(rng.choice(3, p=list(STYLE_SHARES.values())))]
    covers = list(COVER_SHARES)
    level = float(rng.normal(MEAN_LEVEL, LEVEL_SD_PINS))
    return Person(
        name=name,
        hand=Hand.LEFT if rng.random() < LEFT_SHARE else Hand.RIGHT,
        style=style,
        revs_rpm=5 * round(rng.normal(*REVS_RPM[style]) / 5),
        speed_mph=round(float(rng.normal(*SPEED_MPH[style])), 1),
        cover=covers[int(rng.choice(len(covers), p=list(COVER_SHARES.values())))],
        level=level,
        average=round(level + AVERAGE_ERROR_PINS * rng.normal()),
    )
