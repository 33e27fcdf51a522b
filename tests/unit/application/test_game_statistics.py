"""What a coach asks of games, by all that racks have in common."""

from __future__ import annotations

import pytest

from logged_games import logged_frame, logged_game
from nextpair.application.game_statistics import PlayedGame, statistics_of
from nextpair.domain.bowler import Hand
from nextpair.domain.statistics import Group
from nextpair.scoring.notation import parse_game

ONE = parse_game("X, X, 9 /, 9 -, (8) 1, X, X, X, 9 /, 9 / X")
OTHER = parse_game("9 /, 9 /, 9 /, 9 /, 9 /, 9 /, 9 /, 9 /, 9 /, 9 / 9")


def made(share):
    return share.made, share.tried


def groups(stats, kind) -> dict[str, Group]:
    return {group.name: group for group in stats.groups if group.kind == kind}


def test_games_are_told_apart():
    stats = statistics_of([PlayedGame(1, ONE), PlayedGame(2, OTHER)])
    assert stats.games == 2
    assert stats.game_pins.mean_pins == (ONE.score + OTHER.score) / 2
    assert {name: made(group.rates.strikes) for name, group in groups(stats, "game").items()} == {
        "game 1": (6, 11),
        "game 2": (0, 11),
    }


def test_halves_of_games_have_rates_of_their_own():
    halves = groups(statistics_of([PlayedGame(1, ONE)]), "half")
    assert {name: made(half.rates.strikes) for name, half in halves.items()} == {
        "frames 1 to 5": (2, 5),
        "frames 6 to 10": (4, 6),
    }


def test_strings_end_with_the_game():
    struck = parse_game("9 -, 9 -, 9 -, 9 -, 9 -, 9 -, 9 -, 9 -, X, X X X")
    stats = statistics_of([PlayedGame(1, struck), PlayedGame(2, ONE)])
    assert [(run.strikes, run.times) for run in stats.strings] == [(4, 1), (3, 1), (2, 1)]


def test_shots_are_believed_before_what_was_written():
    shots = logged_game(1, [["10", ""]] * 9 + [["10", "", "10"]])
    stats = statistics_of([PlayedGame(1, ONE)], shots)
    assert made(stats.all.strikes) == (0, 11)
    assert stats.game_pins.mean_pins == 190
    (record,) = stats.all.by_leave
    assert (record.leave, record.left, made(record.spares)) == ("10", 11, (10, 10))


def test_pocket_and_carry_count_what_was_seen():
    shots = [
        *logged_frame(1, 1, [""], entry_board=17.5),
        *logged_frame(1, 2, ["10", ""], entry_board=18.0),
        *logged_frame(1, 3, [""], entry_board=22.0),
        *logged_frame(1, 4, [""]),
    ]
    rates = statistics_of([], shots).all
    assert (made(rates.strikes), made(rates.pocket), made(rates.carry)) == ((3, 4), (2, 3), (1, 2))
    left_handed = statistics_of([], shots, Hand.LEFT).all
    assert made(left_handed.pocket) == (1, 3)


def test_racks_are_grouped_by_ball_pair_and_side():
    shots = [
        *logged_frame(1, 1, [""], ball="Kestrel", lane=13),
        *logged_frame(1, 2, ["7", ""], ball="Kestrel", lane=14),
        *logged_frame(2, 1, [""], ball="Slate Weir", lane=15),
    ]
    stats = statistics_of([], shots)
    told = {
        kind: {name: made(group.rates.strikes) for name, group in groups(stats, kind).items()}
        for kind in ("ball", "pair", "lane side", "spare ball")
    }
    assert told == {
        "ball": {"Kestrel": (1, 2), "Slate Weir": (1, 1)},
        "pair": {"13-14": (1, 2), "15-16": (1, 1)},
        "lane side": {"left lanes": (2, 2), "right lanes": (0, 1)},
        "spare ball": {},
    }


def test_a_spare_belongs_to_the_ball_that_shot_it():
    frame = logged_frame(1, 1, ["7", ""], ball="Kestrel")
    spare = logged_frame(1, 1, ["7", ""], ball="Paper Moon")[1]
    other = logged_frame(1, 2, ["7", "7"], ball="Kestrel")
    found = groups(statistics_of([], [frame[0], spare, *other]), "spare ball")
    assert {name: made(group.rates.spares) for name, group in found.items()} == {
        "Kestrel": (0, 1),
        "Paper Moon": (1, 1),
    }


def test_lines_are_lay_down_and_target_near_one_another():
    meant = {"meant_laydown_board": 20.0, "meant_target_board": 13.5, "laydown_board": 30.0}
    shots = [
        *logged_frame(1, 1, [""], **meant),
        *logged_frame(1, 2, [""], laydown_board=20.5, target_board=14.5),
        *logged_frame(1, 3, ["7", ""], laydown_board=24.0, target_board=15.0),
        *logged_frame(1, 4, [""], laydown_board=20.0),
    ]
    lines = groups(statistics_of([], shots), "line")
    assert {name: made(line.rates.strikes) for name, line in lines.items()} == {
        "line 1": (2, 2),
        "line 2": (0, 1),
    }
    assert (lines["line 1"].laydown_board, lines["line 1"].target_board) == (20.25, 14.0)


def test_a_frame_under_way_is_neither_filled_nor_open():
    rates = statistics_of([PlayedGame(1, parse_game("X, 9 -, 7"))]).all
    assert (made(rates.frames_filled), rates.opens) == ((1, 2), 1)


def test_leaves_are_told_commonest_first_and_by_name():
    frames = [["10", ""], ["10", "10"], ["7-10", "7"], ["2-8", ""], *[[""]] * 5, ["", "", "10"]]
    leaves = statistics_of([], logged_game(1, frames)).all.by_leave
    assert [(one.leave, one.left, made(one.spares)) for one in leaves] == [
        ("10", 3, (1, 2)),
        ("2-8", 1, (1, 1)),
        ("7-10", 1, (0, 1)),
    ]
    assert [one.kind for one in leaves] == ["single-pin", "makeable", "split"]
    assert leaves[2].name == "bedposts"


def test_nothing_bowled_says_nothing():
    stats = statistics_of([])
    assert (stats.games, stats.groups, stats.all.strikes.share_interval_80) == (0, (), None)


@pytest.mark.parametrize(
    ("shots", "words"),
    [
        (logged_frame(1, 1, [""], entry_board=17.5), "leaves say nothing of the pocket"),
        (logged_frame(1, 1, [""]), "Nobody saw where the balls came in"),
    ],
)
def test_it_says_how_the_pocket_is_known(shots, words):
    assert any(words in note for note in statistics_of([], shots).notes)


def test_it_says_where_counts_hide_the_kind_of_a_leave():
    notes = statistics_of([PlayedGame(1, ONE)]).notes
    assert any("Of some racks, 5, only the counts were written down" in note for note in notes)
