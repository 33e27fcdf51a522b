"""The sheet as one page in one file: for a phone at the lanes, for paper, with nothing to run."""

from __future__ import annotations

from collections.abc import Callable
from importlib.resources import files

from nextpair.domain.ball import Grit
from nextpair.domain.sheet import BagItem, GameCard, LaneCard, LineCard, PracticeShot, Sheet
from nextpair.reports.figures import film_key, pair_figure
from nextpair.reports.lane_drawing import STRETCH
from nextpair.reports.lesson_words import HEADING, lessons_told
from nextpair.reports.markup import Markup, element, joined, listed, table
from nextpair.reports.profiles import profile_figure
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
    surface_words,
)

LEADS_NOWHERE = "base-uri 'none'; form-action 'none'"
SAFETY = f"default-src 'none'; style-src 'unsafe-inline'; {LEADS_NOWHERE}"
"""What a browser may load for this page: its own style, nothing else, and no script; and no form
of it goes anywhere."""


def render_sheet_html(sheet: Sheet) -> str:
    """The whole sheet as one self-contained HTML document."""
    return sheet_page(sheet)


def sheet_page(
    sheet: Sheet,
    *,
    safety: str = SAFETY,
    first: tuple[Markup, ...] = (),
    more: tuple[Markup, ...] = (),
    last: tuple[Markup, ...] = (),
    links: tuple[tuple[str, str], ...] = (),
) -> str:
    """A page that holds a sheet, with more before it, after its games, and after everything;
    `links` are names and places of what is more."""
    body = element(
        "body",
        _header(sheet),
        _games_nav(sheet, links),
        element(
            "main",
            *first,
            _glance(sheet),
            _bag(sheet),
            _practice(sheet),
            _notes("lessons", HEADING, lessons_told(sheet)),
            *(_game(game, sheet) for game in sheet.games),
            *more,
            _notes("guessed", "Guessed, because nobody said", sheet.guessed),
            _notes("care", "Take care", sheet.cautions),
        ),
        element("footer", element("p", f"Model {sheet.model_version}, seed {sheet.seed}.")),
        *last,
    )
    head = page_head(f"{sheet.event}: {sheet.bowler}", safety)
    return f"<!doctype html>\n{element('html', head, body, lang='en')}\n"


def page_head(title: str, safety: str = SAFETY, style: str = "sheet.css") -> Markup:
    """The head of a page of ours, its style in it: a file beside this module."""
    return element(
        "head",
        Markup('<meta charset="utf-8">'),
        Markup(f'<meta http-equiv="Content-Security-Policy" content="{safety}">'),
        Markup('<meta name="viewport" content="width=device-width, initial-scale=1">'),
        Markup('<meta name="color-scheme" content="light dark">'),
        Markup('<meta name="format-detection" content="telephone=no">'),
        element("title", title),
        element("style", Markup((files("nextpair.reports") / style).read_text("utf-8"))),
    )


def _header(sheet: Sheet) -> Markup:
    hand = element("strong", counting_words(sheet.hand))
    return element(
        "header",
        element("p", f"{date_words(sheet.date)} · {sheet.house}", class_="soft"),
        element("h1", sheet.event),
        element("p", f"{sheet.bowler}, {sheet.hand}-handed; ", hand, "."),
        *(
            element("p", element("strong", name), ": ", numbers, ".")
            for name, numbers in patterns_told(sheet)
        ),
        element("p", rule_words(sheet)),
    )


def _games_nav(sheet: Sheet, links: tuple[tuple[str, str], ...]) -> Markup:
    games = (
        element(
            "li",
            element(
                "a", str(game.game), href=f"#game-{game.game}", aria_label=f"Game {game.game}"
            ),
        )
        for game in sheet.games
    )
    others = (element("li", element("a", name, href=place)) for name, place in links)
    return element("nav", element("ol", *games, *others), aria_label="Games")


def section(name: str, heading: str, *children: str) -> Markup:
    """A part of a page under its heading."""
    return element(
        "section",
        element("h2", heading, id=f"{name}-heading"),
        *children,
        id=name,
        aria_labelledby=f"{name}-heading",
    )


def _glance(sheet: Sheet) -> Markup:
    rows = [
        (
            str(game.game),
            game.pair,
            _ball_cell(game.ball, game.surface_grit),
            _by_lane(game, sheet.hand, lambda line: line.slide_board),
            _by_lane(game, sheet.hand, lambda line: line.target_board),
            f"{game.expected_score:.0f}",
        )
        for game in sheet.games
    ]
    head = ("Game", "Lanes", "Ball", "Feet", "Target", "Score")
    caption = (
        "Feet at the slide, target at the arrows; where the lanes differ, the left lane above"
    )
    said = (element("p", sheet.condition),) if sheet.condition else ()
    return section("glance", "At a glance", table(head, rows, caption, "glance"), *said)


def _by_lane(game: GameCard, hand: str, board: Callable[[LineCard], float]) -> Markup:
    """A board of the line, or of each lane's where they differ, the left lane's above."""
    left, *others = (board_words(board(lane.line), hand) for lane in lanes_apart(game, hand))
    return joined(left, *(element("span", other, class_="lane") for other in others))


def _ball_cell(ball: str, grit: Grit) -> Markup:
    return joined(f"{ball} ", element("span", surface_words(grit), class_="soft"))


def _bag(sheet: Sheet) -> Markup:
    rows = [
        (
            _ball_cell(item.ball, item.surface_grit),
            _cost_cell(item),
            sentence(item.purpose),
        )
        for item in sheet.bag
    ]
    at_home = home_words(sheet.left_at_home)
    stays = (element("h3", "Stays at home"), listed(at_home)) if at_home else ()
    worth = sheet.bag_worth
    said = () if worth is None else (element("p", bag_worth_words(worth)),)
    head = ("Ball", "Worth", "For")
    caption = (
        "Worth: pins a game lost if this ball stays at home; below it, in the worst tenth of "
        "games and lanes"
    )
    return section("bag", "Bag", table(head, rows, caption, "bag"), *said, *stays)


def _cost_cell(item: BagItem) -> Markup:
    """What leaving a ball costs, the bad case below."""
    bad_case = f"{item.bad_case_cost_if_left_pins_per_game:.1f}"
    return joined(
        f"{item.cost_if_left_pins_per_game:.1f}", element("span", bad_case, class_="lane")
    )


def _practice(sheet: Sheet) -> Markup:
    if not sheet.practice:
        return Markup()
    shots = (_practice_shot(shot, sheet.hand) for shot in sheet.practice)
    uses = tuple(sentence(practice_option_words(option)) for option in sheet.practice_options)
    weighed = (element("h3", "Uses of it that were weighed"), listed(uses)) if uses else ()
    return section("practice", "Practice", element("ol", *shots, class_="practice"), *weighed)


def _practice_shot(shot: PracticeShot, hand: str) -> Markup:
    return element(
        "li",
        element("strong", f"{clock_words(shot.minute)}, lane {shot.lane}: "),
        f"{counted(shot.shots, 'shot')}, {ball_words(shot.ball, shot.surface_grit)}, "
        f"{line_words(shot.line, hand)}. ",
        element("span", shot.why, class_="soft"),
    )


def _game(game: GameCard, sheet: Sheet) -> Markup:
    hand, move = sheet.hand, game.move_from_previous_game
    change = (" ", element("span", "ball change", class_="change")) if _changes(game) else ()
    return section(
        f"game-{game.game}",
        f"Game {game.game} · lanes {game.pair}",
        element("p", ball_words(game.ball, game.surface_grit), *change, class_="ball"),
        *_plays(game, hand),
        element("p", "Move: ", element("strong", move_words(move, hand)), class_="move"),
        *((element("p", move.why, class_="soft"),) if move and move.why else ()),
        _pairs(
            "facts",
            ("Strike", percent(game.strike_probability)),
            ("Spare", percent(game.spare_probability)),
            ("Speed", speed_words(game.line)),
            ("Score", score_words(game)),
            *((("Against", others),) if (others := others_words(game)) else ()),
            ("Room", room_words(game.room)),
            ("Before you", before_words(game)),
        ),
        _later_line(game, hand),
        _fallback(game, hand),
        _picture(game, sheet),
        _reasons(game),
        _each_lane(game, hand),
    )


def _plays(game: GameCard, hand: str) -> list[Markup]:
    """Where to stand and aim: once for both lanes, or for each where their lines differ."""
    apart = lanes_apart(game, hand)
    return [
        _pairs(
            "play",
            (
                "Feet" if len(apart) == 1 else f"Lane {lane.lane}: feet",
                board_words(lane.line.slide_board, hand),
            ),
            ("Target", board_words(lane.line.target_board, hand)),
            ("Breakpoint", breakpoint_words(lane.line, hand)),
        )
        for lane in apart
    ]


def _changes(game: GameCard) -> bool:
    move = game.move_from_previous_game
    return move is not None and move.ball_change


def _pairs(name: str, *pairs: tuple[str, str]) -> Markup:
    said = (element("div", element("dt", label), element("dd", value)) for label, value in pairs)
    return element("dl", *said, class_=name)


def _picture(game: GameCard, sheet: Sheet) -> Markup:
    picture = pair_figure(game, sheet)
    key = film_key(f"game-{game.game}-key")
    caption = (
        f"Oil in units, drawn {STRETCH:.0f} times as wide as it is. Red line: the ball; dashes: "
        "8 of 10 of your shots; ring: breakpoint; 31: the rule of 31, where the oil ends."
    )
    return element("figure", Markup(picture), element("figcaption", Markup(key), caption))


def _reasons(game: GameCard) -> Markup:
    if not game.why:
        return Markup()
    first, *others = game.why
    more = (
        (element("details", element("summary", "More reasons"), listed(tuple(others))),)
        if others
        else ()
    )
    return joined(element("p", first, class_="why"), *more)


def _each_lane(game: GameCard, hand: str) -> Markup:
    rows = [_lane_row(lane, hand) for lane in game.lanes]
    head = ("Lane", "Feet", "Target", "Breakpoint", "Strike")
    lanes = [str(lane.lane) for lane in game.lanes]
    drawn = f"Film across the boards: lane {lanes[0]} filled"
    caption = drawn + "".join(f", lane {lane} dashed" for lane in lanes[1:]) + "."
    return element(
        "details",
        element("summary", "Each lane"),
        table(head, rows, "The same ball, lane by lane", "lanes"),
        listed(
            tuple(
                f"Lane {lane.lane} at the pins: {entry_words(lane.entry)}" for lane in game.lanes
            )
        ),
        element("figure", Markup(profile_figure(game, hand)), element("figcaption", caption)),
    )


def _lane_row(lane: LaneCard, hand: str) -> tuple[str, ...]:
    return (
        str(lane.lane),
        board_words(lane.line.slide_board, hand),
        board_words(lane.line.target_board, hand),
        breakpoint_words(lane.line, hand),
        percent(lane.strike_probability),
    )


def _later_line(game: GameCard, hand: str) -> Markup:
    if game.later_line is None:
        return Markup()
    return element("p", later_line_words(game.later_line, game, hand), class_="move")


def _fallback(game: GameCard, hand: str) -> Markup:
    if game.fallback is None:
        return Markup()
    return element(
        "p",
        f"{sentence(game.fallback.when)} ",
        element("strong", fallback_line_words(game.fallback, game, hand)),
        class_="fallback",
    )


def _notes(name: str, heading: str, notes: tuple[str, ...]) -> Markup:
    return section(name, heading, listed(notes)) if notes else Markup()
