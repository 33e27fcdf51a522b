"""A score sheet for a terminal: each game frame by frame, what was left, what it can become."""

from __future__ import annotations

from nextpair.application.score_sheet import BowlerSheet, ScoredFrame, ScoredGame, ScoreSheet
from nextpair.domain.format import Counting
from nextpair.reports.ink import Ink
from nextpair.reports.statistics_text import render_statistics
from nextpair.reports.wording import counted
from nextpair.scoring.frames import FRAMES
from nextpair.scoring.leaves import LeaveKind

FRAME_COLUMNS = 7
LABEL_COLUMNS = 12
COUNTINGS = {
    Counting.TRADITIONAL: "",
    Counting.CURRENT_FRAME: ", counted by the current frame",
}
MADE = {True: "made", False: "missed", None: "not shot at"}
NO_LEAVES = "which pins stood is not on the sheet"


def render_score_text(sheet: ScoreSheet, columns: int = 80, *, colour: bool = False) -> str:
    """A score sheet as text."""
    page = Ink(columns, colour, LABEL_COLUMNS)
    lines = [page.strong(f"Score sheet{COUNTINGS[Counting(sheet.counting)]}")]
    for bowler in sheet.bowlers:
        for game in bowler.games:
            lines += _game(game, page)
        lines += _together(bowler, page)
        if bowler.statistics is not None:
            lines.append(render_statistics(bowler.statistics, columns, colour=colour)[:-1])
    return "\n".join(lines) + "\n"


def _game(game: ScoredGame, page: Ink) -> list[str]:
    who = f"{game.name}, " if game.name else ""
    came_to = str(game.total) if game.total is not None else "under way"
    lines = page.section(f"{who}game {game.game}: {came_to}")
    lines += [
        _row("frame", [str(number) for number in range(1, FRAMES + 1)], page, faint=True),
        _row("balls", [" ".join(frame.marks) for frame in game.frames], page),
        _row("score", [_known(frame.total) for frame in game.frames], page),
    ]
    lines += page.labelled("left", _left_words(game))
    if game.expected_finish is not None:
        lines += page.labelled("so far", _under_way_words(game))
    return lines


def _row(label: str, cells: list[str], page: Ink, *, faint: bool = False) -> str:
    told = "".join(cell.rjust(FRAME_COLUMNS) for cell in cells)
    start = f"  {page.faint(label.ljust(LABEL_COLUMNS - 2 - FRAME_COLUMNS + 1))}"
    return (start + (page.faint(told) if faint else told)).rstrip()


def _known(total: int | None) -> str:
    return "" if total is None else str(total)


def _left_words(game: ScoredGame) -> str:
    told = [
        f"frame {number}: {words}"
        for number, frame in enumerate(game.frames, start=1)
        for words in _frame_leaves(frame)
    ]
    return "; ".join(told) or NO_LEAVES


def _frame_leaves(frame: ScoredFrame) -> list[str]:
    words = []
    for leave in frame.left:
        pins = leave.pins + " pin" * (leave.kind == LeaveKind.SINGLE_PIN)
        told = [leave.name] if leave.name else []
        if leave.kind in (LeaveKind.SPLIT, LeaveKind.WASHOUT) and "split" not in "".join(told):
            told.append(leave.kind)
        named = f" ({', '.join(told)})" if told else ""
        words.append(f"{pins}{named}, {MADE[leave.made]}")
    return words


def _under_way_words(game: ScoredGame) -> str:
    going = "" if game.pace is None else f", at this pace {game.pace}"
    return (
        f"{game.so_far}{going}; expected finish {game.expected_finish:.0f}, "
        f"at most {game.max_possible}, at least {game.min_possible}"
    )


def _together(bowler: BowlerSheet, page: Ink) -> list[str]:
    lines = page.section(f"{bowler.name or 'All games'} together")
    if bowler.average is not None:
        games = counted(bowler.finished, "finished game")
        lines += page.labelled("series", f"{bowler.series} in {games}, average {bowler.average}")
    found = bowler.counts
    lines += page.labelled(
        "counted",
        f"{counted(found.strikes, 'strike')} of {counted(found.first_balls, 'first ball')}, "
        f"{counted(found.spares, 'spare')} of {found.spare_tries} tried, "
        f"{counted(found.splits, 'split')} ({found.splits_made} made), "
        f"{counted(found.fouls, 'foul')}",
    )
    return lines
