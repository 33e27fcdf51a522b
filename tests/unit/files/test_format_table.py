"""How an event is decided, as event.toml says it."""

from __future__ import annotations

import pytest

from event_folder import change, copy_of_demo, problems_of
from nextpair.domain.format import (
    Counting,
    HandicapRule,
    PinsTaken,
    Rounding,
    Stage,
    StageKind,
)
from nextpair.files import load_event

MONEY = "\n[money]\n"
STAGES = """
[[stage]]
kind = "block"
entrants = 20
games = 4
pins = "carried"

[[stage]]
kind = "step-ladder"
entrants = 5
"""


@pytest.fixture
def folder(tmp_path):
    folder = copy_of_demo(tmp_path)
    path = folder / "event.toml"
    text = path.read_text("utf-8")
    before, _, money = text.partition(MONEY)
    path.write_text(before.partition("\n[[stage]]")[0] + MONEY + money, "utf-8")
    return folder


def write(folder, words: str) -> None:
    change(folder, "event.toml", MONEY, f"{words}{MONEY}")


def told(folder) -> list[tuple[str, str, str]]:
    return [(problem.place, problem.found, problem.allowed) for problem in problems_of(folder)]


def test_an_event_that_says_nothing_ends_with_its_games(folder):
    event = load_event(folder / "event.toml")
    assert event.format.stages == ()
    assert event.format.handicap is None
    assert event.format.counting is Counting.TRADITIONAL
    assert event.cut_to == event.money.cut_to == 20


def test_stages_follow_one_another(folder):
    write(folder, STAGES)
    assert load_event(folder / "event.toml").format.stages == (
        Stage(StageKind.BLOCK, 20, 4, PinsTaken.CARRIED),
        Stage(StageKind.STEP_LADDER, 5, 1, PinsTaken.RESET, 30, 15),
    )


def test_the_first_stage_is_the_cut(folder):
    write(folder, STAGES)
    change(folder, "event.toml", "cut_to = 20\n", "")
    assert load_event(folder / "event.toml").cut_to == 20


def test_a_handicap_may_be_capped_and_rounded(folder):
    rule = '\n[handicap]\nbase = 220\npercent = 90\nrounding = "half-up"\nmost = 60\n'
    write(folder, rule)
    change(folder, "event.toml", "\n[handicap]", '\ncounting = "current-frame"\n\n[handicap]')
    found = load_event(folder / "event.toml").format
    assert found.handicap == HandicapRule(220, 90, Rounding.HALF_UP, 60)
    assert found.counting is Counting.CURRENT_FRAME


@pytest.mark.parametrize(
    ("before", "after", "place", "found", "allowed"),
    [
        ("entrants = 20", "entrants = 24", "stage 1: entrants", "24", "20, as money.cut_to says"),
        ("entrants = 5", "entrants = 21", "stage 2: entrants", "21", "as in the stage before"),
        ("entrants = 5", "entrants = 1", "stage 2: entrants", "1", "2 to 1024 entrants"),
        ("games = 4", "games = 0", "stage 1: games", "0", "1 to 24 games"),
        ('kind = "block"', 'kind = "ladder"', "stage 1: kind", "'ladder'", "step-ladder"),
        ('"carried"', '"kept"', "stage 1: pins", "'kept'", "carried"),
        ("games = 4", "game = 4", "stage 1: game", "an unknown key", "games"),
    ],
)
def test_a_wrong_stage_is_told_where_it_is(folder, before, after, place, found, allowed):
    write(folder, STAGES.replace(before, after))
    problems = told(folder)
    assert [(at, what) for at, what, _ in problems] == [(place, found)]
    assert allowed in problems[0][2]


def test_no_more_go_on_than_have_entered(folder):
    write(folder, STAGES)
    change(folder, "event.toml", "cut_to = 20\n", "")
    change(folder, "event.toml", "entries = 84", "entries = 12")
    assert told(folder) == [("stage 1: entrants", "20", "at most 12, the entries of the event")]


@pytest.mark.parametrize(
    ("words", "place"),
    [
        ("base = 301\npercent = 90", "handicap.base"),
        ("base = 220\npercent = 201", "handicap.percent"),
        ("base = 220", "handicap.percent"),
        ('base = 220\npercent = 90\nrounding = "up"', "handicap.rounding"),
        ("base = 220\npercent = 90\nmost = -1", "handicap.most"),
    ],
)
def test_a_wrong_handicap_is_told_where_it_is(folder, words, place):
    write(folder, f"\n[handicap]\n{words}\n")
    assert [at for at, _, _ in told(folder)] == [place]
