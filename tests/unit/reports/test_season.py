"""What a season says on a terminal and as JSON."""

from __future__ import annotations

import json
from datetime import date

import pytest

from nextpair.application.ball_usage import OwnedBall
from nextpair.application.season import season_of
from nextpair.application.season_events import Tally
from nextpair.domain.ball import Cover
from nextpair.domain.goal import Goal, Measure
from nextpair.reports.season_json import render_season_json
from nextpair.reports.season_text import render_season_text
from seasons import TODAY, facts, to_come

GOAL = Goal("More strikes", Measure.STRIKES, 50, date(2026, 1, 1), date(2026, 12, 31))


@pytest.fixture
def season():
    events = [facts(n, strikes=Tally(20 + 3 * n, 66)) for n in range(8)]
    coming = to_come(date(2026, 12, 5), entry_deadline=date(2026, 11, 29))
    return season_of(
        [*events, coming], [OwnedBall("Slate Weir", Cover.SOLID, 2000)], (GOAL,), TODAY
    )


def test_it_tells_all_its_parts(season):
    text = render_season_text(season)
    for part in ("WHAT IS DUE", "GOALS", "TRENDS", "BY PATTERN LENGTH", "BY BALL", "BALLS"):
        assert part in text
    assert "in 1 day: Entry for Ebb Tide Open closes." in text
    assert "It rises" in " ".join(text.split())
    assert "Wear a mask" in " ".join(text.split())


def test_lines_keep_to_the_page(season):
    assert max(map(len, render_season_text(season, 80).splitlines())) <= 80


@pytest.mark.parametrize("name", ["Average 185 on these patterns", "More strikes than ever " * 3])
def test_a_long_name_has_room_before_the_text(name):
    goal = Goal(name.strip(), Measure.STRIKES, 50, date(2026, 1, 1), date(2026, 12, 31))
    text = render_season_text(season_of([facts(0)], (), (goal,), TODAY), 80)
    (line,) = (line for line in text.splitlines() if line.startswith(f"  {name[:18]}"))
    assert "  strikes: 50 %" in line
    assert len(line) <= 80


def test_an_empty_season_says_what_to_do():
    text = render_season_text(season_of((), (), (), TODAY))
    assert "No event with a score or shot of yours is kept" in text


def test_small_shares_keep_their_decimals_in_json(season):
    told = json.loads(render_season_json(season))
    assert told["today"] == "2026-11-28"
    strikes = told["trends"][0]
    assert strikes["figure"] == "strikes"
    assert strikes["change"] == pytest.approx(3 / 66 / 14 * 30, abs=5e-7)
    luck = 20.5 / 67 * 46.5 / 67
    assert strikes["points"][0] == pytest.approx(
        {"date": "2026-01-10", "value": 20 / 66, "weight": 66, "luck": luck, "event": "Event 0"},
        abs=5e-7,
    )
    assert [one["due"] for one in told["deadlines"]] == [
        "entry",
        "resurfacing",
        "packing",
        "event",
    ]
