"""A recap with everything that one can hold; every name is invented."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from nextpair.application.film import film_card
from nextpair.domain.recap import (
    Recap,
    RecapBall,
    RecapCounts,
    RecapGame,
    RecapMoney,
    RecapPattern,
)
from nextpair.files import load_library

FILM = film_card(next(one for one in load_library() if one.name == "Tide Table 41"))
GAMES = (
    RecapGame(1, "13-14", 193, 0, 181.2, "Kestrel", 12.5),
    RecapGame(2, "17-18", 190, 0, 182.4, "Kestrel", 14.0),
    RecapGame(3, "21-22", 259, 0, 188.0, "Saltmarsh", 18.0),
)
BAG = (
    RecapBall("Kestrel", "solid", "2000", (11, 12, 0), 23, 10),
    RecapBall("Paper Moon", "plastic", "polished", (5, 4, 2), 0, 0, 9, 11),
    RecapBall("Saltmarsh", "pearl", "1000 by hand", (0, 0, 11), 11, 9, 1, 1),
    RecapBall("Teasel", "urethane", "3000", (0, 0, 0), purpose="Adds to a dry lane."),
)
LEARNED = ("Take Kestrel to 3000 on a fresh 41 ft pattern", "Thirty shots at the 10 pin a week.")
MONEY = RecapMoney("EUR", Decimal("329.50"), Decimal("240"), Decimal("-89.50"))


def a_recap(**changes: Any) -> Recap:
    """Three games of an event in full; `changes` are fields that are otherwise."""
    recap = Recap(
        event="Harbour Lights Open",
        date=date(2026, 6, 13),
        bowler="Ada Quill",
        hand="right",
        house="Copperfield Lanes",
        surface="synthetic",
        pinfall="free",
        games_of_event=3,
        games=GAMES,
        place=4,
        field=56,
        counts=RecapCounts(3, 19, 34, 10, 12, 2, 5),
        bag=BAG,
        patterns=(RecapPattern("all", FILM.pattern, FILM.film_units),),
        learned=LEARNED,
    )
    return replace(recap, **changes)
