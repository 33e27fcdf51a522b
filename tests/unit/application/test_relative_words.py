"""What a relative is beside a pattern, in words that follow from the two patterns' numbers."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from nextpair.application.relative_words import FEW_RACKS, relative_words, start_words
from nextpair.application.what_worked import LEAST_RACKS, best_balls, best_line, best_lines
from nextpair.domain.bowler import Hand
from nextpair.domain.sheet import PatternCard
from nextpair.planning.film_distance import FilmDistance
from outings import OTHER, line, outing, thrown

OURS = PatternCard("ours", 42.0, 24.0, 6.0, "challenge")
APART = FilmDistance(grip_ft=4.0, across_boards=0.8, oil_ml=3.0)


@pytest.mark.parametrize(
    ("theirs", "words"),
    [
        (
            {"length_ft": 39.0, "ratio": 3.1, "volume_ml": 26.0},
            "3 ft shorter, flatter: ratio 3.1 against 6.0, 2.0 mL more",
        ),
        ({"length_ft": 43.5}, "1.5 ft longer"),
        ({"ratio": 8.0}, "steeper: ratio 8.0 against 6.0"),
        ({"ratio": math.inf}, "steeper: ratio dry outside against 6.0"),
        ({"volume_ml": 22.9}, "1.1 mL less"),
        ({}, "as long, as flat and as much; its oil lies a little elsewhere"),
    ],
)
def test_differences_are_told_as_a_bowler_says_them(theirs, words):
    assert relative_words(replace(OURS, **theirs), OURS, APART) == words


def test_two_dry_outsides_are_no_steeper_than_each_other():
    dry = replace(OURS, ratio=math.inf)
    assert "ratio" not in relative_words(dry, dry, APART)
    assert relative_words(OURS, dry, APART) == "flatter: ratio 6.0 against dry outside"


def test_oil_that_lies_elsewhere_is_told_where_the_ratio_hides_it():
    apart = replace(APART, across_boards=2.2)
    assert relative_words(OURS, OURS, apart) == "its oil lies 2 boards elsewhere across"
    apart_by_one = replace(APART, across_boards=1.2)
    assert relative_words(OURS, OURS, apart_by_one) == "its oil lies 1 board elsewhere across"
    assert "elsewhere" not in relative_words(replace(OURS, ratio=3.0), OURS, apart)


def test_no_distance_is_the_same_film():
    assert relative_words(OURS, OURS, FilmDistance(0.0, 0.0, 0.0)) == "the same film"


def test_a_left_handers_line_is_told_by_boards_from_the_left():
    played = outing(hand=Hand.LEFT, lines=(line(12, 24, boards=(16.0, 23.0)),))
    assert "laid down on 24 over 17 at the arrows, counted from the left" in start_words(
        [played], ()
    )


def test_few_racks_are_said_to_be_few():
    few, many = line(FEW_RACKS // 2 - 1, FEW_RACKS - 1), line(FEW_RACKS // 2, FEW_RACKS)
    assert "which is few" in start_words([outing(lines=(few,))], ())
    assert "which is few" not in start_words([outing(lines=(many,))], ())


def test_without_lines_the_best_score_against_the_field_is_told():
    played = [
        outing(event="High", mean_pins=220.0, field_pins=-5.0),
        outing(event="Low", mean_pins=190.0, field_pins=12.0),
    ]
    assert start_words(played, ()) == "You know it: you averaged 190 over 6 games at Low."
    even = outing(event="Even", mean_pins=180.0, field_pins=0.0)
    assert start_words([played[0], even], ()).endswith("at Even.")
    theirs = [outing(is_own=False, bowler=OTHER)]
    assert f"{OTHER} averaged 200" in start_words(theirs, ())


def test_a_line_is_best_by_what_is_sure_of_it():
    # One strike in one, then 14 of 20, then 30 of 60: lucky ones are too few to be told.
    lucky = line(LEAST_RACKS - 1, LEAST_RACKS - 1, "Lucky")
    steady, worn = line(14, 20, "Steady"), line(30, 60, "Worn")
    played = outing(lines=(worn, lucky, steady))
    found = best_line([played])
    assert found is not None
    assert found[1].ball == "Steady"
    assert [one.ball for one in best_lines([played])] == ["Steady", "Worn"]
    assert best_line([outing(lines=(lucky,))]) is None


def test_balls_are_added_up_over_outings():
    told = best_balls(
        [
            outing(balls=(thrown(5, 10), thrown(4, 4, "Once"))),
            outing(balls=(thrown(7, 10), thrown(9, 10, "Osprey"))),
        ]
    )
    assert [(one.ball, one.strikes.made, one.strikes.tried) for one in told] == [
        ("Osprey", 9, 10),
        ("Kestrel", 12, 20),
    ]
