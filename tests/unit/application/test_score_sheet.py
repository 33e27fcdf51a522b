"""Written games, checked and scored."""

from __future__ import annotations

import pytest

from nextpair.application.score_sheet import WrittenGame, score_sheet
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.format import Counting
from nextpair.scoring.game_value import expected_score
from nextpair.scoring.notation import parse_game
from nextpair.scoring.statistics import counts
from nextpair.scoring.unfinished import expected_finish, odds_of_counts

PERFECT = "X X X X X X X X X X X X"


def written(balls: str, name: str = "Ada Quill", game: int = 1, **more) -> WrittenGame:
    return WrittenGame(name, game, balls, **more)


def told(*games: WrittenGame, **how) -> list[tuple[str, str, str]]:
    return [(p.place, p.found, p.allowed) for p in score_sheet(games, **how).problems]


def test_games_stand_by_bowler_in_their_order():
    sheet = score_sheet(
        [written(PERFECT, game=2), written("9- " * 10, "Bo Farr"), written("9/ " * 10 + "9")]
    )
    assert [(one.name, [game.total for game in one.games]) for one in sheet.bowlers] == [
        ("Ada Quill", [190, 300]),
        ("Bo Farr", [90]),
    ]
    ada, bo = sheet.bowlers
    assert (ada.finished, ada.series, ada.average) == (2, 490, 245)
    assert (bo.series, bo.average, bo.counts.opens) == (90, 90, 10)
    assert sheet.problems == ()


def test_a_game_under_way_is_valued_by_the_bowlers_own_games():
    sheet = score_sheet([written(PERFECT), written("X, X, 9/,", game=2)])
    under_way = sheet.bowlers[0].games[1]
    own = odds_of_counts(counts([parse_game(PERFECT), parse_game("X, X, 9/")]))
    assert under_way.expected_finish == expected_finish(parse_game("X, X, 9/"), own)
    assert under_way.expected_finish > expected_score(own)
    assert (under_way.total, under_way.so_far, under_way.pace) == (None, 49, 245)
    assert (under_way.min_possible, under_way.max_possible) == (59, 279)
    alone = score_sheet([written("X, X, 9/,", game=2)]).bowlers[0].games[0]
    assert alone.expected_finish < under_way.expected_finish


def test_one_bowler_may_be_asked_for_in_any_case():
    games = [written(PERFECT), written("9- " * 10, "Bo Farr")]
    assert [one.name for one in score_sheet(games, name=" bo farr ").bowlers] == ["Bo Farr"]
    with pytest.raises(InvalidValueError, match="a bowler of the sheet: Ada Quill, Bo Farr"):
        score_sheet(games, name="Cy Dell")


def test_one_slip_in_the_totals_is_told_once():
    totals = (30, 60, 89, 117, 137, 156, 164, 184, 204, 224)
    game = "X, X, X, 9/, X, 8-, X, 9/, X, X X X"
    right = parse_game(game).running_scores
    slipped = [total + 10 * (number >= 6) for number, total in enumerate(right)]
    assert totals != right
    assert told(written(game, totals=tuple(slipped), score=slipped[-1])) == [
        ("game 1 of Ada Quill, frame 7", str(slipped[6]), str(right[6]))
    ]


def test_a_score_must_be_what_the_game_adds_up_to():
    game = "9/ " * 10 + "9"
    assert told(written(game, score=190)) == []
    assert told(written(game, score=191)) == [("game 1 of Ada Quill, frame 10", "191", "190")]
    right = (19, 38, 57, 76, 95, 114, 133, 152, 171, 190)
    assert told(written(game, totals=right, score=190)) == []
    assert told(written(game, totals=right, score=191)) == [
        ("game 1 of Ada Quill, score", "191", "190, the total of frame 10")
    ]


def test_a_score_of_a_game_under_way_is_told():
    (problem,) = told(written("X, X, X,", score=60))
    assert problem == ("game 1 of Ada Quill, frame 10", "60", "no total yet: balls are missing")


def test_problems_are_told_at_the_place_of_their_frame():
    game = written("X, 7 4, 9 -, 8 8,", name="", game=3, places=("line 2", "line 4", "line 6"))
    assert [place for place, _, _ in told(game)] == [
        "line 4: game 3, frame 2",
        "line 6: game 3, frame 4",
    ]


def test_a_game_with_a_problem_is_shown_up_to_it_and_counts_for_nothing():
    for balls in ("X, 9/, 7 4, X,", "X 9/ 74 X"):
        sheet = score_sheet([written(balls), written(PERFECT, game=2)])
        first = sheet.bowlers[0].games[0]
        assert len(first.problems) == 1
        assert [frame.marks for frame in first.frames] == [("X",), ("9", "/")]
        assert (sheet.bowlers[0].series, sheet.bowlers[0].finished) == (300, 1)


def test_a_game_not_begun_is_one():
    game = score_sheet([written("")]).bowlers[0].games[0]
    assert (game.frames, game.total, game.so_far, game.max_possible) == ((), None, 0, 300)
    assert 190 < game.expected_finish < 205


def test_by_the_current_frame_ten_strikes_are_300():
    sheet = score_sheet([written("X " * 10)], Counting.CURRENT_FRAME)
    assert sheet.counting == "current-frame"
    assert sheet.bowlers[0].games[0].total == 300
    assert len(told(written(PERFECT), counting=Counting.CURRENT_FRAME)) == 1
