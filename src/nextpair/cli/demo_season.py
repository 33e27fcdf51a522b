"""The season that comes with the program, taken into the store of this computer and put away."""

from __future__ import annotations

from contextlib import closing
from typing import TYPE_CHECKING, Annotated

import typer

from nextpair.domain.errors import InvalidValueError

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nextpair.bootstrap import Program
    from nextpair.domain.record import Record

WholeSeason = Annotated[
    bool, typer.Option("--season", help="Keep a whole invented season, to look at every screen.")
]
PutAway = Annotated[
    bool, typer.Option("--put-away", help="Delete what --season keeps; it can come back.")
]
LOOK_AT = (
    ("nextpair season", "how it went, and what is to come"),
    ('nextpair house "Cinder Lock Lanes"', "what two visits taught"),
    ("nextpair conditions", "on what the scores were made"),
    ('nextpair similar "Long Fetch 45"', "patterns that play alike"),
    ("nextpair serve", "all of it as pages"),
    ("nextpair demo --put-away", "take it out again"),
)


def demo_season(program: Program, *, take_in: bool, put_away: bool) -> str:
    """Take the season in and say what to look at, or put it away."""
    from nextpair.application.accounts import home_account
    from nextpair.application.demo_season import put_season_away, read_season, take_in_season

    if take_in and put_away:
        raise InvalidValueError("--put-away", "--season too", "one of them")
    papers = program.papers()
    season = read_season(papers, program.demo_files())
    with closing(program.store()) as store:
        account = home_account(store).id
        if put_away:
            away = put_season_away(store, account, season)
            return f"{away} records of the demo season are put away; --season brings them back.\n"
        return _kept_words(take_in_season(store, papers, account, season))


def _kept_words(events: Iterable[Record]) -> str:
    listed = "".join(f"  {event.document['date']}  {event.name}\n" for event in events)
    wide = max(len(command) for command, _ in LOOK_AT)
    looks = "".join(f"  {command:<{wide}}  {why}\n" for command, why in LOOK_AT)
    return f"An invented season is kept:\n\n{listed}\nLook at\n\n{looks}"
