"""Houses on the command line."""

from __future__ import annotations

import json
from contextlib import closing
from datetime import date
from pathlib import Path
from uuid import UUID, uuid4

import pytest

from event_folder import copy_of_demo
from nextpair.application.accounts import home_account
from nextpair.application.events import find_event
from nextpair.application.house_book import add_visit
from nextpair.application.lessons import decide
from nextpair.cli.main import exit_code
from nextpair.domain.debrief import DebriefFinding
from nextpair.domain.house_book import Learned, Visit
from nextpair.domain.lesson import Change, ChangeKind
from nextpair.domain.record import Kind
from nextpair.store.opening import open_store

EVENT = "Samphire Scratch Singles"


@pytest.fixture
def place(tmp_path) -> Path:
    """A store's folder."""
    return tmp_path / "data"


@pytest.fixture
def run(place, capsys):
    """Runs commands on a store of the test's own; exit code, output and errors."""

    def run(*arguments: object) -> tuple[int, str, str]:
        words = [str(argument) for argument in arguments]
        code = exit_code([*words, "--data-dir", str(place)])
        return code, *capsys.readouterr()

    return run


@pytest.fixture
def house(run, place, tmp_path) -> str:
    """The name of the bundled event's house, kept with a visit that told of its friction."""
    folder = copy_of_demo(tmp_path)
    (folder / "shots.csv").unlink()
    run("import", folder / "event.toml")
    with closing(open_store(place / "nextpair.sqlite3")) as store:
        account = home_account(store).id
        [record] = store.records(account, Kind.HOUSE)
        learned = Learned("dry_log", 0.0, 0.07, 0.06, 0.02)
        for day, private in ((2, False), (9, True)):
            visit = Visit(
                uuid4(),
                date(2026, 5, day),
                event="Spring Tide Open",
                pattern="Long Tide 43",
                games=6,
                pins=1233,
                notes="a draught by the door",
                learned=(learned,),
                private=private,
            )
            add_visit(store, account, record.id, visit)
    return record.name


def test_nothing_is_kept_at_first(run):
    assert run("house")[:2] == (
        0,
        "No house is kept: keep one with an event, by nextpair import, or take in a shared one.\n",
    )


def test_houses_are_listed_and_looked_for(run, house):
    code, told, _ = run("house")
    assert code == 0
    assert house in told
    assert "2 visits, last 9 May 2026" in told
    assert "a draught by the door" in run("house", "--search", "draught")[1]
    assert run("house", "--search", "spinner")[1].startswith("No house that is kept is as wanted")
    assert run("house", "--lanes", "199")[1].startswith("No house that is kept is as wanted")
    [card] = json.loads(run("house", "--pattern", "tide", "--json")[1])["houses"]
    assert (card["name"], card["visits"], card["patterns"][0]["games"]) == (house, 2, 12)


def test_a_choice_that_is_none_is_refused_with_those_that_are(run, house):
    code, told, errors = run("house", "--approach", "icy")
    assert (code, told) == (2, "")
    assert "tacky, medium, slick" in errors


def test_the_book_of_a_house_is_told(run, house):
    code, told, _ = run("house", house)
    assert code == 0
    for words in (
        "Long Tide 43: 2 visits, 12 games, 205.5 a game",
        "9 May 2026, Spring Tide Open  (private)",
        "a draught by the door",
        "1.06 (1.03 to 1.09)",
        "An estimate",
    ):
        assert words in told
    book = json.loads(run("house", house, "--json")[1])
    assert [visit["date"] for visit in book["visits"]] == ["2026-05-09", "2026-05-02"]
    assert len(book["friction"]["house"]["visits"]) == 2


def test_friction_is_accepted_into_the_file(run, house):
    before = json.loads(run("house", house, "--json")[1])
    after = json.loads(run("house", house, "--accept", "--json")[1])
    assert before["house"].get("friction", 1.0) == 1.0
    assert after["house"]["friction"] == before["friction"]["house"]["factor"]
    assert after["friction"]["house"]["factor"] == before["friction"]["house"]["factor"]


def test_a_house_goes_to_another_store_by_a_file(run, house, place, tmp_path, capsys):
    file = tmp_path / "shared.toml"
    assert run("house", house, "--share", file)[:2] == (0, f"wrote {file}\n")
    other = str(tmp_path / "other")
    assert exit_code(["house", "--take-in", str(file), "--data-dir", other]) == 0
    assert capsys.readouterr().out == f"{house} is kept: 1 new visit, 0 corrected.\n"
    again = ["house", "--take-in", str(file), "--json", "--data-dir", other]
    assert exit_code(again) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["is_new"], told["new_visits"]) == (False, 0)
    assert UUID(told["id"])


def test_a_shared_file_that_is_none_is_refused_with_its_name(run, tmp_path):
    file = tmp_path / "odd.toml"
    file.write_text("[house]\nname = 3\n")
    code, told, errors = run("house", "--take-in", file)
    assert (code, told) == (2, "")
    assert errors.startswith("nextpair: ")
    assert "name" in errors


def test_the_visit_of_an_event_is_written_into_its_house(run, house):
    told = run("house", "--visit", EVENT)[1]
    assert f"17 October 2026, {EVENT}" in told
    run("house", "--visit", EVENT)
    book = json.loads(run("house", house, "--json")[1])
    assert [visit["date"] for visit in book["visits"]].count("2026-10-17") == 1


def test_no_visit_is_kept_where_the_shared_file_cannot_be_written(run, house, tmp_path):
    taken = tmp_path / "taken"
    taken.write_text("a file where a folder is wanted", "utf-8")
    before = run("house", house, "--json")
    code, out, told = run("house", "--visit", EVENT, "--share", taken / "house.toml")
    assert (code, out) == (2, "")
    assert "allowed: a file name in a folder that can be written" in told
    assert run("house", house, "--json") == before


@pytest.mark.parametrize("option", [("--share", "house.toml"), ("--accept",)])
def test_what_is_done_to_one_house_asks_for_its_name(run, house, option):
    code, told, errors = run("house", *option)
    assert (code, told) == (2, "")
    assert f"{option[0]}: found 'no NAME'" in errors


def test_what_debriefs_found_there_stands_in_the_book(run, place, house):
    with closing(open_store(place / "nextpair.sqlite3")) as store:
        account = home_account(store).id
        event = find_event(store, account, EVENT).id
        for kind, of, words in (
            (ChangeKind.HOUSE_NOTE, house.upper(), "Less oil than planned."),
            (ChangeKind.HOUSE_NOTE, "Another Bowl", "More of it."),
            (ChangeKind.DRILL, house, "Spares were worse."),
        ):
            change = Change(kind, "Write it down.", house=of)
            finding = DebriefFinding(words, words, (words,), None, 0.9, change)
            decide(store, account, event, finding, accepted=True)
    told = run("house", house)[1]
    assert "FOUND BY DEBRIEFS" in told
    assert f"{EVENT}, 17 October 2026: Less oil than planned." in " ".join(told.split())
    [lesson] = json.loads(run("house", house, "--json")[1])["lessons"]
    assert lesson == {"words": "Less oil than planned.", "event": EVENT, "date": "2026-10-17"}


@pytest.mark.parametrize(
    "options",
    [
        ("A House", "--surface", "wood"),
        ("A House", "--take-in", "house.toml"),
        ("A House", "--visit", EVENT),
        ("A House", "--share", "new.toml", "--accept"),
        ("A House", "--share", "new.toml", "--json"),
        ("--visit", EVENT, "--lanes", "4"),
        ("--share", "new.toml", "--take-in", "house.toml"),
    ],
)
def test_what_would_be_passed_over_is_refused(run, place, options):
    code, told, errors = run("house", *options)
    assert (code, told) == (2, "")
    assert len(errors.splitlines()) == 1
    assert errors.endswith(" too', allowed: one of them\n")
    assert not place.exists()


def test_a_shared_house_that_is_not_there_is_told_once(run, tmp_path):
    code, told, errors = run("house", "--take-in", tmp_path / "nowhere.toml")
    assert (code, told) == (2, "")
    assert errors.count("\n") == 1
    assert "no such file" in errors


@pytest.mark.parametrize("number", ["friction = nan", "length_ft = inf"])
@pytest.mark.parametrize("table", ["house", "visit"])
def test_a_number_that_is_none_in_a_shared_house_is_refused_in_one_line(
    run, tmp_path, number, table
):
    shared = {"house": 'name = "Tern Hollow"\nlanes = 12\n', "visit": "date = 2026-06-13\n"}
    shared["visit"] += 'id = "0b7a9f6e-0f4b-4b8e-9d53-3e3a54c1a001"\n'
    shared[table] += number.replace("length_ft", "temperature_c") if table == "house" else number
    file = tmp_path / "shared.toml"
    file.write_text(f"[house]\n{shared['house']}\n[[visit]]\n{shared['visit']}\n", "utf-8")
    code, told, errors = run("house", "--take-in", file)
    assert (code, told) == (2, "")
    assert errors.count("\n") == 1
    assert "a number that is not infinite" in errors
    assert run("house", "--json")[1] == '{"houses": []}\n'
