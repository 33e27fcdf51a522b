"""A score sheet with whatever one may hold: leaves, a game under way, two bowlers."""

from __future__ import annotations

from nextpair.application.score_sheet import ScoreSheet, WrittenGame, score_sheet
from nextpair.domain.format import Counting
from nextpair.scoring.leaves import parse_leave

TEN, BABY, WASHOUT = (parse_leave(pins) for pins in ("10", "3-10", "1-2-10"))
WRITTEN = (
    WrittenGame(
        "Ada Quill",
        1,
        "9/, (8)1, X, X, 7/, X, F9, X, X, X 7 /",
        leaves=((TEN, 0), (BABY, TEN), (0,), (0,), (WASHOUT, 0)),
    ),
    WrittenGame("Ada Quill", 2, "X, 9/, X,"),
    WrittenGame("Bo Farr", 1, "9-, 9-, 9-, 9-, 9-, 9-, 9-, 9-, 9-, 9-"),
)


def a_score_sheet(counting: Counting = Counting.TRADITIONAL) -> ScoreSheet:
    """The sheet of the games above; under the current frame of one under way alone."""
    alone = counting is Counting.CURRENT_FRAME
    return score_sheet(WRITTEN[1:2] if alone else WRITTEN, counting)
