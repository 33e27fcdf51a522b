"""What stands in for values that a file leaves out, and what else a file may leave to others."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

from event_folder import change, copy_of_demo
from nextpair.domain import typical
from nextpair.domain.ball import Cover, Role, Surface, Tool
from nextpair.domain.bowler import Hand, Style
from nextpair.domain.errors import InputRefusedError
from nextpair.domain.units import DEGREE_RAD, MPH_MPS, RPM_RADPS
from nextpair.files import load_event


@pytest.fixture
def folder(tmp_path):
    return copy_of_demo(tmp_path)


def load(folder):
    return load_event(folder / "event.toml")


def entrant(event, name):
    return next(entrant for entrant in event.squad if entrant.name == name)


def test_a_bowler_needs_only_name_hand_and_average(folder):
    (folder / "bowler.toml").write_text('name = "A"\nhand = "right"\naverage = 160\n', "utf-8")
    event = load(folder)
    assert event.bowler.release == typical.release_of(Style.ONE_HANDED)
    assert event.bowler.scatter == typical.scatter_of(160, event.bowler.release)
    assert event.bowler.reach == typical.reach_of(Hand.RIGHT, 6.5)
    told = [line.split(": ")[1] for line in event.guessed if line.startswith("bowler.toml")]
    assert told == [
        *("style", "speed_mph", "rev_rate_rpm", "axis_rotation_deg", "axis_tilt_deg"),
        *("pap_over_in", "pap_up_in", "slide_to_laydown_boards", "loft_in"),
        *("scatter.laydown_boards", "scatter.launch_angle_deg", "scatter.speed_mph"),
        "scatter.rev_rate_rpm",
        *("range.laydown_boards", "range.launch_angle_deg", "range.speed_change_mph"),
        "range.axis_rotation_change_deg",
    ]


def test_a_given_scatter_stands_beside_guessed_ones(folder):
    event = load(folder)
    scatter = event.bowler.scatter
    usual = typical.scatter_of(205, event.bowler.release)
    assert scatter.speed_mps == pytest.approx(0.36 * MPH_MPS)
    assert scatter.rev_rate_radps == usual.rev_rate_radps
    assert 0.03 * 365 < scatter.rev_rate_radps / RPM_RADPS < 0.05 * 365


def test_a_ball_needs_only_a_name_and_a_cover(folder):
    header = (folder / "locker.csv").read_text("utf-8").splitlines()[0]
    rows = "\n".join(f"{cover},,,,,{cover},,,,,,,,,,," for cover in Cover)
    (folder / "locker.csv").write_text(f"{header}\n{rows}\n", "utf-8")
    event = load(folder)
    balls = {ball.cover: ball for ball in event.locker}
    assert balls[Cover.PLASTIC].role is Role.SPARE
    assert balls[Cover.SOLID].role is Role.STRIKE
    assert balls[Cover.PLASTIC].surface.grit is None
    by_strength = [balls[cover].differential_m for cover in Cover]
    assert by_strength == sorted(by_strength)
    by_weakness = [balls[cover].rg_m for cover in Cover]
    assert by_weakness == sorted(by_weakness, reverse=True)
    assert "locker.csv: differential_in of solid" in event.guessed
    assert sum(line.startswith("locker.csv") for line in event.guessed) == 10 * len(Cover)


def locker_rows(folder, *rows: str) -> None:
    """A locker of these rows, without any column that they do not have."""
    header = "name,weight_lb,rg_in,differential_in,intermediate_in,cover,surface_grit,"
    header += "games_on_surface,pin_to_pap_in,drilling_angle_deg,val_angle_deg,role"
    header += ",surface_by,grit_before" * (rows[0].count(",") == 13)
    (folder / "locker.csv").write_text("\n".join((header, *rows)) + "\n", "utf-8")


def test_a_locker_without_a_word_on_tools_was_finished_on_a_spinner(folder):
    locker_rows(folder, "Kestrel,15,2.49,0.05,0.014,solid,1500,6,4.5,60,40,strike")
    event = load(folder)
    assert event.locker[0].surface == Surface(1500, 6)
    assert not [line for line in event.guessed if line.startswith("locker.csv")]


def test_work_by_hand_lies_on_what_was_there_before(folder):
    row = "{},15,2.49,0.05,0.014,solid,1500,6,4.5,60,40,strike,{}"
    locker_rows(
        folder,
        row.format("Told", "hand,3000"),
        row.format("Untold", "hand,"),
        row.format("Shined", "hand,polished"),
        row.format("Stepped", "spinner,500"),
    )
    event = load(folder)
    usual = typical.ball_of(Cover.SOLID).surface_grit
    assert [ball.surface for ball in event.locker] == [
        Surface(1500, 6, Tool.HAND, Surface(3000)),
        Surface(1500, 6, Tool.HAND, Surface(usual)),
        Surface(1500, 6, Tool.HAND, Surface(None)),
        Surface(1500, 6, Tool.SPINNER, Surface(500)),
    ]
    told = [line for line in event.guessed if line.startswith("locker.csv")]
    assert told == ["locker.csv: grit_before of Untold"]


def test_what_nobody_wrote_of_an_entrant_is_not_known(folder):
    change(folder, "squad.csv", "Dagny Lumb,right,two-handed,455,18.4,pearl", "Dagny Lumb,,,,,")
    event = load(folder)
    dagny = entrant(event, "Dagny Lumb")
    assert (dagny.hand, dagny.style, dagny.cover) == (None, None, None)
    assert (dagny.speed_mps, dagny.rev_rate_radps) == (None, None)
    assert (dagny.likely_hand, dagny.likely_cover) == (Hand.RIGHT, Cover.HYBRID)
    assert dagny.likely_release == typical.release_of(Style.ONE_HANDED)
    assert sum("Dagny Lumb" in line for line in event.guessed) == 5


def test_a_row_without_a_name_is_somebody(folder):
    with (folder / "squad.csv").open("a", encoding="utf-8") as squad:
        squad.write("17-18,,,,,,\n17-18,,,,,,\n19-20,,left,,,,\n")
    first, second, left = load(folder).squad[-3:]
    assert (str(first.pair), first.hand, left.hand) == ("17-18", None, Hand.LEFT)
    assert len({first.name, second.name, left.name}) == 3
    told = [line for line in load(folder).guessed if "somebody on 17-18" in line]
    assert told == [
        f"squad.csv: {key} of somebody on 17-18"
        for key in ("hand", "style", "rev_rate_rpm", "speed_mph", "cover")
    ]
    assert "squad.csv: hand of somebody on 19-20" not in load(folder).guessed


def test_a_two_handed_entrant_is_guessed_to_rev_more(folder):
    event = load(folder)
    one, two = entrant(event, "Rufina Dace"), entrant(event, "Magnus Elverby")
    assert two.likely_release.rev_rate_radps > one.likely_release.rev_rate_radps


def earlier_squad(folder, keys: str) -> None:
    rows = "pair,name,hand,style,rev_rate_rpm,speed_mph,cover\n13-14,Early Bird,left,,,,\n"
    (folder / "squad-a.csv").write_text(rows, "utf-8")
    table = f'[[earlier_squad]]\nsquad = "squad-a.csv"\n{keys}\n[money]'
    change(folder, "event.toml", "[money]", table)


def test_an_earlier_squad_bowls_as_the_event_unless_its_table_says_otherwise(folder):
    assert load(folder).earlier == ()
    earlier_squad(folder, "")
    event = load(folder)
    (block,) = event.earlier
    assert [person.name for person in block.entrants] == ["Early Bird"]
    assert (block.games, block.practice_s, block.move_pairs) == (
        event.games,
        event.practice_s,
        event.move_pairs,
    )
    assert "squad-a.csv: speed_mph of Early Bird" in event.guessed


def test_an_earlier_squad_may_have_its_own_games_practice_and_move(folder):
    earlier_squad(folder, "games = 3\npractice_minutes = 0\nmove_pairs = -1")
    (block,) = load(folder).earlier
    assert (block.games, block.practice_s, block.move_pairs) == (3, 0.0, -1)


@pytest.mark.parametrize(
    ("keys", "place"),
    [
        ("games = 0", "earlier_squad 1: games"),
        ("practice_minutes = 500", "earlier_squad 1: practice_minutes"),
        ("pairs = 2", "earlier_squad 1: pairs"),
    ],
)
def test_an_earlier_squad_that_cannot_be_is_refused_with_its_place(folder, keys, place):
    earlier_squad(folder, keys)
    with pytest.raises(InputRefusedError) as refused:
        load(folder)
    (problem,) = refused.value.problems
    assert problem.place == place


def test_the_bowlers_own_row_is_filled_from_their_own_file(folder):
    change(folder, "squad.csv", "Tolvane,right,one-handed,365,17.4,hybrid", "Tolvane,,,,,hybrid")
    event = load(folder)
    own = entrant(event, "Maren Tolvane")
    assert own.speed_mps == event.bowler.release.speed_mps
    assert own.rev_rate_radps == event.bowler.release.rev_rate_radps
    assert own.hand is event.bowler.hand
    assert not any("Maren" in line for line in event.guessed)


def test_rules_house_and_oil_that_nobody_told(folder):
    change(folder, "event.toml", "practice_minutes = 12\nball_limit = 6\n", "")
    change(folder, "event.toml", 'surface_changes = "before"\n', "")
    change(folder, "pattern.toml", "viscosity_cp = 34\n", "")
    (folder / "house.toml").write_text('name = "H"\nlanes = 28\n', "utf-8")
    event = load(folder)
    assert event.ball_limit is None
    assert event.practice_s == typical.PRACTICE_S
    assert event.left_pattern.viscosity_pas == pytest.approx(0.035)
    assert event.guessed[:7] == (
        "event.toml: practice_minutes",
        "event.toml: surface_changes",
        "house.toml: surface",
        "house.toml: surface_age_years",
        "house.toml: pinfall",
        "house.toml: temperature_c",
        "pattern.toml: viscosity_cp",
    )


def test_an_event_without_money_costs_nothing(folder):
    text = (folder / "event.toml").read_text("utf-8")
    (folder / "event.toml").write_text(text.split("[money]")[0], "utf-8")
    money = load(folder).money
    assert (money.entry_fee, money.entries, money.prizes) == (Decimal(0), 28, ())


def test_entries_left_out_are_the_squad(folder):
    change(folder, "event.toml", "entries = 84\n", "")
    event = load(folder)
    assert event.money.entries == 28
    assert "event.toml: money.entries" in event.guessed


def test_a_pair_may_carry_two_patterns(folder):
    text = (folder / "pattern.toml").read_text("utf-8")
    (folder / "right.toml").write_text(re.sub('name = ".*"', 'name = "Other"', text), "utf-8")
    change(
        folder,
        "event.toml",
        'pattern = "pattern.toml"',
        'left_pattern = "pattern.toml"\nright_pattern = "right.toml"',
    )
    event = load(folder)
    assert event.pattern_of(13).name == "Slow Estuary 41"
    assert event.pattern_of(14).name == "Other"


def test_columns_and_blank_lines_may_stand_anywhere(folder):
    squad = [line.split(",") for line in (folder / "squad.csv").read_text("utf-8").splitlines()]
    turned = "\r\n\r\n".join(",".join(f" {cell} " for cell in reversed(row)) for row in squad)
    before = load(folder)
    (folder / "squad.csv").write_bytes(b"\xef\xbb\xbf" + turned.encode())
    assert load(folder).squad == before.squad


def test_a_left_hander_reaches_the_mirrored_boards(folder):
    (folder / "bowler.toml").write_text('name = "A"\nhand = "left"\naverage = 200\n', "utf-8")
    change(folder, "squad.csv", "Tolvane,right", "Tolvane,left")
    low, high = load(folder).bowler.reach.laydown_boards
    right_low, right_high = typical.reach_of(Hand.RIGHT, 6.5).laydown_boards
    assert (low, high) == (40 - right_high, 40 - right_low)


def test_neighbours_may_lie_in_another_folder_or_be_named_in_full(folder, tmp_path):
    (folder / "house.toml").rename(tmp_path / "shared.toml")
    (folder / "squad.csv").rename(tmp_path / "s.csv")
    change(folder, "event.toml", '"house.toml"', '"../shared.toml"')
    change(folder, "event.toml", '"squad.csv"', f'"{tmp_path / "s.csv"}"')
    event = load(folder)
    assert event.house.name == "Quernstone Lanes"
    assert event.bowler.scatter.launch_angle_rad == pytest.approx(0.26 * DEGREE_RAD)
