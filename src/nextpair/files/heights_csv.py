"""heights.csv: the shape of a lane's surface, 39 boards at each distance, in inches."""

from __future__ import annotations

from nextpair.domain.house import LARGEST_HEIGHT_IN, HeightMap
from nextpair.domain.units import INCH_M
from nextpair.files.board_csv import BoardTable, board_row, read_boards
from nextpair.files.intake import Intake, Source

HeightRow = board_row("HeightRow", "height of this board in inches")


def read_height_table(source: Source, intake: Intake) -> BoardTable | None:
    """The heights of a file in inches; None when it is refused."""
    return read_boards(source, intake, HeightRow, -LARGEST_HEIGHT_IN, LARGEST_HEIGHT_IN, "in")


def read_heights(source: Source, intake: Intake) -> HeightMap | None:
    """The heights of a file; None when it is refused."""
    table = read_height_table(source, intake)
    if table is None:
        return None
    return HeightMap(
        distance_m=table.distance_m,
        height_m=tuple(tuple(inches * INCH_M for inches in row) for row in table.values),
    )
