"""Whatever is bowled or written: it is scored as the rule book says, or refused in words."""

from __future__ import annotations

import os
import tempfile
from itertools import islice
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import plain_scorer
from nextpair.application.deliveries import SeenDelivery, seen_game
from nextpair.application.score_sheet import WrittenGame, score_sheet
from nextpair.domain.errors import InputRefusedError, InvalidValueError
from nextpair.domain.format import Counting
from nextpair.files import load_score_sheet
from nextpair.scoring.current_frame import new_game
from nextpair.scoring.frames import Delivery, Game
from nextpair.scoring.notation import game_problems, game_text, marks, parse_game
from nextpair.scoring.unfinished import lowest_possible
from plain_scorer import is_over, plain_current_frame_score, plain_score, standing

IN_CI = bool(os.environ.get("CI"))
GAMES = 10_000 if IN_CI else 200
TEXTS = 1_000 if IN_CI else 200
FILES = 300 if IN_CI else 50
MOST_BALLS = 21
TAKES_ALL, FOUL = 160, 150
"""Of a byte that stands for a ball: from the first on it takes all pins that it meets; from the
second on it is a foul; a smaller one takes so many, counted around."""
COUNTINGS = st.sampled_from(Counting)
SCORERS = {Counting.TRADITIONAL: plain_score, Counting.CURRENT_FRAME: plain_current_frame_score}
MARKS = "XXXx//--F0123456789(8)(, ,,  "


def deliveries_of(balls: bytes, counting: Counting) -> list[Delivery]:
    """Balls that may be bowled, as many as a game has at most."""
    fill_balls = counting is Counting.TRADITIONAL
    rolls: list[int] = []
    deliveries = []
    for ball in balls:
        if is_over(rolls, fill_balls):
            break
        meets = standing(rolls, fill_balls)
        takes = meets if ball >= TAKES_ALL else 0 if ball >= FOUL else ball % (meets + 1)
        deliveries.append(Delivery(takes, foul=FOUL <= ball < TAKES_ALL))
        rolls.append(takes)
    return deliveries


def frames_of(
    deliveries: list[Delivery], rolls: list[int], counting: Counting
) -> tuple[tuple[Delivery, ...], ...]:
    """Balls parted into frames by their pins."""
    left = iter(deliveries)
    framed = plain_scorer.frames_of(rolls, counting is Counting.TRADITIONAL)
    return tuple(tuple(islice(left, len(frame))) for frame in framed)


def ended(rolls: list[int], counting: Counting, *, all_fall: bool) -> int:
    """Score if every ball to come takes all that it meets, or nothing."""
    fill_balls = counting is Counting.TRADITIONAL
    rolls = list(rolls)
    while not is_over(rolls, fill_balls):
        rolls.append(standing(rolls, fill_balls) if all_fall else 0)
    return SCORERS[counting](rolls)


def written(game: Game) -> str:
    """A game with a comma after each frame, so that one frame alone is told as one."""
    return "".join(f"{frame}," for frame in game_text(game).split(",") if frame)


def numbered(game: Game) -> list[SeenDelivery]:
    return [
        SeenDelivery(frame, delivery, pins=ball.pins, foul=ball.foul)
        for frame, balls in enumerate(game.frames, start=1)
        for delivery, ball in enumerate(balls, start=1)
    ]


@settings(max_examples=GAMES)
@given(st.binary(min_size=MOST_BALLS, max_size=MOST_BALLS), COUNTINGS)
def test_any_game_scores_as_the_rule_book_says(balls, counting):
    deliveries = deliveries_of(balls, counting)
    rolls = [ball.pins for ball in deliveries]
    framed = frames_of(deliveries, rolls, counting)
    game = type(new_game(counting))(framed)
    assert game.is_complete
    assert game.score == SCORERS[counting](rolls) <= 300
    assert parse_game(game_text(game), counting) == game

    # Balls that come in another order make the same game.
    seen = sorted(numbered(game), key=lambda one: (-one.delivery, balls[one.frame - 1]))
    assert seen_game(seen, counting, pytest.fail).game == game


@settings(max_examples=TEXTS)
@given(st.binary(max_size=MOST_BALLS), COUNTINGS)
def test_a_game_under_way_can_become_what_the_rule_book_says(balls, counting):
    game = new_game(counting)
    for ball in deliveries_of(balls, counting):
        game = game.with_ball(ball)
    rolls = [ball.pins for frame in game.frames for ball in frame]
    low, high = (ended(rolls, counting, all_fall=fall) for fall in (False, True))
    assert (lowest_possible(game), game.highest_possible) == (low, high)
    assert game.score == (low if is_over(rolls, counting is Counting.TRADITIONAL) else None)
    assert parse_game(written(game), counting) == game
    in_a_row = " ".join(mark for frame in game.frames for mark in marks(frame))
    assert parse_game(in_a_row, counting) == game

    # No ball takes a pin more than it meets, and none follows the last.
    more = 0 if game.is_complete else standing(rolls, counting is Counting.TRADITIONAL) + 1
    with pytest.raises(InvalidValueError):
        game.with_ball(Delivery(more))


@settings(max_examples=TEXTS)
@given(st.binary(max_size=30), COUNTINGS)
def test_any_marks_are_a_game_or_are_refused_in_words(marked, counting):
    is_a_game_or_refused("".join(MARKS[mark % len(MARKS)] for mark in marked), counting)


@given(st.text(max_size=20), COUNTINGS)
def test_any_text_is_a_game_or_is_refused_in_words(text, counting):
    is_a_game_or_refused(text, counting)
    sheet = score_sheet([WrittenGame("", 1, text)], counting)
    assert sheet.problems or sheet.bowlers[0].games[0].max_possible <= 300


def is_a_game_or_refused(text: str, counting: Counting) -> None:
    problems = game_problems(text, counting=counting)
    try:
        game = parse_game(text, counting)
    except InvalidValueError:
        assert problems
    else:
        assert problems == ()
        assert parse_game(written(game), counting) == game


CELLS = st.one_of(
    st.sampled_from(
        ["", "X", "9/", "8-1", "(8)/", "F9", "1", "2", "0", "10", "7-10", "yes", "-1"]
    ),
    st.text(max_size=6),
)
ROWS = st.lists(st.lists(CELLS, min_size=7, max_size=7), max_size=4)
HEADERS = st.sampled_from(
    [
        ["game", "1", "2", "3", "total_2", "score"],
        ["name", "game", "balls", "score", "handicap"],
        ["game", "frame", "delivery", "pins", "standing_after", "foul"],
        ["id", "game", "frame", "delivery", "standing_before", "standing_after", "total"],
        ["game", "frame", "1", "balls"],
    ]
)


@settings(max_examples=FILES)
@given(
    HEADERS, st.lists(st.lists(CELLS, min_size=6, max_size=6), max_size=4), st.binary(max_size=4)
)
def test_any_file_is_a_score_sheet_or_is_refused_in_words(header, rows, bytes_before):
    lines = [",".join(row[: len(header)]) for row in (header, *rows)]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "sheet.csv"
        path.write_bytes(bytes_before + "\n".join(lines).encode("utf-8", "surrogatepass"))
        try:
            games, problems = load_score_sheet(path), ()
        except InputRefusedError as refused:
            games, problems = (), refused.problems
    assert games or problems
    assert score_sheet(games).problems == ()
    for problem in problems:
        assert len(str(problem).splitlines()) == 1
        assert problem.place
        assert problem.allowed
