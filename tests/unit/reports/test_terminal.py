"""What a terminal shows: within its width, plain when piped, and mirrored for a left-hander."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from nextpair.reports.carry_text import render_carry_text
from nextpair.reports.film_text import SHADES, render_film_text
from nextpair.reports.ink import Ink, fitted
from nextpair.reports.palette import FILM_STEPS_UNITS
from nextpair.reports.path_text import render_path_text, render_paths_text
from nextpair.reports.sheet_text import render_bag_text, render_sheet_text
from unit.reports.carry_factory import a_carry_map
from unit.reports.sheet_factory import a_film_card, a_path, a_sheet

ESCAPE = re.compile(r"\x1b\[[0-9;]*m")
RENDERED = {
    "sheet": lambda columns, colour: render_sheet_text(a_sheet(), columns, colour=colour),
    "sheet, left": lambda columns, colour: render_sheet_text(
        a_sheet("left"), columns, colour=colour
    ),
    "bag": lambda columns, colour: render_bag_text(a_sheet(), columns, colour=colour),
    "film": lambda columns, colour: render_film_text(a_film_card(), columns, colour=colour),
    "path": lambda columns, colour: render_path_text(a_path(), columns, colour=colour),
    "gutter": lambda columns, colour: render_path_text(
        a_path("left", reaches_pins=False), columns, colour=colour
    ),
    "carry": lambda columns, colour: render_carry_text(a_carry_map(), columns, colour=colour),
    "impact, left": lambda columns, colour: render_carry_text(
        a_carry_map("left", impact=(2.5, 4.0)), columns, colour=colour
    ),
}


@pytest.mark.parametrize("name", RENDERED)
@pytest.mark.parametrize("columns", [40, 80, 88, 100, 200])
def test_lines_fit_80_to_100_columns(name, columns):
    widest = max(len(line) for line in RENDERED[name](columns, False).splitlines())
    assert widest <= min(max(columns, 80), 100)


@pytest.mark.parametrize("name", RENDERED)
def test_plain_text_has_no_escapes_and_colour_adds_nothing_else(name):
    plain, coloured = RENDERED[name](80, False), RENDERED[name](80, True)
    assert "\x1b" not in plain
    assert "\x1b" in coloured
    assert ESCAPE.sub("", coloured) == plain


@pytest.mark.parametrize("name", RENDERED)
def test_text_is_ready_for_any_terminal(name):
    text = RENDERED[name](80, False)
    assert text.isascii()
    assert text.endswith("\n")
    assert not text.endswith("\n\n")


def test_every_game_stands_on_the_sheet_with_its_line_and_reasons():
    sheet = a_sheet()
    text = " ".join(render_sheet_text(sheet).split())
    for game in sheet.games:
        assert f"GAME {game.game} lanes {game.pair} {game.ball} @ {game.surface_grit}" in text
        for reason in game.why:
            assert reason in text
    assert "feet 31 -> target 17 at the arrows -> breakpoint 9 at 42 ft, 17.6 mph" in text
    for words in (*sheet.guessed, *sheet.cautions, sheet.second_opinion):
        assert words in text


def test_lanes_whose_lines_differ_are_both_told_at_a_glance():
    sheet = a_sheet(games=1)
    (game,) = sheet.games
    right = replace(game.lanes[1].line, slide_board=36.0, target_board=21.0)
    apart = replace(game, lanes=(game.lanes[0], replace(game.lanes[1], line=right)))
    glance = render_sheet_text(replace(sheet, games=(apart,))).split("AT A GLANCE")[1]
    rows = glance.split("BAG")[0].splitlines()[2:4]
    assert re.search(r"1 13-14 .* 31 +17 +9 at 42 ft", rows[0])
    assert re.search(r"^ +lane 14 +36 +21 +9 at 42 ft", rows[1])
    assert rows[0].index("17  ") == rows[1].index("21  ")
    twins = replace(game, lanes=(game.lanes[0], replace(game.lanes[0], lane=14)))
    assert "lane 14" not in render_sheet_text(replace(sheet, games=(twins,))).split("BAG")[0]


def test_a_left_handers_sheet_is_the_right_handers_in_a_mirror():
    right, left = (render_sheet_text(a_sheet(hand)) for hand in ("right", "left"))
    assert "boards count from the LEFT edge" in left
    moves = re.compile(r"(?m)^  Move .*$")
    assert moves.sub("", right).split("PATTERN")[1] == moves.sub("", left).split("PATTERN")[1]
    swapped = [line.replace("left", "right") for line in moves.findall(right)]
    assert moves.findall(left) == swapped
    assert any("left" in line for line in moves.findall(right))


def test_the_bag_tells_costs_and_what_stays_at_home():
    lines = render_bag_text(a_sheet()).splitlines()
    assert any(re.search(r"Kestrel @ 2000 +1\.8 +0\.9  Strike ball", line) for line in lines)
    home = lines.index("  stays at home")
    assert lines[home + 1] == "  Nothing the Kestrel does not do: Paper Crown @ 1500."
    assert not any("GAME" in line for line in lines)


def test_long_reasons_hang_under_themselves():
    lines = Ink(80, colour=False).labelled("Why", "word " * 40)
    assert len(lines) > 2
    assert lines[0].startswith("  Why       word")
    assert all(re.match(r" {12}word", line) for line in lines[1:])


def test_words_with_hyphens_stay_whole():
    lines = Ink(80, colour=False).labelled("Why", "x" * 60 + " right-handers")
    assert lines[1].strip() == "right-handers"


def test_long_names_are_cut_to_their_column():
    assert fitted("Kestrel", 10) == "Kestrel   "
    assert fitted("A name beyond its column", 10) == "A name ..."


def test_the_film_picture_shows_the_lane_as_seen_with_numbers_beside():
    lines = render_film_text(a_film_card()).splitlines()
    rows = {int(line[:5]): line for line in lines if re.match(r" +\d+  ", line)}
    assert list(rows) == sorted(rows, reverse=True), "pins at the top"
    assert set(rows[26][7:46]) <= set(SHADES)
    assert rows[26][46:].split() == ["0", "4", "12", "12", "12", "12", "12", "4", "4", "0"]
    assert len(SHADES) == len(FILM_STEPS_UNITS) + 1


def test_odds_from_beyond_the_simulated_racks_say_so():
    beyond = " ".join(render_path_text(replace(a_path(), carry_in_range=False)).split())
    assert "no racks were rolled for such a hit or ball" in beyond
    for card in (a_path(), a_path(reaches_pins=False)):
        assert "no racks" not in render_path_text(card)


def test_a_path_is_told_by_its_phases_from_the_bowlers_side():
    right, left = render_path_text(a_path()), render_path_text(a_path("left"))
    for text in (right, left):
        assert re.search(r"Laydown +board 24\.5, 2\.4 degrees", text)
        assert re.search(r"Breakpoint +board 9 at 42 ft", text)
        assert re.search(r"Skid +to 32 ft", text)
        assert re.search(r"Leaves +10 \(14 %\), 4 \(5 %\)", text)
        assert "2-8-10 (under 1 %)" in text

    def boards(text: str) -> str:
        return text.split("\nAT, ")[1].split("WHAT MOVES")[0]

    assert boards(right) == boards(left)


def test_a_gutter_ball_says_where():
    text = render_path_text(a_path(reaches_pins=False))
    assert re.search(r"End +gutter on the bowler's side at 38 ft", text)
    assert re.search(r"Pins +not reached", text)
    assert "Strike" not in text
    assert "Leaves" not in text


def test_what_moves_a_shot_is_said_in_the_bowlers_left_and_right():
    right, left = (
        " ".join(render_path_text(a_path(hand)).split("WHAT MOVES")[1].split())
        for hand in ("right", "left")
    )
    assert "1 mph slower 4.1 boards left 0.3 degrees steeper" in right
    assert "feet 1 left, same target 2.4 boards right 0.3 degrees flatter" in right
    assert "cover made fresh at 1000 3.2 boards left same angle" in right
    assert "left is high for you, right is light" in right
    assert "1 mph slower 4.1 boards right 0.3 degrees steeper" in left
    assert "feet 1 right, same target 2.4 boards left 0.3 degrees flatter" in left
    assert "right is high for you, left is light" in left


def test_the_ball_is_told_at_the_distances_asked_for():
    text = render_path_text(a_path())
    assert re.search(r"^ +15 +\d+\.\d +-2\.1 +17\.2  skid$", text, re.MULTILINE)
    assert re.search(r"^ +45 .* 15\.8  hook$", text, re.MULTILINE)
    assert "AT," not in render_path_text(replace(a_path(), stations=()))


def test_several_balls_stand_one_after_another_by_letter():
    shots = [a_path(), replace(a_path(), ball="Saltmarsh")]
    text = render_paths_text(shots)
    assert text.startswith("A  Kestrel @ 2000 on lane 13\n")
    assert "\nB  Saltmarsh @ 2000 on lane 13\n" in text
    assert render_paths_text(shots[:1]) == render_path_text(a_path())


def test_what_to_mind_is_said_once_for_several_balls():
    card = replace(a_path(), cautions=("Wear a mask.",))
    assert render_paths_text([card, card, card]).count("Wear a mask.") == 1
    assert render_paths_text([card]).count("TAKE CARE") == 1
    assert "TAKE CARE" not in render_path_text(a_path())


def test_the_table_of_strikes_has_the_chances_of_its_boards_and_angles():
    carry = a_carry_map()
    lines = [line.split() for line in render_carry_text(carry).splitlines()]
    assert ["board", "1", "4", "6", "degrees"] in lines
    for board, chances in zip(
        carry.head_pin_boards, carry.strike_probability_by_board, strict=True
    ):
        assert [f"{board:g}", *(f"{100 * chance:.0f}" for chance in chances)] in lines
    assert ["90", "up", "0.5", "1.0", "1.5", "boards", "wide"] in lines


def test_the_ladder_tells_each_impact_with_its_leaves():
    carry = a_carry_map()
    text = " ".join(render_carry_text(carry).split())
    for rung in carry.ladder:
        assert f"{rung.name}, board {rung.head_pin_board:g} " in text
        for impact in rung.impacts:
            told = [f"{pins} {100 * chance:.0f}" for pins, chance in impact.leaves]
            assert (
                f"{impact.entry_angle_deg:g} {impact.offset_board:.1f} "
                f"{100 * impact.strike_probability:.0f} {impact.mean_pins:.1f}" in text
            )
            assert impact.strike_probability > 0.98 or told[0] in text


def test_one_impact_is_told_with_its_standard_error():
    carry = a_carry_map(impact=(2.5, 4.0))
    assert carry.impact is not None
    told = f"Strike {100 * carry.impact.strike_probability:.0f} % (standard error 1.2 %)"
    assert told in " ".join(render_carry_text(carry).split())


def test_carry_counts_from_a_left_handers_side():
    right, left = (
        " ".join(render_carry_text(a_carry_map(hand, impact=(2.5, 4.0))).split())
        for hand in ("right", "left")
    )
    assert "2.5 boards right of the head pin: board 17.9 level with it, 17.5 at contact" in right
    assert "2.5 boards left of the head pin: board 17.9 level with it, 17.5 at contact" in left
    assert "4-9 (" in right
    assert "6-8 (" in left
    assert "LEFT edge" in left


def test_pins_on_strings_are_named_above_the_table_and_free_ones_are_not():
    free, strung = (render_carry_text(a_carry_map(pinfall=how)) for how in ("free", "string"))
    assert strung.splitlines()[0] == "14.5 lb at 16.5 mph, at the pins, pins on strings"
    assert "strings" not in free
    assert strung.splitlines()[1:] == free.splitlines()[1:]
