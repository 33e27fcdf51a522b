"""The folder of a batch: its manifest after any stop, and what must not be in it."""

from __future__ import annotations

import pytest

from nextpair.application.batch import MANIFEST, ItemRecord, State
from nextpair.cli.output import write_files
from nextpair.domain.errors import InvalidValueError
from nextpair.files.batch_folder import BatchFolder, fcntl

RECORD = ItemRecord(
    item="/in/a/event.toml", folder="a", event="A", inputs="00", seed=7, model_version="m",
    program="1", state=State.DONE, seconds=1.5, files={}, why=("one", "two"),
)  # fmt: skip


@pytest.fixture
def root(tmp_path):
    return tmp_path / "out"


def noted(root, *records):
    folder = BatchFolder(root, write_files)
    for record in records:
        folder.note(record)
    folder.close()


def read(root):
    folder = BatchFolder(root, write_files)
    folder.close()
    return folder.records()


def test_what_was_noted_is_read_the_last_line_of_an_item_last(root):
    late = ItemRecord(**{**_values(), "seconds": 2.0})
    noted(root, RECORD, late)
    assert read(root) == {RECORD.item: late}
    assert len((root / MANIFEST).read_bytes().splitlines()) == 1


def _values():
    return {name: getattr(RECORD, name) for name in RECORD.__slots__}


def test_a_manifest_cut_anywhere_is_read_up_to_the_cut(root):
    other = ItemRecord(**{**_values(), "item": "/in/b/event.toml", "folder": "b"})
    noted(root, RECORD, other)
    whole = (root / MANIFEST).read_bytes()
    first = whole.index(b"\n") + 1
    for length in range(len(whole)):
        (root / MANIFEST).write_bytes(whole[:length])
        assert list(read(root)) == ([RECORD.item] if length >= first else [])
        assert (root / MANIFEST).read_bytes() == (whole[:first] if length >= first else b"")


@pytest.mark.parametrize(
    "line",
    [
        b"{}",
        b"\xff",
        b'{"item": 1',
        b"null",
        b"[" * 5000,
        None,
    ],
)
def test_a_line_of_somebody_else_is_refused_with_its_place(root, line):
    noted(root, RECORD)
    spoiled = (root / MANIFEST).read_bytes().replace(b'"a"', b'"../a"') if line is None else line
    (root / MANIFEST).write_bytes(spoiled.rstrip() + b"\n")
    with pytest.raises(InvalidValueError, match=r"batch\.jsonl: line 1: found"):
        BatchFolder(root, write_files)


@pytest.mark.skipif(fcntl is None, reason="a system without such locks")
def test_two_batches_are_not_at_one_folder(root):
    first = BatchFolder(root, write_files)
    with pytest.raises(InvalidValueError, match="another batch is at it"):
        BatchFolder(root, write_files)
    first.close()
    BatchFolder(root, write_files).close()


def test_a_folder_that_got_nothing_is_not_left_behind_but_one_that_was_there(root):
    BatchFolder(root / "new", write_files).close()
    assert not root.exists()
    root.mkdir()
    BatchFolder(root / "new" / "newer", write_files).close()
    BatchFolder(root, write_files).close()
    assert list(root.iterdir()) == []


def test_files_are_held_as_they_were_written_and_leftovers_go(root):
    folder = BatchFolder(root, write_files)
    (root / "a").mkdir()
    (root / "a" / ".sheet.json.77.part").write_bytes(b"ha")
    folder.keep("a", {"sheet.json": b""})
    # SHA-256 of nothing: FIPS 180-4, in any table of test values.
    empty = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
    record = ItemRecord(**{**_values(), "files": {"sheet.json": empty}})
    assert folder.holds(record)
    assert [path.name for path in (root / "a").iterdir()] == ["sheet.json"]
    (root / "a" / "sheet.json").write_bytes(b"x")
    assert not folder.holds(record)
    (root / "a" / "sheet.json").unlink()
    assert not folder.holds(record)
    folder.close()
