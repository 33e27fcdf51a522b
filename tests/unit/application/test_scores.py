"""The score sheet that fills itself, and the field's table."""

from __future__ import annotations

from uuid import UUID, uuid4

import pytest

from nextpair.application.scores import scores_of, take_in_scores
from nextpair.application.store import Account
from nextpair.domain.bowler import Hand
from nextpair.domain.field_score import FieldScore
from nextpair.domain.format import Counting
from nextpair.domain.jotting import Jotting, JottingKind, Kept
from nextpair.store.memory import MemoryStore

EVENT = uuid4()
ME = "Ada Quill"
PINS = list(range(1, 11))
# The example game of the world rule book (tests/reference/data/scoring.toml).
EXAMPLE = [
    (1, 1, []), (2, 1, []), (3, 1, []), (4, 1, [2, 4, 7]), (4, 2, [7]), (5, 1, [7, 10]),
    (5, 2, []), (6, 1, "foul"), (6, 2, [3]), (7, 1, []), (8, 1, [1, 2, 3]), (8, 2, []),
    (9, 1, [10]), (9, 2, [10]), (10, 1, []), (10, 2, []), (10, 3, [4, 7]),
]  # fmt: skip


def shot(frame: int, delivery: int, after: object, game: int = 1, **more: object) -> dict:
    pins = {"foul": True} if after == "foul" else {"standing_after": after}
    place = {"game": game, "frame": frame, "delivery": delivery, "lane": 7, "ball": "Kestrel"}
    return {**place, **pins, **more}


def score(name: str, game: int, pins: int, **more: object) -> dict:
    return {"name": name, "game": game, "score": pins, **more}


def log_of(*payloads: dict) -> list[Kept]:
    return [
        Kept(
            seq,
            Jotting(
                uuid4(), EVENT, "phone", seq,
                JottingKind.SCORE if "name" in payload else JottingKind.SHOT, payload,
            ),
        )
        for seq, payload in enumerate(payloads, start=1)
    ]  # fmt: skip


def test_the_example_game_of_the_rule_book():
    scores = scores_of(log_of(*(shot(*one) for one in EXAMPLE)), ME)
    (game,) = scores.bowler
    assert scores.problems == ()
    assert [frame.marks for frame in game.frames] == [
        ("X",), ("X",), ("X",), ("7", "2"), ("(8)", "/"), ("F", "9"), ("X",), ("7", "/"),
        ("9", "-"), ("X", "X", "8"),
    ]  # fmt: skip
    assert [frame.total for frame in game.frames] == [
        30, 57, 76, 85, 95, 104, 124, 143, 152, 180,
    ]  # fmt: skip
    assert (game.total, game.so_far, game.max_possible) == (180, 180, 180)


def test_a_perfect_game_under_way():
    scores = scores_of(log_of(*(shot(frame, 1, []) for frame in range(1, 6))), ME)
    (game,) = scores.bowler
    assert [frame.total for frame in game.frames] == [30, 60, 90, None, None]
    assert (game.total, game.so_far, game.max_possible) == (None, 90, 300)


def test_pins_before_a_ball_may_be_told_or_left():
    told = [shot(1, 1, [7], standing_before=PINS), shot(1, 2, [], standing_before=[7])]
    left = [shot(1, 1, [7]), shot(1, 2, [])]
    assert scores_of(log_of(*told), ME) == scores_of(log_of(*left), ME)


def test_after_a_foul_the_rack_is_set_again():
    log = log_of(shot(1, 1, [7], foul=True), shot(1, 2, [], standing_before=PINS), shot(2, 1, [1]))
    (game,) = scores_of(log, ME).bowler
    assert [frame.marks for frame in game.frames] == [("F", "/"), ("9",)]
    assert game.so_far == 19


@pytest.mark.parametrize(
    ("shots", "place"),
    [
        ([shot(2, 1, [])], "game 1, frame 2, delivery 1: delivery"),
        ([shot(1, 1, []), shot(1, 2, [])], "game 1, frame 1, delivery 2: delivery"),
        ([shot(1, 1, None)], "game 1, frame 1, delivery 1: standing_after"),
        (
            [shot(1, 1, [7, 10]), shot(1, 2, [], standing_before=[10])],
            "game 1, frame 1, delivery 2: standing_before",
        ),
        ([shot(1, 1, [7]), shot(1, 2, [10])], "game 1, frame 1, delivery 2: standing_after"),
    ],
)
def test_what_does_not_follow_is_told_and_the_frames_before_it_count(shots, place):
    scores = scores_of(log_of(*shots, shot(1, 1, [], game=2)), ME)
    assert [problem.place for problem in scores.problems] == [place]
    assert scores.bowler[-1].frames[0].marks == ("X",)


def test_practice_is_no_game():
    assert scores_of(log_of(shot(1, 1, [], game=0), shot(14, 1, [], game=0)), ME).bowler == ()


def test_of_two_shots_in_one_place_the_first_one_counts():
    scores = scores_of(log_of(shot(1, 1, [7]), shot(1, 1, [])), ME)
    assert scores.bowler[0].frames[0].marks == ("9",)
    assert len(scores.problems) == 1


def test_the_field_has_the_last_score_that_was_said():
    log = log_of(
        score("Bo Farr", 1, 180, handicap=8),
        score("Cleo Pym", 1, 190),
        score("Bo Farr", 1, 181, handicap=8),
        score("Bo Farr", 3, 200),
    )
    field = scores_of(log, ME).field
    assert [(row.name, row.games, row.handicap, row.total) for row in field] == [
        ("Bo Farr", (181, None, 200), 8, 389),
        ("Cleo Pym", (190,), 0, 190),
    ]


def test_own_games_stand_in_the_field_once_they_are_over():
    shots = [shot(*one) for one in EXAMPLE]
    field = scores_of(log_of(*shots, shot(1, 1, [], game=2)), ME).field
    assert [(row.name, row.games) for row in field] == [(ME, (180,))]


def test_a_score_that_is_not_that_of_the_shots_is_told():
    scores = scores_of(log_of(*(shot(*one) for one in EXAMPLE), score(ME, 1, 190)), ME)
    (problem,) = scores.problems
    assert (problem.place, problem.found) == (f"game 1 of {ME}", "score 190")
    assert scores.field[0].games == (180,)


@pytest.mark.parametrize(
    "wrong",
    [
        {"hand": "both"}, {"average": 999}, {"pair": 13}, {"balls": "X" * 201},
        {"score": 301},
        {"score": "200"}, {"game": 0}, {"name": " "}, {"name": 4}, {"handicap": -1},
    ],
)  # fmt: skip
def test_what_is_no_score_is_told(wrong):
    scores = scores_of(log_of({**score("Bo", 1, 200), **wrong}), ME)
    assert scores.field == ()
    assert len(scores.problems) == 1


def test_scores_of_a_file_are_taken_in_once():
    store, account = MemoryStore(), Account(UUID(int=1), "home", None)
    store.add_account(account)
    scores = [FieldScore("Bo", 1, 200, 5, "A", Hand.LEFT, "1-2", 199), FieldScore("Cleo", 1, 180)]
    assert len(take_in_scores(store, account.id, EVENT, scores)) == 2
    assert take_in_scores(store, account.id, EVENT, scores) == ()
    take_in_scores(store, account.id, EVENT, [FieldScore("Bo", 1, 210, 5)])
    assert scores_of(store.log(account.id, EVENT), ME).field[0].games == (210,)


WRITTEN = "X, X, X, 7 2, (8) /, F 9, X, 7 /, 9 -, X X 8"


def test_own_games_come_from_a_written_sheet_where_no_shots_make_one():
    (game,) = scores_of(log_of(score(ME, 1, 180, balls=WRITTEN)), ME).bowler
    assert (game.total, game.source) == (180, "sheet")
    assert game.frames[4].marks == ("(8)", "/")
    half = [shot(*one) for one in EXAMPLE[:5]]
    log = log_of(*half, shot(1, 1, [], game=2), score(ME, 1, 180, balls=WRITTEN))
    assert [(one.total, one.source) for one in scores_of(log, ME).bowler] == [
        (180, "sheet"),
        (None, "shots"),
    ]
    by_shots = scores_of(
        log_of(*(shot(*one) for one in EXAMPLE), score(ME, 1, 180, balls="X")), ME
    )
    assert (by_shots.bowler[0].source, by_shots.problems) == ("shots", ())


def test_a_written_sheet_that_is_wrong_is_told():
    log = log_of(score(ME, 1, 179, balls=WRITTEN), score(ME, 2, 90, balls="9 3"))
    scores = scores_of(log, ME)
    assert [(one.place, one.found) for one in scores.problems] == [
        (f"game 2 of {ME}: frame 1", "9 3"),
        (f"game 1 of {ME}", "score 179"),
    ]
    assert scores.problems[1].allowed == "180, by its balls"


def test_a_game_under_way_has_a_pace_and_an_expected_finish():
    scores = scores_of(log_of(*(shot(frame, 1, []) for frame in range(1, 6))), ME)
    (game,) = scores.bowler
    assert game.pace == 300
    assert 230 < game.expected_finish < 280
    (over,) = scores_of(log_of(*(shot(*one) for one in EXAMPLE)), ME).bowler
    assert over.expected_finish == pytest.approx(180)


def test_counting_by_the_current_frame():
    shots = [shot(*one) for one in EXAMPLE if one[:2] not in ((10, 2), (10, 3))]
    (game,) = scores_of(log_of(*shots), ME, Counting.CURRENT_FRAME).bowler
    assert [frame.total for frame in game.frames] == [
        30, 60, 90, 99, 117, 126, 156, 173, 182, 212,
    ]  # fmt: skip
