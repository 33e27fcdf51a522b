"""The sheet as a PDF for the bag: tables first, then each game's pair with its picture.

Typst lays it out from words that are ready; nothing of the sheet is read as its markup. Built-in
fonts only and the event's own date, so the same sheet gives the same bytes.
"""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any

import typst

from nextpair.domain.sheet import GameCard, LineCard, Sheet
from nextpair.reports.figures import film_key, pair_figure
from nextpair.reports.lane_drawing import STRETCH
from nextpair.reports.lesson_words import HEADING, lessons_told
from nextpair.reports.wording import (
    bag_worth_words,
    ball_words,
    before_words,
    board_words,
    breakpoint_words,
    clock_words,
    counted,
    counting_words,
    date_words,
    fallback_line_words,
    home_words,
    lanes_apart,
    later_line_words,
    line_words,
    move_words,
    others_words,
    patterns_told,
    percent,
    practice_option_words,
    release_words,
    room_words,
    rule_words,
    sentence,
    surface_words,
)

PICTURE_FONT = "Libertinus Serif"
"""Built into the typesetter, as on the rest of the page."""


def render_sheet_pdf(sheet: Sheet) -> bytes:
    """The sheet as A4 pages."""
    source = (files("nextpair.reports") / "sheet.typ").read_bytes()
    compiled = typst.compile(
        source,
        format="pdf",
        ignore_system_fonts=True,
        sys_inputs={"sheet": json.dumps(_words(sheet))},
    )
    return bytes(compiled)


def _words(sheet: Sheet) -> dict[str, Any]:
    """Everything the pages say, as strings."""
    return {
        "event": sheet.event,
        "date": sheet.date,
        "where": f"{date_words(sheet.date)}, {sheet.house}",
        "who": f"{sheet.bowler}, {sheet.hand}-handed",
        "counting": counting_words(sheet.hand),
        "pattern": "; ".join(f"{name}: {numbers}" for name, numbers in patterns_told(sheet)),
        "rule": rule_words(sheet),
        "glance": [row for game in sheet.games for row in _glance_rows(game, sheet.hand)],
        "condition": sheet.condition,
        "bag": [
            [
                item.ball,
                surface_words(item.surface_grit),
                f"{item.cost_if_left_pins_per_game:.1f}",
                f"{item.bad_case_cost_if_left_pins_per_game:.1f}",
                sentence(item.purpose),
            ]
            for item in sheet.bag
        ],
        "bag_worth": "" if sheet.bag_worth is None else bag_worth_words(sheet.bag_worth),
        "home": " ".join(home_words(sheet.left_at_home)),
        "practice": [
            [
                clock_words(shot.minute),
                f"lane {shot.lane}",
                f"{counted(shot.shots, 'shot')}, {ball_words(shot.ball, shot.surface_grit)}: "
                f"{line_words(shot.line, sheet.hand)}. {shot.why}",
            ]
            for shot in sheet.practice
        ],
        "uses": " ".join(
            sentence(practice_option_words(option)) for option in sheet.practice_options
        ),
        "lessons_heading": HEADING,
        "lessons": list(lessons_told(sheet)),
        "games": [_game(game, sheet) for game in sheet.games],
        "key": for_paper(film_key("key")),
        "stretch": f"{STRETCH:.0f}",
        "guessed": list(sheet.guessed),
        "cautions": list(sheet.cautions),
        "footer": f"Model {sheet.model_version}, seed {sheet.seed}",
    }


def _glance_rows(game: GameCard, hand: str) -> list[list[str]]:
    """The game's row; below it the line of the other lane, where that is another line."""
    low, high = game.score_interval_80
    first, *others = lanes_apart(game, hand)
    return [
        [
            str(game.game),
            game.pair,
            ball_words(game.ball, game.surface_grit),
            *_line_cells(first.line, hand),
            move_words(game.move_from_previous_game, hand),
            percent(game.strike_probability),
            f"{game.expected_score:.0f} ({low}-{high})",
        ],
        *(
            ["", f"lane {lane.lane}", "", *_line_cells(lane.line, hand), "", "", ""]
            for lane in others
        ),
    ]


def _line_cells(line: LineCard, hand: str) -> list[str]:
    return [
        board_words(line.slide_board, hand),
        board_words(line.target_board, hand),
        breakpoint_words(line, hand),
    ]


def _plays(game: GameCard, hand: str) -> list[list[str]]:
    """Where to stand and aim, lane by lane where that differs: lane, feet, target, breakpoint."""
    apart = lanes_apart(game, hand)
    return [
        [f"lane {lane.lane}" if len(apart) > 1 else "", *_line_cells(lane.line, hand)]
        for lane in apart
    ]


def _game(game: GameCard, sheet: Sheet) -> dict[str, Any]:
    hand, fallback, move = sheet.hand, game.fallback, game.move_from_previous_game
    later = game.later_line
    picture = pair_figure(game, sheet)
    return {
        "game": str(game.game),
        "heading": f"Game {game.game}, lanes {game.pair}",
        "ball": ", ".join(
            filter(None, (ball_words(game.ball, game.surface_grit), release_words(game.line)))
        ),
        "plays": _plays(game, hand),
        "move": move_words(move, hand),
        "before": before_words(game),
        "room": room_words(game.room),
        "others": others_words(game) or "",
        "why": " ".join((*game.why[:1], *((move.why,) if move else ()))),
        "later": "" if later is None else later_line_words(later, game, hand),
        "when": "" if fallback is None else sentence(fallback.when),
        "fallback": "" if fallback is None else fallback_line_words(fallback, game, hand),
        "picture": for_paper(picture),
    }


def for_paper(svg: str, ink: str = "#000000") -> str:
    """A picture with a face that the typesetter has, in one ink where a page would choose."""
    return svg.replace("system-ui, sans-serif", PICTURE_FONT).replace("currentColor", ink)
