"""The sheet for a terminal: what a caddie would have written down, in 80 to 100 columns.

Plain text when it goes to a file or a pipe; weight and colour only where the caller asks.
"""

from __future__ import annotations

from collections.abc import Iterable

from nextpair.domain.sheet import BagItem, GameCard, LineCard, PracticeShot, Sheet
from nextpair.reports.ink import NARROWEST, Ink, fitted
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
    entry_words,
    fallback_line_words,
    home_words,
    lanes_apart,
    lanes_apart_words,
    later_line_words,
    line_words,
    move_words,
    others_words,
    patterns_told,
    percent,
    practice_option_words,
    room_words,
    rule_words,
    score_words,
    sentence,
    speed_words,
)

BALL_COLUMNS = 24


def render_sheet_text(sheet: Sheet, columns: int = 80, *, colour: bool = False) -> str:
    """The whole sheet as text, at most `columns` wide."""
    page = Ink(columns, colour)
    lines = [
        *_header(sheet, page),
        *_pattern(sheet, page),
        *_at_a_glance(sheet, page),
        *_bag(sheet, page),
        *_practice(sheet, page),
        *_notes(HEADING.upper(), lessons_told(sheet), page),
    ]
    for game in sheet.games:
        lines += _game(game, sheet.hand, page)
    lines += _notes("GUESSED", sheet.guessed, page)
    lines += _notes("TAKE CARE", sheet.cautions, page)
    lines += ["", page.faint(f"model {sheet.model_version}, seed {sheet.seed}")]
    return "\n".join(lines) + "\n"


def render_bag_text(sheet: Sheet, columns: int = 80, *, colour: bool = False) -> str:
    """Only the bag: what to bring, why, and what leaving each out costs."""
    page = Ink(columns, colour)
    lines = [*_header(sheet, page), *_bag(sheet, page)]
    lines += _notes("TAKE CARE", sheet.cautions, page)
    return "\n".join(lines) + "\n"


def _header(sheet: Sheet, page: Ink) -> list[str]:
    return [
        page.strong(sheet.event),
        f"{date_words(sheet.date)}, {sheet.house}",
        f"{sheet.bowler}, {sheet.hand}-handed; {counting_words(sheet.hand)}",
    ]


def _pattern(sheet: Sheet, page: Ink) -> list[str]:
    return [
        *page.section("PATTERN"),
        *(
            line
            for name, numbers in patterns_told(sheet)
            for line in page.indented("  ", 2, f"{name}: {numbers}")
        ),
        *page.indented("  ", 2, rule_words(sheet)),
    ]


def _at_a_glance(sheet: Sheet, page: Ink) -> list[str]:
    wide = BALL_COLUMNS - 2 + page.columns - NARROWEST
    head = f"  game lanes   {'ball':<{wide}} feet target    breakpoint strike score"
    rows = [row for game in sheet.games for row in _game_rows(game, sheet.hand, wide)]
    foot = page.faint("  feet: where the sliding foot ends; target: at the arrows")
    said = page.indented("  ", 2, sheet.condition) if sheet.condition else []
    return [*page.section("AT A GLANCE"), page.faint(head), *rows, foot, *said]


def _game_rows(game: GameCard, hand: str, ball_columns: int) -> list[str]:
    """The game's row; below it the line of the other lane, where that is another line."""
    first, *others = lanes_apart(game, hand)
    ball = fitted(ball_words(game.ball, game.surface_grit), ball_columns)
    return [
        f"  {game.game:>4} {game.pair:<7} {ball} {_line_cells(first.line, hand)} "
        f"{percent(game.strike_probability):>6} {game.expected_score:>5.0f}",
        *(
            f"{'':7}{f'lane {lane.lane}':<8}{'':{ball_columns}} {_line_cells(lane.line, hand)}"
            for lane in others
        ),
    ]


def _line_cells(line: LineCard, hand: str) -> str:
    return (
        f"{board_words(line.slide_board, hand):>4} {board_words(line.target_board, hand):>6} "
        f"{breakpoint_words(line, hand):>13}"
    )


def _bag(sheet: Sheet, page: Ink) -> list[str]:
    lines = [*page.section("BAG, with the pins a game that leaving each at home costs")]
    lines.append(page.faint(f"  {'':<{BALL_COLUMNS}} mean  bad case"))
    lines += [line for item in sheet.bag for line in _bag_item(item, page)]
    if sheet.bag_worth is not None:
        lines += page.indented("  ", 2, bag_worth_words(sheet.bag_worth))
    if sheet.left_at_home:
        lines.append(page.faint("  stays at home"))
        lines += [
            line
            for words in home_words(sheet.left_at_home)
            for line in page.indented("  ", 2, words)
        ]
    return lines


def _bag_item(item: BagItem, page: Ink) -> list[str]:
    name = page.strong(fitted(ball_words(item.ball, item.surface_grit), BALL_COLUMNS))
    costs = (item.cost_if_left_pins_per_game, item.bad_case_cost_if_left_pins_per_game)
    start = f"  {name} {costs[0]:>4.1f}  {costs[1]:>8.1f}  "
    return page.indented(start, BALL_COLUMNS + 19, sentence(item.purpose))


def _practice(sheet: Sheet, page: Ink) -> list[str]:
    if not sheet.practice:
        return []
    lines = page.section("PRACTICE")
    for option in sheet.practice_options:
        lines += page.indented("  ", 4, sentence(practice_option_words(option)))
    for shot in sheet.practice:
        lines += _practice_shot(shot, sheet.hand, page)
    return lines


def _practice_shot(shot: PracticeShot, hand: str, page: Ink) -> list[str]:
    what = (
        f"lane {shot.lane}, {counted(shot.shots, 'shot')} with "
        f"{ball_words(shot.ball, shot.surface_grit)}: {line_words(shot.line, hand)}"
    )
    return [
        *page.indented(f"  {clock_words(shot.minute):>5}  ", 9, what),
        *page.indented(" " * 9, 9, shot.why, faint=True),
    ]


def _game(game: GameCard, hand: str, page: Ink) -> list[str]:
    head = f"GAME {game.game}   lanes {game.pair}   {ball_words(game.ball, game.surface_grit)}"
    move = game.move_from_previous_game
    lines = page.section(head + ("   ball change" if move and move.ball_change else ""))
    lines.append(f"  {page.accent(_play(game.line, hand))}")
    odds = f"strike {percent(game.strike_probability)}, spare {percent(game.spare_probability)}"
    for label, text in (
        ("Move", move_words(move, hand)),
        ("", move.why if move else None),
        ("Lanes", lanes_apart_words(game, hand)),
        ("Before", before_words(game)),
        ("Odds", f"{odds}; score {score_words(game)}"),
        ("", others_words(game)),
        ("Pins", entry_words(game.entry)),
        ("Room", room_words(game.room)),
    ):
        if text:
            lines += page.labelled(label, text)
    for place, reason in enumerate(game.why):
        lines += page.labelled("Why" if place == 0 else "", reason)
    if game.later_line is not None:
        lines += page.labelled("Later", later_line_words(game.later_line, game, hand))
    if game.fallback is not None:
        lines += page.labelled("Fallback", sentence(game.fallback.when))
        lines += page.labelled("", fallback_line_words(game.fallback, game, hand))
    return lines


def _play(line: LineCard, hand: str) -> str:
    """The line itself, the part to find at a glance."""
    return (
        f"feet {board_words(line.slide_board, hand)} -> "
        f"target {board_words(line.target_board, hand)} at the arrows -> "
        f"breakpoint {breakpoint_words(line, hand)}, {speed_words(line)}"
    )


def _notes(title: str, notes: Iterable[str], page: Ink) -> list[str]:
    lines = [line for note in notes for line in page.indented("  - ", 4, note)]
    return [*page.section(title), *lines] if lines else []
