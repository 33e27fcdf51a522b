"""A pocket as the program makes it, without computing one: for tests of reports."""

from __future__ import annotations

from uuid import UUID

from nextpair.domain.lane_tables import (
    LaneTable,
    LaneTables,
    LeaveMap,
    MarkTable,
    OwnReach,
    OwnScatter,
    PinMap,
    Places,
    TableNumber,
)
from nextpair.domain.packing import PackGroup, PackingList, PackItem
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
        reading=some_tables(hand),
        packing=PackingList(
            sheet.event,
            3.5,
            (
                PackItem("Kestrel @ 2000", 1, "For games 1 and 2.", PackGroup.BALLS),
                PackItem("Towel", 3, "Oil off the cover before every shot.", PackGroup.COVERS),
            ),
            cautions=("Roll the bag.",),
        ),
    )


def some_tables(hand: str = "right") -> LaneTables:
    """Tables of one lane and one ball, on which nothing moves."""
    nothing = MarkTable((0,) * 4, (0,) * 60, (0,) * 54, 10)
    return LaneTables(
        hand=hand,
        speed_mph=17.6,
        slide_to_laydown_boards=6.5,
        practice_shots=10,
        scatter=OwnScatter(0.5, 0.28, 0.35, 0.04, 2.0),
        reach=OwnReach((10.0, 33.0), (-1.0, 5.0), (-1.0, 1.0), (0.0, 0.0)),
        numbers=(TableNumber("dry_log", "dry friction", "more", "less", 0.07),),
        own=(TableNumber("inside_boards", "unexplained turn", "in", "out", 0.6),),
        draws=((0, 50, -50),),
        own_draws=((10, 0, -10),),
        pins=PinMap(Places(0, 25, 2), Places(0, 100, 2), (1900,) * 4, 900),
        left=LeaveMap(Places(0, 50, 1), Places(0, 150, 1), (0, 512), (600, 400)),
        lanes=(
            LaneTable(
                1, 13, "Kestrel", 2000, True, 2000, 240, Places(2000, 150, 2),
                Places(240, 25, 2), 0, 0.0, 0.0, nothing, nothing, nothing,
            ),
        ),
    )  # fmt: skip
