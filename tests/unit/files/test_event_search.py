"""Which events a batch finds: each once, none that is hidden or its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from nextpair.domain.errors import InputRefusedError
from nextpair.files.event_search import events_below, listed_paths


def put(root: Path, *names: str) -> None:
    for name in names:
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_text("x", "utf-8")


def found(root: Path, *paths: Path) -> list[str]:
    return [item.path.relative_to(root).as_posix() for item in events_below(paths, root / "out")]


def test_folders_are_searched_by_name_but_for_hidden_ones_and_the_sheets(tmp_path):
    put(tmp_path, "b/event.toml", "a/deep/event.toml", "a/event.toml", "a/other.toml")
    put(tmp_path, ".git/event.toml", "out/b/event.toml")
    assert found(tmp_path, tmp_path) == ["a/event.toml", "a/deep/event.toml", "b/event.toml"]


def test_an_event_counts_once_however_it_is_named(tmp_path):
    put(tmp_path, "a/event.toml")
    (tmp_path / "link").symlink_to(tmp_path / "a")
    event = tmp_path / "a" / "event.toml"
    named = (event, tmp_path / "a", tmp_path / "link" / "event.toml", event)
    assert found(tmp_path, *named) == ["a/event.toml"]


def test_what_is_not_there_stands_for_itself(tmp_path):
    (tmp_path / "empty").mkdir()
    named = (tmp_path / "no.toml", tmp_path / "empty", Path("a\0b"))
    told = [str(item.path) for item in events_below(named, tmp_path / "out")]
    assert told == [str(tmp_path / "no.toml"), str(tmp_path / "empty" / "event.toml"), "a\0b"]


def test_a_list_names_files_from_where_it_lies(tmp_path):
    place = tmp_path / "list.txt"
    place.write_bytes("\ufeff# ours\r\n\r\n a b/event.toml \r\n/x/é.toml".encode())
    assert listed_paths(place) == (tmp_path / "a b/event.toml", Path("/x/é.toml"))


@pytest.mark.parametrize("content", [None, b"", b"\xff\xfe\x00"])
def test_a_list_that_is_none_is_refused(tmp_path, content):
    place = tmp_path / "list.txt"
    if content is not None:
        place.write_bytes(content)
    with pytest.raises(InputRefusedError, match=r"list\.txt: "):
        listed_paths(place)
