"""`nextpair serve` up to the point where it listens, and what its log says then."""

from __future__ import annotations

import logging
import socket
from pathlib import Path

import pytest

from nextpair.application.settings import Settings
from nextpair.bootstrap import log_path
from nextpair.bootstrap.log_file import LogFile
from nextpair.cli.main import exit_code
from nextpair.web import server


@pytest.fixture
def served(tmp_path, monkeypatch):
    """Every home that was served, by a server that ends at once."""
    homes: list[object] = []
    monkeypatch.setenv("NEXTPAIR_DATA_DIR", str(tmp_path))
    monkeypatch.setattr(server, "run", lambda home, _listening: homes.append(home))
    monkeypatch.setattr(server, "listen", lambda _address: socket.socket())
    root = logging.getLogger()
    before = list(root.handlers)
    yield homes
    for handler in [one for one in root.handlers if one not in before]:
        root.removeHandler(handler)


def test_it_comes_to_listen_and_says_in_its_log_that_it_began(served, tmp_path: Path, capsys):
    assert exit_code(["serve"]) == 0
    assert len(served) == 1
    assert "nextpair runs at" in capsys.readouterr().err
    log = log_path(Settings(data_dir=tmp_path)).read_text("utf-8")
    assert "nextpair serve begins" in log
    assert any(isinstance(one, LogFile) for one in logging.getLogger().handlers)
