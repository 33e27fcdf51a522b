"""Score sheets on a terminal and as JSON."""

from __future__ import annotations

import json

import pytest

from nextpair.application.score_sheet import score_sheet
from nextpair.application.sheet_statistics import with_statistics
from nextpair.domain.format import Counting
from nextpair.reports.score_text import render_score_text
from nextpair.reports.sheet_json import render_score_json
from unit.reports.score_factory import WRITTEN, a_score_sheet


def lines_with(text: str, word: str) -> list[str]:
    return [line for line in text.splitlines() if word in line]


@pytest.mark.parametrize("columns", [40, 80, 100])
def test_a_sheet_fits_the_page(columns):
    text = render_score_text(a_score_sheet(), columns)
    assert max(map(len, text.splitlines())) <= max(columns, 80)
    assert "\x1b" not in text
    assert "\x1b[1m" in render_score_text(a_score_sheet(), columns, colour=True)


def test_balls_and_scores_stand_under_their_frames():
    text = render_score_text(a_score_sheet())
    frames, balls, scores = (
        next(line for line in text.splitlines() if line.split()[:1] == [label])
        for label in ("frame", "balls", "score")
    )
    for column, (marks, total) in enumerate([("9 /", "18"), ("(8) 1", "27"), ("X", "54")], 1):
        end = frames.index(f"{column}") + 1
        assert balls[:end].endswith(f" {marks}")
        assert scores[:end].endswith(f" {total}")
    assert balls.endswith("X 7 /")


def test_leaves_are_told_with_what_became_of_them():
    told = " ".join(render_score_text(a_score_sheet(), 100).split())
    assert "frame 1: 10 pin, made; frame 2: 3-10 (baby split), missed" in told
    assert "frame 5: 1-2-10 (washout), made" in told
    assert told.count("which pins stood is not on the sheet") == 2


def test_a_game_under_way_tells_what_it_can_become():
    text = render_score_text(score_sheet(WRITTEN[1:2]))
    (line,) = lines_with(text, "expected finish")
    assert line.split()[:3] == ["so", "far", "40,"]
    assert "at this pace 200" in line
    assert "at most 280, at least 50" in line
    assert not lines_with(text, "series")


def test_series_and_average_are_those_of_finished_games():
    text = render_score_text(a_score_sheet())
    assert len(lines_with(text, "series")) == 2
    assert lines_with(text, "90 in 1 finished game, average 90")


def test_the_other_counting_is_said():
    assert "counted by the current frame" in render_score_text(
        a_score_sheet(Counting.CURRENT_FRAME)
    )


def test_what_the_games_say_stands_under_them():
    told = render_score_text(with_statistics(score_sheet(WRITTEN), WRITTEN))
    assert told.index("together") < told.index("STATISTICS of 2 games")
    assert "  SPARES BY KIND".strip() in told
    assert "STATISTICS" not in render_score_text(a_score_sheet())


def test_a_rate_goes_out_with_its_interval():
    document = json.loads(render_score_json(with_statistics(score_sheet(WRITTEN), WRITTEN)))
    rates = document["bowlers"][0]["statistics"]["all"]
    strikes = rates["strikes"]
    low, high = strikes["share_interval_80"]
    assert set(strikes) == {"made", "tried", "mean_share", "share_interval_80"}
    assert low < strikes["mean_share"] < high
    assert rates["pocket"]["share_interval_80"] is None


def test_the_document_holds_what_the_guide_lists():
    document = json.loads(render_score_json(a_score_sheet()))
    assert set(document) == {"counting", "bowlers", "problems"}
    ada = document["bowlers"][0]
    first, second = ada["games"]
    assert first["frames"][1] == {
        "marks": ["(8)", "1"],
        "total": 27,
        "left": [{"pins": "3-10", "name": "baby split", "kind": "split", "made": False}],
    }
    assert (first["expected_finish"], first["pace"]) == (None, None)
    assert first["total"] == first["max_possible"] == first["min_possible"]
    assert second["total"] is None
    assert second["expected_finish"] == round(second["expected_finish"], 1)
    assert ada["series"] == first["total"]
