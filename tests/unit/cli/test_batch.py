"""What `batch` refuses before anything is computed: one line, exit 2, nothing written."""

from __future__ import annotations

import pytest

from nextpair.cli.main import exit_code
from nextpair.crew import dask_cluster
from nextpair.domain.errors import InvalidValueError


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ([], "EVENTS: found 'none', allowed: files or folders of events, or --list FILE"),
        (
            ["e.toml", "--threads", "2", "--cluster", "127.0.0.1:1"],
            "--threads: found '2', allowed",
        ),
        (["--list", "no.txt"], "no.txt: file: found no such file"),
    ],
    ids=["no events", "threads of a cluster", "no list"],
)
def test_a_batch_of_nothing_is_refused(tmp_path, capsys, monkeypatch, words, told):
    monkeypatch.chdir(tmp_path)
    assert exit_code(["batch", *words, "--out", "out"]) == 2
    out, errors = capsys.readouterr()
    assert out == ""
    assert len(errors.splitlines()) == 1
    assert told in errors
    assert list(tmp_path.iterdir()) == []


def test_a_batch_of_wrong_events_tells_each_and_exits_with_two(tmp_path, capsys):
    (tmp_path / "event.toml").write_text("games = 0\n", "utf-8")
    code = exit_code(
        ["batch", str(tmp_path), str(tmp_path / "no"), "--out", str(tmp_path / "out")]
    )
    out, errors = capsys.readouterr()
    assert code == 2
    assert out.startswith("0 sheets in ")
    assert "2 sheets not made: 2 with files that are wrong." in out
    assert f"{tmp_path}/no: file: found no such file" in errors
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["batch.jsonl"]


@pytest.mark.parametrize(
    "address", ["", "abc", "foo://x:1", ":::", "tcp://a b:1", "tcp://x:123456"]
)
def test_what_is_no_address_is_refused_at_once(address):
    pytest.importorskip("distributed")
    with pytest.raises(InvalidValueError, match="allowed: the address of a Dask scheduler"):
        dask_cluster.DaskCrew(address, print)


def test_a_cluster_without_dask_says_what_to_install(monkeypatch):
    def missing(_name: str) -> None:
        raise ModuleNotFoundError("no such module")

    monkeypatch.setattr(dask_cluster, "import_module", missing)
    with pytest.raises(InvalidValueError, match=r"pip install 'nextpair\[batch\]'"):
        dask_cluster.DaskCrew("127.0.0.1:8786", print)
