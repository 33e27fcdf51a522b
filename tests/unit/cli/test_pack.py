"""The packing list on the command line: by the kept kit and notes, private lines only if asked."""

from __future__ import annotations

import json
import shutil
from contextlib import closing
from dataclasses import replace

import pytest

from event_folder import DEMO
from nextpair.application.accounts import home_account
from nextpair.application.events import find_event
from nextpair.application.keeping import add_record
from nextpair.application.missing import missing_at
from nextpair.bootstrap import Program
from nextpair.cli.main import exit_code
from nextpair.domain.kit import Kit
from nextpair.domain.record import Kind
from nextpair.files import FilePapers
from nextpair.store.opening import open_store
from unit.reports.sheet_factory import a_sheet

STRAP = "quartz wrist band"


@pytest.fixture
def folder(tmp_path):
    """An event whose bowler wears something."""
    shutil.copytree(DEMO, tmp_path / "open", ignore=shutil.ignore_patterns("season"))
    bowler = tmp_path / "open" / "bowler.toml"
    text = bowler.read_text("utf-8").partition("[care]")[0]
    bowler.write_text(f'{text}\n[care]\nstraps = ["{STRAP}"]\n', "utf-8")
    return tmp_path / "open"


@pytest.fixture
def run(tmp_path, folder, capsys, monkeypatch):
    """Runs a command with a store of the test's own; exit code, output and errors."""
    monkeypatch.setattr(Program, "plan", lambda *_: a_sheet())

    def run(*words: str) -> tuple[int, str, str]:
        code = exit_code([*words, "--data-dir", str(tmp_path / "data")])
        return code, *capsys.readouterr()

    return run


@pytest.fixture
def event(folder):
    return str(folder / "event.toml")


def test_it_lists_numbers_and_reasons_and_makes_no_store(run, event, tmp_path):
    code, told, errors = run("pack", event)
    assert (code, errors) == (0, "")
    for words in (
        "Packing list: Samphire",
        "[ ] Kestrel",
        "TAKE CARE",
        "common practice",
    ):
        assert words in told
    assert not (tmp_path / "data").exists()


def test_private_lines_are_told_only_where_they_are_asked_for(run, event):
    assert STRAP not in run("pack", event)[1]
    assert STRAP not in run("pack", event, "--json")[1]
    assert STRAP in run("pack", event, "--private")[1]
    told = json.loads(run("pack", event, "--json", "--private")[1])
    assert [item["item"] for item in told["items"] if item["private"]] == [STRAP]


def test_a_kit_that_is_not_kept_is_refused(run, event):
    code, told, errors = run("pack", event, "--kit", "Away")
    assert (code, told) == (2, "")
    assert "kit: found 'Away'" in errors


def test_what_was_missing_needs_a_kept_event(run, event):
    code, _, errors = run("pack", event, "--missing", "Towel")
    assert code == 2
    assert "nextpair import" in errors


def test_what_was_missing_tops_the_list_of_a_later_event_and_a_kept_kit_joins(
    run, event, folder, tmp_path
):
    assert run("import", event)[0] == 0
    code, told, _ = run("pack", event, "--missing", "Chalk", "--missing", "laces")
    assert code == 0
    assert told.startswith("noted: missing at Samphire Scratch Singles: Chalk, laces")
    with closing(open_store(str(tmp_path / "data" / "nextpair.sqlite3"))) as store:
        account = home_account(store).id
        add_record(
            store, FilePapers(), account, Kind.KIT,
            {"name": "Away", "items": [{"item": "Folding chair", "why": "No seats."}]},
        )  # fmt: skip
        kept = find_event(store, account, "Samphire Scratch Singles")
        assert store.logged_events(account) == (kept.id,)
    before = json.loads(run("pack", event, "--json", "--kit", "away")[1])
    assert before["missing"] == [], "what was missing here is for the next list"
    assert "Folding chair" in {item["item"] for item in before["items"]}
    text = (folder / "event.toml").read_text("utf-8")
    later = text.replace("Samphire Scratch Singles", "Reed Open")
    (folder / "event.toml").write_text(later, "utf-8")
    after = json.loads(run("pack", event, "--json")[1])
    assert after["missing"] == ["Chalk", "Laces"]
    assert after["items"][0]["why"] == "Missing at Samphire Scratch Singles."


def test_what_is_private_stands_in_no_log(run, event):
    assert run("import", event)[0] == 0
    code, told, errors = run("pack", event, "--missing", STRAP)
    assert (code, told) == (2, "")
    assert STRAP not in errors


def test_bad_input_is_refused(run, folder):
    assert run("pack", str(folder / "none.toml"))[0] == 2
    with pytest.raises(Exception, match="case_limit_lb"):
        replace(Kit("Away"), case_limit_lb=1.0)


def test_of_several_missing_things_all_or_none_are_noted(run, event, tmp_path):
    assert run("import", event)[0] == 0
    assert run("pack", event, "--missing", "Chalk", "--missing", f"  {STRAP.upper()} ")[0] == 2
    assert run("pack", event, "--missing", "Chalk", "--missing", " ")[0] == 2
    with closing(open_store(str(tmp_path / "data" / "nextpair.sqlite3"))) as store:
        account = home_account(store).id
        log = store.log(account, find_event(store, account, "Samphire Scratch Singles").id)
    assert missing_at(log) == ()


def test_no_line_of_the_list_that_is_private_is_noted_as_missing(run, event, folder):
    bowler = folder / "bowler.toml"
    bowler.write_text(bowler.read_text("utf-8") + f'watch = ["{STRAP}  side"]\n', "utf-8")
    assert run("import", event)[0] == 0
    told = json.loads(run("pack", event, "--json", "--private")[1])
    private = [item["item"] for item in told["items"] if item["private"]]
    assert len(private) == 2
    for item in private:
        code, _, errors = run("pack", event, "--missing", item.lower())
        assert (code, STRAP in errors) == (2, False)


def test_a_pocket_is_packed_by_a_kit_that_is_kept(run, event):
    code, told, errors = run("pocket", event, "--kit", "Away")
    assert (code, told) == (2, "")
    assert "kit: found 'Away'" in errors


def test_an_event_that_was_made_at_home_is_known_by_name_day_and_bowler(
    run, event, folder, tmp_path
):
    assert run("import", event)[0] == 0
    with closing(open_store(str(tmp_path / "data" / "nextpair.sqlite3"))) as store:
        account = home_account(store).id
        there = find_event(store, account, "Samphire Scratch Singles")
        told = {**there.document, "name": "Reed Open "}
        made, _ = add_record(store, FilePapers(), account, Kind.EVENT, told)
    text = (folder / "event.toml").read_text("utf-8")
    (folder / "event.toml").write_text(
        text.replace("Samphire Scratch Singles", "Reed Open"), "utf-8"
    )
    assert run("pack", event, "--missing", "Rosin bag")[0] == 0
    assert json.loads(run("pack", event, "--json")[1])["missing"] == []
    with closing(open_store(str(tmp_path / "data" / "nextpair.sqlite3"))) as store:
        assert missing_at(store.log(account, made.id)) == ("Rosin bag",)
