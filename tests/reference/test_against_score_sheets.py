"""Published games, written as files and scored by `nextpair score`."""

from __future__ import annotations

import json

import pytest

from nextpair.cli.main import exit_code
from nextpair.scoring.averages import average, tournament_average
from nextpair.scoring.frames import FRAMES
from reference.record import load_authority, load_entry

SCORING = "scoring"
FIXED = load_authority(SCORING)["fixed_games"]
TOTALS = tuple(f"total_{number}" for number in range(1, FRAMES + 1))


@pytest.fixture
def scored(tmp_path, capsys):
    """What `nextpair score` says of rows of a sheet: exit code, output, errors."""

    def score(header: tuple[str, ...], *rows: tuple[object, ...], options=()):
        path = tmp_path / "sheet.csv"
        lines = [",".join(f'"{cell}"' for cell in row) for row in (header, *rows)]
        path.write_text("\n".join(lines) + "\n", "utf-8")
        code = exit_code(["score", str(path), *options])
        return code, *capsys.readouterr()

    return score


def games_of(text: str) -> list[dict]:
    return json.loads(text)["bowlers"][0]["games"]


def test_the_rule_book_sheet_is_found_right_with_its_totals(scored):
    sheet = load_entry(SCORING, "rule_book_game")
    totals = sheet["running_scores"]["value"]
    rows = (1, *[cell.strip() for cell in sheet["game"].split(",")], *totals)
    header = ("game", *map(str, range(1, FRAMES + 1)), *TOTALS)
    code, text, errors = scored(header, rows, options=["--json"])
    assert (code, errors) == (0, "")
    (game,) = games_of(text)
    assert [frame["total"] for frame in game["frames"]] == totals
    assert game["total"] == totals[-1] == 180


def test_the_national_copy_of_that_sheet_ends_a_pin_lower(scored):
    sheet = load_entry(SCORING, "rule_book_game")
    copy = sheet["game"].removesuffix("8") + "7"
    code, text, _ = scored(("game", "balls"), (1, copy), options=["--json"])
    assert code == 0
    assert games_of(text)[0]["total"] == sheet["score_with_a_last_ball_of_7"]["value"] == 179


def test_the_sheet_added_up_wrongly_in_print_is_refused_at_its_frame(scored):
    wrong = load_entry(SCORING, "wrong_game")
    header = ("game", "balls", "total_8", "score")
    row = (1, wrong["game"], wrong["printed_after_frame_8"], wrong["printed_score"])
    code, text, errors = scored(header, row)
    assert (code, text) == (2, "")
    assert len(errors.splitlines()) == 1  # the last total follows from the wrong one
    assert "line 2: game 1, frame 8: found 140, allowed: 130" in errors
    right = (
        1,
        wrong["game"],
        wrong["right_after_frame_8"]["value"],
        wrong["right_score"]["value"],
    )
    assert scored(header, right)[0] == 0


def test_games_that_everybody_knows_score_what_they_should(scored):
    rows = [(number, one["game"], one["score"]) for number, one in enumerate(FIXED, 1)]
    code, text, errors = scored(("game", "balls", "score"), *rows, options=["--json"])
    assert (code, errors) == (0, "")
    assert [game["total"] for game in games_of(text)] == [one["score"] for one in FIXED]
    for number, one in enumerate(FIXED, 1):
        wrong = (number, one["game"], one["score"] - 1)
        code, _, errors = scored(("game", "balls", "score"), wrong)
        assert code == 2
        assert f"found {one['score'] - 1}, allowed: {one['score']}" in errors


def test_spares_alone_are_100_and_ten_times_their_first_balls(scored):
    rows = [(1 + k, f"{k}/ " * FRAMES + str(k), 100 + 10 * k) for k in range(10)]
    assert scored(("game", "balls", "score"), *rows)[::2] == (0, "")


def test_one_open_frame_among_strikes_costs_what_it_should(scored):
    best = {1: 279, 2: 268} | dict.fromkeys(range(3, FRAMES + 1), 267)
    rows = []
    for open_frame, score in best.items():
        frames = ["9-" if number == open_frame else "X" for number in range(1, FRAMES + 1)]
        fill_balls = " X X" * (open_frame != FRAMES)
        rows.append((open_frame, ", ".join(frames) + fill_balls, score))
    assert scored(("game", "balls", "score"), *rows)[::2] == (0, "")


def test_ten_strikes_are_the_most_by_the_current_frame(scored):
    options = ["--current-frame", "--json"]
    _, text, _ = scored(("game", "balls"), (1, "X " * FRAMES), options=options)
    assert games_of(text)[0]["total"] == games_of(text)[0]["max_possible"] == 300


def test_averages_follow_the_tournament_rule_and_a_master_event():
    rule = load_entry(SCORING, "tournament_average")
    games, rise = rule["games"], rule["rise_pins"]
    assert tournament_average(190, (190 + rise) * games, games) == 190 + rise
    assert tournament_average(190, (190 + rise) * games - 1, games) == 190
    assert tournament_average(190, (190 + rise) * (games - 1), games - 1) == 190
    event = rule["master_event"]
    assert average(event["pins"], event["games"]) == event["average"]
    assert event["pins"] - 200 * event["games"] == event["over_200"]
