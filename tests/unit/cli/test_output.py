"""Files are written all or none, and nothing is left behind."""

from __future__ import annotations

import errno
import signal
from pathlib import Path

import pytest

from nextpair.cli.output import each_once, require_writable, write_files
from nextpair.domain.errors import InvalidValueError


def names_below(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*")}


def test_files_and_their_folders_are_made(tmp_path):
    write_files({tmp_path / "a" / "b" / "c.txt": b"one", tmp_path / "d.txt": b"two"})
    assert names_below(tmp_path) == {"a", "a/b", "a/b/c.txt", "d.txt"}
    assert (tmp_path / "a" / "b" / "c.txt").read_bytes() == b"one"


def test_a_file_that_is_there_is_replaced(tmp_path):
    (tmp_path / "a.txt").write_bytes(b"old")
    write_files({tmp_path / "a.txt": b"new"})
    assert (tmp_path / "a.txt").read_bytes() == b"new"
    assert names_below(tmp_path) == {"a.txt"}


@pytest.mark.parametrize("in_the_way", ["folder", "file"])
def test_where_one_cannot_be_written_none_is(tmp_path, in_the_way):
    first = tmp_path / "new" / "a.txt"
    (tmp_path / "old.txt").write_bytes(b"old")
    if in_the_way == "folder":
        blocked = tmp_path / "blocked"
        blocked.mkdir()
    else:
        (tmp_path / "blocked").write_bytes(b"")
        blocked = tmp_path / "blocked" / "b.txt"
    with pytest.raises(InvalidValueError) as refused:
        write_files({first: b"one", tmp_path / "old.txt": b"new", blocked: b"two"})
    assert refused.value.field == str(blocked)
    assert (tmp_path / "old.txt").read_bytes() == b"old"
    assert names_below(tmp_path) == {"old.txt", "blocked"}


@pytest.mark.parametrize("after", [1, 2], ids=["while they are written", "as they get names"])
def test_ctrl_c_leaves_all_files_or_none(tmp_path, monkeypatch, after):
    replaced, written = Path.replace, Path.write_bytes

    def write(path: Path, content: bytes) -> int:
        if after == 1 and content == b"two":
            signal.raise_signal(signal.SIGINT)
        return written(path, content)

    def replace(path: Path, target: Path) -> Path:
        signal.raise_signal(signal.SIGINT)
        return replaced(path, target)

    monkeypatch.setattr(Path, "write_bytes", write)
    monkeypatch.setattr(Path, "replace", replace)
    with pytest.raises(KeyboardInterrupt):
        write_files({tmp_path / "new" / "a.txt": b"one", tmp_path / "new" / "b.txt": b"two"})
    expected = set() if after == 1 else {"new", "new/a.txt", "new/b.txt"}
    assert names_below(tmp_path) == expected


def test_a_disk_that_fills_up_leaves_no_part_behind(tmp_path, monkeypatch):
    written = Path.write_bytes

    def full(path: Path, content: bytes) -> int:
        written(path, content[:1])
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(InvalidValueError, match="No space left"):
        write_files({tmp_path / "new" / "a.txt": b"content"})
    assert names_below(tmp_path) == set()


@pytest.mark.parametrize("name", ["", ".", "folder", "taken/file"])
def test_what_cannot_be_written_is_refused_beforehand_and_leaves_nothing(
    tmp_path, name, monkeypatch
):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "folder").mkdir()
    (tmp_path / "taken").write_text("a file", "utf-8")
    with pytest.raises(InvalidValueError, match="a file name in a folder that can be written"):
        require_writable(Path(name))
    require_writable(Path("new/folder/file"))
    assert sorted(path.name for path in tmp_path.rglob("*")) == ["folder", "taken"]


def test_two_outputs_cannot_share_a_file(tmp_path):
    each_once([tmp_path / "a", tmp_path / "b"])
    with pytest.raises(InvalidValueError, match="each file once"):
        each_once([tmp_path / "a", tmp_path / "b", tmp_path / "a"])
