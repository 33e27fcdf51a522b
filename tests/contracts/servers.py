"""A PostgreSQL server of the tests' own: made in a folder of its own, thrown away afterwards."""

from __future__ import annotations

import os
import pwd
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

NEEDED = "NEXTPAIR_NEEDS_POSTGRES"
"""Set where the tests must not go without a server."""
DEBIAN = Path("/usr/lib/postgresql")


def postgresql_programs() -> Path | None:
    """The folder of the newest server that is installed here."""
    if found := shutil.which("initdb"):
        return Path(found).parent
    folders = [folder for folder in DEBIAN.glob("*/bin") if (folder / "initdb").exists()]
    return max(folders, key=lambda folder: int(folder.parent.name), default=None)


@contextmanager
def postgresql(programs: Path, fsync: str = "off") -> Iterator[str]:
    """The URL of an empty database of a new server, which is gone afterwards; with fsync "on" it
    writes as a server does that is to keep something."""
    folder = Path(tempfile.mkdtemp(prefix="nextpair-postgresql-"))
    before = []
    if os.geteuid() == 0:  # the server refuses to run as root
        user = _somebody()
        os.chown(folder, user.pw_uid, user.pw_gid)
        before = ["runuser", "-u", user.pw_name, "--"]

    def call(program: str, *arguments: str) -> None:
        command = [*before, str(programs / program), "-D", str(folder / "data"), *arguments]
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL, cwd="/")

    port = _free_port()
    try:
        call("initdb", "--auth=trust", "--username=tester", "--encoding=UTF8", "--no-sync")
        options = f"-p {port} -k {folder} -c listen_addresses=127.0.0.1 -c fsync={fsync}"
        call("pg_ctl", "-w", "-l", str(folder / "log"), "-o", options, "start")
        try:
            yield f"postgresql://tester@127.0.0.1:{port}/postgres"
        finally:
            call("pg_ctl", "-w", "-m", "immediate", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _somebody() -> pwd.struct_passwd:
    names = {user.pw_name: user for user in pwd.getpwall()}
    return names.get("postgres") or names["nobody"]


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])
