"""Sheets, paths and films as the program makes them, without computing one: for tests of reports.

Invented event, people, balls and houses. A left-hander's sheet is the right-hander's mirrored.
"""

from __future__ import annotations

import math
from dataclasses import replace

from nextpair.application.cautions import cautions_for
from nextpair.application.film import FilmCard, film_card
from nextpair.domain.lane import mirrored_board
from nextpair.domain.pattern import Direction, Pass, Pattern
from nextpair.domain.sheet import (
    BagItem,
    BagWorth,
    EntryCard,
    FallbackCard,
    GameCard,
    LaneCard,
    LineCard,
    MoveCard,
    PatternCard,
    PracticeOption,
    PracticeShot,
    RoomCard,
    Sheet,
)
from nextpair.domain.shot import Effect, PathCard, Station, Track
from nextpair.domain.units import FOOT_M

Rows = tuple[tuple[float, ...], ...]

PAIRS = ("13-14", "17-18", "21-22", "1-2", "5-6", "9-10")
BALLS = ("Kestrel", "Kestrel", "Kestrel", "Saltmarsh", "Saltmarsh", "Low Lantern")
GRITS: tuple[int | str, ...] = (2000, 2000, 2000, 3000, 3000, "polished")
OWN_SIDE = (0, 31, 66, 92, 131, 158)
OTHER_SIDE = (0, 12, 20, 37, 44, 61)
WHY = (
    "Kestrel at 2000 keeps 2.1 boards of room here; the next best ball, Saltmarsh, keeps 1.4.",
    "Board 10 has lost a third of its oil at 25 ft to the five right-handers who start here, "
    "so the line moves inside where the film is still whole.",
    "The rule of 31 says board 12; the line leaves the oil at 12.6 because of your rev rate.",
    "A miss of a board to the right still finds the pocket. A miss to the left goes high, "
    "and 4-pin or 4-9 is what it leaves.",
)


def a_pattern() -> Pattern:
    """A 43 ft pattern in passes."""

    def laid(way: Direction, first: int, last: int, loads: int, start: float, end: float) -> Pass:
        return Pass(way, first, last, loads, 50.0, start * FOOT_M, end * FOOT_M)

    forward, reverse = Direction.FORWARD, Direction.REVERSE
    return Pattern(
        name="Long Tide 43",
        length_m=43 * FOOT_M,
        passes=(
            laid(forward, 2, 38, 3, 0.5, 12),
            laid(forward, 7, 33, 2, 12, 22),
            laid(forward, 10, 30, 2, 22, 30),
            laid(forward, 2, 38, 1, 30, 43),
            laid(reverse, 5, 35, 2, 20, 38),
            laid(reverse, 11, 29, 3, 8, 20),
            laid(reverse, 13, 27, 2, 2, 8),
        ),
    )


def a_film_card() -> FilmCard:
    """The film of the pattern, measured."""
    return film_card(a_pattern())


def a_sheet(hand: str = "right", games: int = 6) -> Sheet:
    """A whole sheet for up to six games."""
    film = a_film_card()
    cards = tuple(_game(number, film) for number in range(games))
    sheet = Sheet(
        event="Harbour Lights Scratch Open",
        date="2026-06-13",
        house="Copperfield Lanes",
        bowler="Ada Quill",
        hand="right",
        model_version="0123456789ab",
        seed=7,
        rule_of_31_exit_board=film.rule_of_31_exit_board_right_hander,
        second_opinion="The line of game 1 leaves the oil at 12.6, within a board of the rule.",
        pattern=PatternCard(
            film.pattern.name,
            film.pattern.length_ft,
            film.pattern.volume_ml,
            film.pattern.ratio,
            film.pattern.sport_class,
        ),
        bag=_bag(),
        bag_worth=BagWorth(206.1, 198.4, 2),
        left_at_home=(BagItem("Paper Crown", 1500, 0.02, "nothing the Kestrel does not do"),),
        practice=_practice(cards[0].line),
        condition="The field scores 196 a game here: your 206 is 10 over it.",
        practice_options=(
            PracticeOption("learn the lane", 1.31, 1.25, 0.06, True, "9 shots on two balls."),
            PracticeOption("wear in a line", 0.92, 0.8, 0.12, False, "9 shots on one ball."),
        ),
        games=cards,
        guessed=("squad.csv: rev_rate_rpm of Bo Farr", "squad.csv: cover of Cyd Marlow"),
        cautions=cautions_for(balls=4, surface_work=True),
    )
    return sheet if hand == "right" else _mirrored(sheet)


def a_path(hand: str = "right", reaches_pins: bool = True) -> PathCard:
    """One shot: into the pocket, or into the gutter."""
    laydown = 24.5
    path = _path(laydown, 2.4, 9.0, 42.0)
    card = PathCard(
        lane=13,
        ball="Kestrel",
        surface_grit=2000,
        hand="right",
        pattern_length_ft=43.0,
        rule_of_31_exit_board=12.0,
        laydown_board=laydown,
        launch_angle_deg=2.4,
        speed_mph=17.6,
        axis_rotation_deg=48.0,
        status="rolled to the pins",
        target_board=path[15],
        breakpoint_board=9.0,
        breakpoint_ft=42.0,
        exit_board=9.3,
        gutter_ft=None,
        skid_end_ft=31.5,
        hook_end_ft=51.0,
        revolutions=14.2,
        flare_in=3.1,
        track=Track(7.6, 7.5, 2.4, 5.1),
        arrival_s=2.46,
        speed_lost_mph=2.5,
        entry=EntryCard(2.4, 4.9, 15.1),
        strike_probability=0.52,
        leaves=(("10", 0.14), ("4", 0.05), ("9", 0.03), ("4-7", 0.01), ("2-8-10", 0.004)),
        what_moves_it=(
            Effect("speed_mph", -1.0, -4.1, 0.3),
            Effect("feet_boards", 1.0, 2.4, -0.3),
            Effect("surface_grit", 1000, -3.2, -0.02),
        ),
        stations=(
            Station(15.0, path[15], -2.1, 17.2, "skid"),
            Station(45.0, path[45], 1.1, 15.8, "hook"),
        ),
        carry_in_range=True,
        path_boards=path,
        film_units=a_film_card().film_units,
    )
    if not reaches_pins:
        card = replace(
            card,
            status="gutter on the bowler's side",
            breakpoint_board=None,
            breakpoint_ft=None,
            exit_board=None,
            gutter_ft=38.0,
            hook_end_ft=None,
            arrival_s=None,
            speed_lost_mph=None,
            entry=None,
            strike_probability=0.0,
            leaves=(),
            carry_in_range=None,
            what_moves_it=(),
            stations=card.stations[:1],
            path_boards=card.path_boards[:38],
        )
    if hand == "right":
        return card
    return replace(
        card,
        hand="left",
        rule_of_31_exit_board=mirrored_board(card.rule_of_31_exit_board),
        laydown_board=mirrored_board(card.laydown_board),
        target_board=_mirrored_or_none(card.target_board),
        breakpoint_board=_mirrored_or_none(card.breakpoint_board),
        exit_board=_mirrored_or_none(card.exit_board),
        stations=tuple(
            replace(station, board=mirrored_board(station.board)) for station in card.stations
        ),
        path_boards=tuple(mirrored_board(board) for board in card.path_boards),
        film_units=tuple(row[::-1] for row in card.film_units),
    )


def _mirrored_or_none(board: float | None) -> float | None:
    return None if board is None else mirrored_board(board)


def _bag() -> tuple[BagItem, ...]:
    return (
        BagItem(
            "Kestrel",
            2000,
            1.84,
            "strike ball while the film is whole",
            games=(1, 2, 3),
            bad_case_cost_if_left_pins_per_game=0.92,
        ),
        BagItem("Saltmarsh", 3000, 1.12, "when the heads hook early", games=(4, 5)),
        BagItem("Low Lantern", "polished", 0.43, "when the track is burnt", games=(6,)),
        BagItem("Paper Moon", "polished", 3.9, "straight at spares", games=(1, 2, 3, 4, 5, 6)),
    )


def _practice(line: LineCard) -> tuple[PracticeShot, ...]:
    inside = replace(line, laydown_board=27.0, slide_board=33.5, target_board=19.0)
    return (
        PracticeShot(0, 13, "Kestrel", 2000, 3, line, "The plan's first line: see if it holds."),
        PracticeShot(
            3,
            14,
            "Kestrel",
            2000,
            2,
            line,
            "The same on the other lane of the pair: do they differ?",
        ),
        PracticeShot(6, 13, "Saltmarsh", 3000, 2, inside, "How early the heads let go."),
        PracticeShot(9, 14, "Paper Moon", "polished", 2, line, "10 pin, then 7 pin."),
    )


def _game(number: int, film: FilmCard) -> GameCard:
    inside = 1.6 * number
    lanes = tuple(
        _lane(int(lane), inside + 0.3 * side, number, film)
        for side, lane in enumerate(PAIRS[number].split("-"))
    )
    expected = 212.4 - 2.3 * number
    fallback = replace(lanes[0].line, laydown_board=lanes[0].line.laydown_board + 2)
    return GameCard(
        game=number + 1,
        pair=PAIRS[number],
        shots_before_on_my_side=OWN_SIDE[number],
        shots_before_other_side=OTHER_SIDE[number],
        lanes=lanes,
        ball=BALLS[number],
        surface_grit=GRITS[number],
        line=lanes[0].line,
        entry=lanes[0].entry,
        room=RoomCard(2.1 - 0.2 * number, 0.7, 3.0, 0.8),
        strike_probability=0.52 - 0.02 * number,
        spare_probability=0.83,
        expected_score=expected,
        score_interval_80=(round(expected - 27), round(expected + 28)),
        move_from_previous_game=None
        if number == 0
        else MoveCard(3.0, 2.0, BALLS[number] != BALLS[number - 1]),
        fallback=FallbackCard(
            BALLS[(number + 3) % 6],
            GRITS[(number + 3) % 6],
            fallback,
            "When two good shots in a row leave the 10 pin flat, or the ball stops hooking early.",
            fallback,
        ),
        why=WHY,
        bad_case_score=expected - 8.0,
        field_score=196.0,
        usual_score=203.0,
    )


def _lane(lane: int, inside: float, game: int, film: FilmCard) -> LaneCard:
    laydown = 24.5 + inside
    breakpoint = 9.0 + 0.5 * inside
    path = _path(laydown, 2.4, breakpoint, 42.0)
    worn = _worn(film.film_units, path, game)
    band = tuple(
        (board - 0.5 - 0.016 * foot, board + 0.5 + 0.016 * foot) for foot, board in enumerate(path)
    )
    return LaneCard(
        lane=lane,
        film_units_at={str(ft): worn[ft] for ft in (10, 25, 40)},
        line=LineCard(
            laydown_board=laydown,
            slide_board=laydown + 6.5,
            target_board=path[15],
            launch_angle_deg=2.4,
            breakpoint_board=breakpoint,
            breakpoint_ft=42.0,
            exit_board=path[43],
            speed_mph=17.6,
        ),
        entry=EntryCard(2.4, 4.9, 15.1),
        strike_probability=0.52 - 0.02 * game + 0.01 * (lane % 2),
        path_boards=path,
        band_boards=band,
        film_units=worn,
    )


def _path(
    laydown: float, launch_deg: float, breakpoint: float, breakpoint_ft: float
) -> tuple[float, ...]:
    """Straight off the hand, then bending to the breakpoint, then into the pocket at 17.6."""
    slope = -math.tan(math.radians(launch_deg)) * 12 / 1.0641
    boards = []
    for foot in range(60):
        if foot <= breakpoint_ft:
            t = foot / breakpoint_ft
            start, end = slope * breakpoint_ft, 0.0
        else:
            t = (foot - breakpoint_ft) / (60 - breakpoint_ft)
            start, end = 0.0, math.tan(math.radians(4.9)) * 12 / 1.0641 * (60 - breakpoint_ft)
        first, last = (laydown, breakpoint) if foot <= breakpoint_ft else (breakpoint, 17.6)
        boards.append(
            (2 * t**3 - 3 * t**2 + 1) * first
            + (t**3 - 2 * t**2 + t) * start
            + (3 * t**2 - 2 * t**3) * last
            + (t**3 - t**2) * end
        )
    return tuple(boards)


def _worn(film: Rows, path: tuple[float, ...], game: int) -> Rows:
    """Oil taken off along the path and a little carried past its end."""
    rows = []
    for foot, row in enumerate(film):
        lost = 0.11 * game
        worn = [
            units * (1 - lost * math.exp(-(((board - path[foot]) / 3.0) ** 2)))
            + (0.25 * game if 43 <= foot < 47 and abs(board - path[foot]) < 3 else 0.0)
            for board, units in enumerate(row, start=1)
        ]
        rows.append(tuple(worn))
    return tuple(rows)


def _mirrored(sheet: Sheet) -> Sheet:
    def line(card: LineCard) -> LineCard:
        return replace(
            card,
            laydown_board=mirrored_board(card.laydown_board),
            slide_board=mirrored_board(card.slide_board),
            target_board=mirrored_board(card.target_board),
            breakpoint_board=mirrored_board(card.breakpoint_board),
            exit_board=mirrored_board(card.exit_board),
        )

    def lane(card: LaneCard) -> LaneCard:
        return replace(
            card,
            line=line(card.line),
            film_units_at={ft: row[::-1] for ft, row in card.film_units_at.items()},
            path_boards=tuple(mirrored_board(board) for board in card.path_boards),
            band_boards=tuple(
                (mirrored_board(high), mirrored_board(low)) for low, high in card.band_boards
            ),
            film_units=tuple(row[::-1] for row in card.film_units),
        )

    def game(card: GameCard) -> GameCard:
        fallback = card.fallback
        return replace(
            card,
            line=line(card.line),
            lanes=tuple(lane(one) for one in card.lanes),
            fallback=None
            if fallback is None
            else replace(fallback, line=line(fallback.line), right_line=line(fallback.right_line)),
        )

    return replace(
        sheet,
        hand="left",
        rule_of_31_exit_board=mirrored_board(sheet.rule_of_31_exit_board),
        games=tuple(game(card) for card in sheet.games),
        practice=tuple(replace(shot, line=line(shot.line)) for shot in sheet.practice),
    )
