"""A pocket as the program makes it, without computing one: for tests of reports."""

from __future__ import annotations

from uuid import UUID

from nextpair.domain.packing import PackGroup, PackItem
from nextpair.domain.pocket import Pocket, PocketBall, PocketPair
from unit.reports.sheet_factory import a_sheet
from unit.reports.spare_factory import a_spare_sheet

MADE_AT = "2026-06-12T19:30:00+00:00"


def a_pocket(hand: str = "right", games: int = 2) -> Pocket:
    """The pocket of a made-up event."""
    sheet = a_sheet(hand, games)
    return Pocket(
        event_id=UUID(int=0x5A1D),
        made_at=MADE_AT,
        games=games,
        practice_minutes=12.0,
        surface_changes="before",
        ball_limit=6,
        pinfall="free",
        pattern_names=(sheet.pattern.name,),
        pairs=tuple(
            PocketPair(game.game, game.pair, (game.lanes[0].lane, game.lanes[1].lane))
            for game in sheet.games
        ),
        balls=(
            PocketBall("Kestrel", 2000, "strike", in_bag=True),
            PocketBall("Paper Moon", "polished", "spare", in_bag=True),
            PocketBall("Paper Crown", 1500, "strike", in_bag=False),
        ),
        sheet=sheet,
        spares=a_spare_sheet(hand),
        alike=(("1-2-3-9", "1-2-3"),),
        packing=(
            PackItem("Kestrel @ 2000", 1, "For games 1 and 2.", PackGroup.BALLS),
            PackItem("Towel", 3, "Oil off the cover before every shot.", PackGroup.COVERS),
        ),
    )
