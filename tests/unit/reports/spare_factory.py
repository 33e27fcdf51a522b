"""Spares as the program makes them, without computing one: for tests of reports."""

from __future__ import annotations

from dataclasses import replace

from nextpair.application.cautions import ESTIMATES
from nextpair.domain.lane import mirrored_board
from nextpair.domain.sheet import EntryCard
from nextpair.domain.spare import (
    SpareCard,
    SpareLineCard,
    SpareSheet,
    SpareShotCard,
    SystemCard,
)
from nextpair.scoring.leaves import leave_text, mirrored_leave, parse_leave

LINE = SpareLineCard(24.5, 31.0, 17.2, 2.4, 17.6, 16.0)
SHOT = SpareShotCard(
    ball="Paper Moon",
    surface_grit="polished",
    surface_by="spinner",
    role="spare",
    flat=True,
    line=LINE,
    entry=EntryCard(3.4, 1.5, 14.9),
    pass_boards=(16.7, 16.9, 17.2, 17.5),
    spread_boards=2.1,
    mean_pins=1.4,
    probability=0.47,
    probability_error=0.031,
    leaves=(("10", 0.3), ("3", 0.2)),
)
OTHER = replace(SHOT, ball="Kestrel", surface_grit=2000, role="strike", flat=False)


def a_card(leave: str = "3-10", kind: str = "split") -> SpareCard:
    """One leave."""
    systems = (
        SystemCard("3-6-9", 3.0, LINE, 0.21, "From there Kestrel passes 4.1 boards left of it."),
        SystemCard("3:1:2", 3.8, LINE, 0.4, ""),
    )
    return SpareCard(
        leave=leave,
        kind=kind,
        left_probability=0.062,
        best=SHOT,
        runner_up=replace(OTHER, probability=0.44),
        runner_up_loses_probability=0.03,
        spare_ball=None,
        systems=() if kind in ("split", "washout", "full rack") else systems,
    )


def a_spare_sheet(hand: str = "right", **card: str) -> SpareSheet:
    """Two leaves of a right-hander, or of the left-hander in a mirror."""
    sheet = SpareSheet(
        event="Harbour Lights Scratch Open",
        bowler="Ada Quill",
        hand="right",
        model_version="0123456789ab",
        seed=7,
        lane=13,
        pattern="Long Tide 43",
        strike_ball="Kestrel",
        strike_surface_grit=2000,
        strike_line=LINE,
        spares=(a_card(**card), a_card("6", "single pin")),
        cautions=(ESTIMATES,),
    )
    return sheet if hand == "right" else _mirrored(sheet)


def _mirrored(sheet: SpareSheet) -> SpareSheet:
    return replace(
        sheet,
        hand="left",
        strike_line=_line(sheet.strike_line),
        spares=tuple(
            replace(
                card,
                leave=_leave(card.leave),
                best=_shot(card.best),
                runner_up=card.runner_up and _shot(card.runner_up),
                systems=tuple(replace(s, line=_line(s.line)) for s in card.systems),
            )
            for card in sheet.spares
        ),
    )


def _leave(leave: str) -> str:
    return leave_text(mirrored_leave(parse_leave(leave)))


def _line(line: SpareLineCard) -> SpareLineCard:
    return replace(
        line,
        laydown_board=mirrored_board(line.laydown_board),
        slide_board=mirrored_board(line.slide_board),
        target_board=mirrored_board(line.target_board),
    )


def _shot(shot: SpareShotCard) -> SpareShotCard:
    return replace(
        shot,
        line=_line(shot.line),
        pass_boards=tuple(mirrored_board(board) for board in shot.pass_boards),
        leaves=tuple((_leave(pins), chance) for pins, chance in shot.leaves),
    )
