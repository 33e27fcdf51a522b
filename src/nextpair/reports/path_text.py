"""Shots for a terminal: what they do down the lane, how they meet the pins, what moves them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from string import ascii_uppercase

from nextpair.domain.shot import Effect, PathCard, Track
from nextpair.reports.effect_words import effect_words
from nextpair.reports.ink import Ink, fitted
from nextpair.reports.wording import (
    ball_words,
    board_words,
    counting_words,
    entry_words,
    percent,
    said_board,
    sides,
)

EVERY_FT = 5
CHANGE_COLUMNS = 37
BEYOND_THE_RACKS = "no racks were rolled for such a hit or ball: odds of the nearest that were"


def render_path_text(path: PathCard, columns: int = 80, *, colour: bool = False) -> str:
    """The shot as text, boards as the bowler counts them."""
    page = Ink(columns, colour, label_columns=14)
    lines = [
        page.strong(
            f"{ball_words(path.ball, path.surface_grit, path.surface_by)} on lane {path.lane}"
        ),
        f"{path.hand}-handed; {counting_words(path.hand)}",
        "",
    ]
    for label, text in _phases(path):
        lines += page.labelled(label, text)
    lines += page.labelled(
        "Pins", "not reached" if path.entry is None else entry_words(path.entry)
    )
    if path.arrival_s is not None and path.speed_lost_mph is not None:
        lost = f"{path.speed_lost_mph:.1f} mph lost on the way, {path.arrival_s:.2f} s to the pins"
        lines += page.labelled("Speed", lost)
    if path.entry is not None:
        lines += page.labelled("Strike", percent(path.strike_probability))
    if path.leaves:
        leaves = ", ".join(f"{pins} ({percent(chance)})" for pins, chance in path.leaves)
        lines += page.labelled("Leaves", leaves)
    if path.carry_in_range is False:
        lines += page.labelled("", BEYOND_THE_RACKS)
    lines += [*_stations(path, page), *_path(path, page), *_what_moves_it(path, page)]
    lines += _cautions(path, page)
    return "\n".join(lines) + "\n"


def render_paths_text(
    paths: Sequence[PathCard], columns: int = 80, *, colour: bool = False
) -> str:
    """Shots of several balls on one line, one after another, with the picture's letters."""
    if len(paths) == 1:
        return render_path_text(paths[0], columns, colour=colour)
    # All have the same surface put on, so what to mind is said once, after the last.
    shown = [*(replace(path, cautions=()) for path in paths[:-1]), paths[-1]]
    return "\n".join(
        f"{letter}  {render_path_text(path, columns, colour=colour)}"
        for letter, path in zip(ascii_uppercase, shown, strict=False)
    )


def _phases(path: PathCard) -> list[tuple[str, str]]:
    hand = path.hand
    released = (
        f"board {board_words(path.laydown_board, hand)}, {path.launch_angle_deg:g} degrees toward "
        f"the gutter on your side, {path.speed_mph:.1f} mph, axis rotation "
        f"{path.axis_rotation_deg:.0f} degrees"
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
        ("Hook", _reached(path.hook_end_ft, "to {:.0f} ft, then rolls", "all the way")),
    ]
    if path.breakpoint_board is not None:
        bend = f"board {board_words(path.breakpoint_board, hand)} at {path.breakpoint_ft:.0f} ft"
        phases.append(("Breakpoint", bend))
    if path.exit_board is not None:
        phases.append(("Exit", f"leaves the oil at board {board_words(path.exit_board, hand)}"))
    turns = f"{path.revolutions:.1f} revolutions, flare {path.flare_in:.1f} in"
    end = path.status if path.gutter_ft is None else f"{path.status} at {path.gutter_ft:.0f} ft"
    return [*phases, ("Turns", turns), ("Track", _track_words(path.track)), ("End", end)]


def _track_words(track: Track) -> str:
    first, last = (
        f"{abs(inches):.1f} in {'beyond' if inches >= 0 else 'short of'} the grip centre"
        for inches in (track.first_from_grip_in, track.last_from_grip_in)
    )
    return (
        f"first ring {track.first_from_pap_in:.1f} in from the PAP, {first}; "
        f"last ring in oil {last}"
    )


def _reached(feet: float | None, words: str, never: str) -> str:
    return never if feet is None else words.format(feet)


def _stations(path: PathCard, page: Ink) -> list[str]:
    if not path.stations:
        return []
    rows = (
        f"  {station.distance_ft:>5g}{said_board(station.board, path.hand):>8.1f}"
        f"{station.angle_deg:>9.1f}{station.speed_mph:>8.1f}  {station.phase}"
        for station in path.stations
    )
    heading = "     ft   board  degrees     mph  phase"
    return [*page.section("AT, degrees toward the pocket"), heading, *rows]


def _path(path: PathCard, page: Ink) -> list[str]:
    if not path.path_boards:
        return []
    feet = range(0, len(path.path_boards), EVERY_FT)
    boards = (said_board(path.path_boards[foot], path.hand) for foot in feet)
    return [
        *page.section("PATH, the ball's centre"),
        "  ft   " + "".join(f"{foot:>6}" for foot in feet),
        "  board" + "".join(f"{board:>6.1f}" for board in boards),
    ]


def _what_moves_it(path: PathCard, page: Ink) -> list[str]:
    if not path.what_moves_it:
        return []
    rows = (
        f"  {fitted(effect_words(effect, path.hand), CHANGE_COLUMNS)}"
        f"{_moved(effect, path.hand):<18}{_turned(effect)}"
        for effect in path.what_moves_it
    )
    inside, own = sides(path.hand)
    return [
        *page.section("WHAT MOVES IT, at the head pin"),
        *rows,
        page.faint(f"  {inside} is high for you, {own} is light"),
    ]


def _moved(effect: Effect, hand: str) -> str:
    if abs(effect.boards) < 0.05:
        return "no board"
    inside, own = sides(hand)
    return f"{abs(effect.boards):.1f} boards {own if effect.boards > 0 else inside}"


def _turned(effect: Effect) -> str:
    if abs(effect.degrees) < 0.05:
        return "same angle"
    return f"{abs(effect.degrees):.1f} degrees {'steeper' if effect.degrees > 0 else 'flatter'}"


def _cautions(path: PathCard, page: Ink) -> list[str]:
    lines = [line for word in path.cautions for line in page.indented("  - ", 4, word)]
    return [*page.section("TAKE CARE"), *lines] if lines else []
