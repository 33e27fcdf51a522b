"""The chart of conditions: bands, events that count once, and what is claimed of few."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from math import sqrt
from statistics import fmean

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nextpair.application.condition_chart import MOST_TOLD, chart_of
from nextpair.application.outings import NO_OUTINGS
from nextpair.domain.condition_chart import (
    LENGTH_BANDS,
    VOLUME_BANDS,
    length_band,
    volume_band,
)
from nextpair.domain.house import LaneSurface
from outings import OTHER, OWNER, line, outing, thrown

PAIRS = ((0.0, 0.0), (0.0, 0.4))


def chart(*outings):
    return chart_of(replace(NO_OUTINGS, bowler=OWNER, all=outings))


@pytest.mark.parametrize(
    ("length_ft", "name"),
    # [facts] section 4: short up to about 35-36 ft, medium about 37-41, long 42 ft and up.
    [(28, "short"), (35, "short"), (36, "short"), (37, "medium"), (41, "medium"), (42, "long")],
)
def test_lengths_are_called_as_the_trade_calls_them(length_ft, name):
    assert length_band(length_ft).name == name


@given(st.floats(0.0, 80.0))
def test_every_length_and_volume_lies_in_its_band_alone(value):
    for bands, band_of in ((LENGTH_BANDS, length_band), (VOLUME_BANDS, volume_band)):
        holding = [
            band
            for band in bands
            if (band.low is None or band.low <= value) and (band.high is None or value < band.high)
        ]
        assert holding == [band_of(value)]


def test_conditions_are_kept_apart_by_lanes_length_and_volume():
    rows = chart(
        outing(),
        outing(surface=LaneSurface.WOOD),
        outing(length_ft=44.0),
        outing(volume_ml=27.0),
        outing(),
    ).rows
    assert [row.events for row in rows] == [2, 1, 1, 1]
    assert len({(row.surface, row.length, row.volume) for row in rows}) == 4
    assert rows[0].games == 12


def test_an_event_counts_once_however_many_games_it_had():
    row = chart(outing(games=3, mean_pins=190.0), outing(games=24, mean_pins=210.0)).rows[0]
    assert row.games == 27
    assert row.score.mean_pins == pytest.approx(fmean((190.0, 210.0)))
    assert row.score.count == 2


def test_one_event_alone_has_no_interval_and_two_have_a_wide_one():
    alone = chart(outing(field_pins=9.0)).rows[0]
    assert alone.score.pins_interval_80 is None
    assert alone.field_pins.mean_pins == 9.0
    two = chart(outing(mean_pins=195.0), outing(mean_pins=205.0)).rows[0].score.pins_interval_80
    many = chart(*(outing(mean_pins=195.0 + 10 * (n % 2)) for n in range(10))).rows[0].score
    assert two is not None
    assert many.pins_interval_80 is not None
    # Student's t of one degree of freedom: 3.08 standard errors of 5 pins, [hesterberg-2015].
    assert two[1] - two[0] > 2 * 10.0
    assert many.pins_interval_80[1] - many.pins_interval_80[0] < (two[1] - two[0]) / 3


def test_two_events_that_happen_to_lie_near_each_other_settle_nothing():
    for pair in PAIRS:
        [row] = chart(*(outing(games=5, mean_pins=190.0 + by) for by in pair)).rows
        assert row.score.pins_interval_80 is not None
        low, high = row.score.pins_interval_80
        # The mean of ten games, each 27.4 pins about the bowler's own level: [facts] section 9.
        assert (high - low) / 2 == pytest.approx(1.2816 * 27.4 / sqrt(10))


def test_losing_to_the_field_may_be_below_nothing():
    row = chart(*(outing(field_pins=pins) for pins in (-14.0, -11.0, -9.0, -12.0))).rows[0]
    assert row.field_pins.pins_interval_80 is not None
    low, high = row.field_pins.pins_interval_80
    assert low < -11.5 < high < 0


def test_words_claim_a_condition_only_where_its_interval_does():
    sure = [outing(field_pins=pins) for pins in (11.0, 14.0, 12.0, 13.0)]
    unsure = [outing(length_ft=45.0, field_pins=pins) for pins in (30.0, -20.0)]
    assert chart(*sure, *unsure).words == (
        "On synthetic, medium, middling you are 12 pins a game over the field (4 events).",
    )
    assert chart(*unsure).words[0].startswith("No condition stands out beyond doubt")
    assert chart().words == ()


def test_events_of_others_are_in_no_condition_of_ones_own():
    told = chart(outing(is_own=False, bowler=OTHER), outing())
    assert [row.events for row in told.rows] == [1]


def test_balls_and_lines_of_a_condition_are_the_few_that_struck_most_surely():
    day = timedelta(days=7)
    first = outing(
        balls=tuple(thrown(struck, 20, f"ball {struck}") for struck in (6, 9, 12, 15)),
        lines=(line(12, 20), line(15, 20, "Osprey")),
    )
    second = outing(date=first.date + day, balls=(thrown(10, 20, "ball 6"),))
    row = chart(first, second).rows[0]
    assert len(row.balls) == MOST_TOLD
    assert [one.ball for one in row.balls] == ["ball 15", "ball 12", "ball 9"]
    assert [one.ball for one in row.lines] == ["Osprey", "Kestrel"]
