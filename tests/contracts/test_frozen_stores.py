"""Stores of every earlier schema, opened by the program of today: nothing of them is lost."""

from __future__ import annotations

import json
import shutil
from contextlib import closing
from itertools import pairwise
from pathlib import Path
from uuid import uuid4

import pytest
import sqlalchemy as sa
from alembic.config import Config
from alembic.script import ScriptDirectory
from sqlalchemy import make_url, text

from contracts.conftest import told
from contracts.frozen_stores import (
    FROZEN,
    frozen_schemas,
    text_of,
    thaw_into_file,
    thaw_into_server,
    told_of,
)
from contracts.things import NOON, account
from nextpair.application import jobs
from nextpair.application.accounts import find_account, home_account
from nextpair.application.archive import archive_of, unpack
from nextpair.application.demo_season import kept_events
from nextpair.application.events import bundle_of
from nextpair.application.jobs import Jobs, inputs_of, is_stale
from nextpair.application.shot_jottings import logged_shots
from nextpair.domain.belief import Read
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.sharing import Share
from nextpair.domain.sheet import Sheet
from nextpair.domain.spare import SpareSheet
from nextpair.files import FilePapers
from nextpair.files.results import result_of
from nextpair.reports.sheet_json import render_sheet_json
from nextpair.store import schema
from nextpair.store.engine import database_url, open_engine, writing
from nextpair.store.memory import MemoryStore
from nextpair.store.opening import open_store
from served import IdleHands

RESULTS = {"sheet": Sheet, "spares": SpareSheet, "read": Read}


def migrations(folder: Path = schema.MIGRATIONS) -> list[str]:
    """Every schema there was, first one first."""
    config = Config()
    config.set_main_option("script_location", str(folder))
    config.set_main_option("path_separator", "os")
    return [one.revision for one in ScriptDirectory.from_config(config).walk_revisions()][::-1]


def unfrozen(folder: Path) -> list[str]:
    """Schemas before the newest of which no store is frozen."""
    earlier = [one for one, _ in pairwise(migrations(folder))]
    return [one for one in earlier if one not in frozen_schemas()]


@pytest.fixture(params=["sqlite", "postgresql"])
def thawed(request, tmp_path):
    """Where a store of the schema that is asked for lies, in each kind of database."""
    if request.param == "sqlite":
        path = tmp_path / "store.sqlite3"

        def thaw(number: str) -> str:
            thaw_into_file(number, path)
            return str(path)

        return thaw
    url = make_url(request.getfixturevalue("server_url"))

    def thaw_on_server(number: str) -> str:
        for words in ("DROP DATABASE IF EXISTS thawed", "CREATE DATABASE thawed"):
            told(url, words, autocommit=True)
        place = url.set(database="thawed").render_as_string(hide_password=False)
        thaw_into_server(number, place)
        return place

    return thaw_on_server


def lost(before, now, place=""):
    """What a program told before, and does not tell now; new keys are no loss."""
    if isinstance(before, dict) and isinstance(now, dict):
        missing = [f"{place}.{key}" for key in before if key not in now]
        return missing + [
            one for key in before if key in now
            for one in lost(before[key], now[key], f"{place}.{key}")
        ]  # fmt: skip
    if isinstance(before, list) and isinstance(now, list) and len(before) == len(now):
        pairs = enumerate(zip(before, now, strict=True))
        return [one for at, (a, b) in pairs for one in lost(a, b, f"{place}[{at}]")]
    return [] if before == now else [f"{place}: {before!r} was, {now!r} is"]


def test_a_store_of_every_schema_before_the_newest_is_frozen():
    """Add a migration, and this asks for the store before it: tools/frozen_store.py."""
    assert migrations()[-1] == schema.NEWEST
    assert unfrozen(schema.MIGRATIONS) == []
    for number in frozen_schemas():
        for ending in ("sqlite.sql.xz", "postgresql.sql.xz", "snapshot.json.xz"):
            assert (FROZEN / f"{number}_{ending}").is_file()


@pytest.mark.parametrize("number", frozen_schemas())
def test_what_is_frozen_is_of_that_schema_and_holds_something_of_everything(number, tmp_path):
    path = tmp_path / "store.sqlite3"
    thaw_into_file(number, path)
    engine = open_engine(database_url(path))
    with engine.connect() as connection:
        found = connection.execute(text(f"SELECT version_num FROM {schema.VERSION_TABLE}"))
        assert found.scalar() == number
        for table in ("account", "record", "revision", "link", "jotting", "result", "job"):
            assert connection.execute(text(f'SELECT COUNT(*) FROM "{table}"')).scalar() > 0
    engine.dispose()


def test_shares_and_links_are_frozen_from_the_schema_on_that_has_them():
    for number in frozen_schemas()[1:]:
        before = json.loads(text_of(number, "snapshot.json.xz"))
        assert {share["event"] is None for share in before["shares"]} == {True, False}
        assert len(before["guest_links"]) == 1


@pytest.mark.parametrize("number", frozen_schemas())
def test_nothing_is_lost_and_everything_is_told_as_before(number, thawed):
    place = thawed(number)
    before = json.loads(text_of(number, "snapshot.json.xz"))
    for _ in range(2):  # brought up to date, and then opened as it is
        with closing(open_store(place)) as store:
            assert lost(before, told_of(store)) == []


@pytest.mark.parametrize("number", frozen_schemas())
def test_what_was_kept_is_of_use(number, thawed, monkeypatch):
    monkeypatch.setattr(jobs, "model_version", lambda: "another one")
    with closing(open_store(thawed(number))) as store:
        me = home_account(store).id
        papers = FilePapers()
        events = kept_events(store, me)
        for event in events:
            bundle = bundle_of(store, me, event.id)
            assert papers.event(bundle).bowler_name
            assert logged_shots(store.log(me, event.id))
        for kind, type_ in RESULTS.items():
            kept = store.computed(me, events[0].id, kind)
            read = result_of(type_, kept.document)
            # A program with another model looks at it, and marks it.
            assert is_stale(kept, inputs_of(bundle_of(store, me, events[0].id), kind))
            if kind == "sheet":
                assert json.loads(render_sheet_json(read))["games"]


@pytest.mark.parametrize("number", frozen_schemas())
def test_its_accounts_are_found_by_name_and_can_share(number, thawed):
    with closing(open_store(thawed(number))) as store:
        me, coach = home_account(store), account(store, "Another Coach")
        for one in store.accounts():
            assert find_account(store, one.name.upper()) == one
        event = kept_events(store, me.id)[0]
        shared = store.keep_share(Share(me.id, coach, event.id, NOON))
        assert store.shared_with(coach) == (shared,)


def test_of_accounts_that_differ_by_case_the_one_that_was_found_is_found(thawed):
    place = thawed("0002")
    names = ("Zo\u00eb Marr", "zoe\u0308  marr", "ZO\u00cb MARR")
    table = sa.table("account", sa.column("id", sa.Uuid), sa.column("name"))
    engine = open_engine(database_url(place))
    with writing(engine).begin() as connection:
        for name in names:
            connection.execute(table.insert(), {"id": uuid4(), "name": name})
    engine.dispose()
    with closing(open_store(place)) as store:
        for name in names:
            assert find_account(store, name).name == names[0]
        assert [one.name for one in store.accounts()][-3:] == list(names)
        with pytest.raises(InvalidValueError, match="name"):
            account(store, "zo\u00eb marr")


@pytest.mark.parametrize("number", frozen_schemas())
def test_an_archive_of_that_program_is_taken_in_whole(number):
    for before in json.loads(text_of(number, "snapshot.json.xz"))["archives"]:
        store = MemoryStore()
        me = home_account(store).id
        unpack(store, me, before)
        assert lost(before, archive_of(store, me)) == []


@pytest.mark.parametrize("number", frozen_schemas())
def test_jobs_that_were_under_way_are_told_as_interrupted(number, thawed):
    with closing(open_store(thawed(number))) as store:
        under_way = Jobs(store, IdleHands())
        under_way.open()
        under_way.close()
        states = sorted(job.state for job in store.jobs(home_account(store).id, ("interrupted",)))
        assert states == ["interrupted"] * 3


def test_a_migration_without_the_store_before_it_is_noticed(tmp_path):
    folder = tmp_path / "migrations"
    shutil.copytree(schema.MIGRATIONS, folder)
    for number, before in (("9998", schema.NEWEST), ("9999", "9998")):
        file = folder / "versions" / f"later_{number}.py"
        file.write_text(f'revision = "{number}"\ndown_revision = "{before}"\n')
    assert "9998" in unfrozen(folder)
    assert "0001" not in unfrozen(folder)


def test_a_loss_is_seen():
    assert lost({"a": [1, {"b": 2}]}, {"a": [1, {"b": 2, "new": 0}], "new": 1}) == []
    assert lost({"a": [1, {"b": 2}]}, {"a": [1, {}]}) == [".a[1].b"]
    assert lost([1, 2], [1]) == [": [1, 2] was, [1] is"]
