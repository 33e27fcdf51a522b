"""One shot for a terminal: what it does down the lane, how it meets the pins, what it leaves."""

from __future__ import annotations

from nextpair.domain.shot import PathCard
from nextpair.reports.ink import Ink
from nextpair.reports.wording import (
    ball_words,
    board_words,
    counting_words,
    entry_words,
    percent,
    said_board,
)

EVERY_FT = 5


def render_path_text(path: PathCard, columns: int = 80, *, colour: bool = False) -> str:
    """The shot as text, boards as the bowler counts them."""
    page = Ink(columns, colour, label_columns=14)
    lines = [
        page.strong(f"{ball_words(path.ball, path.surface_grit)} on lane {path.lane}"),
        f"{path.hand}-handed; {counting_words(path.hand)}",
        "",
    ]
    for label, text in _phases(path):
        lines += page.labelled(label, text)
    lines += page.labelled(
        "Pins", "not reached" if path.entry is None else entry_words(path.entry)
    )
    if path.entry is not None:
        lines += page.labelled("Strike", percent(path.strike_probability))
    if path.leaves:
        leaves = ", ".join(f"{pins} ({percent(chance)})" for pins, chance in path.leaves)
        lines += page.labelled("Leaves", leaves)
    return "\n".join([*lines, *_stations(path, page)]) + "\n"


def _phases(path: PathCard) -> list[tuple[str, str]]:
    hand = path.hand
    released = (
        f"board {board_words(path.laydown_board, hand)}, {path.launch_angle_deg:g} degrees toward "
        f"the gutter on your side, {path.speed_mph:.1f} mph"
    )
    target = (
        "no board"
        if path.target_board is None
        else f"board {board_words(path.target_board, hand)}"
    )
    phases = [
        ("Laydown", released),
        ("Target", f"{target} at the arrows"),
        ("Skid", _reached(path.skid_end_ft, "to {:.0f} ft", "all the way")),
        ("Hook", _reached(path.hook_end_ft, "to {:.0f} ft, then rolls", "not over")),
    ]
    if path.breakpoint_board is not None:
        bend = f"board {board_words(path.breakpoint_board, hand)} at {path.breakpoint_ft:.0f} ft"
        phases.append(("Breakpoint", bend))
    if path.exit_board is not None:
        phases.append(("Exit", f"leaves the oil at board {board_words(path.exit_board, hand)}"))
    turns = f"{path.revolutions:.1f} revolutions, flare {path.flare_in:.1f} in"
    end = path.status if path.gutter_ft is None else f"{path.status} at {path.gutter_ft:.0f} ft"
    return [*phases, ("Turns", turns), ("End", end)]


def _reached(feet: float | None, words: str, never: str) -> str:
    return never if feet is None else words.format(feet)


def _stations(path: PathCard, page: Ink) -> list[str]:
    if not path.path_boards:
        return []
    feet = range(0, len(path.path_boards), EVERY_FT)
    boards = (said_board(path.path_boards[foot], path.hand) for foot in feet)
    return [
        *page.section("PATH, the ball's centre"),
        "  ft   " + "".join(f"{foot:>6}" for foot in feet),
        "  board" + "".join(f"{board:>6.1f}" for board in boards),
    ]
