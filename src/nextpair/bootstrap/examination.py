"""What `nextpair doctor` looks at on this computer, gathered for `application.doctor` to judge.

It changes nothing that is kept: the store is opened for reading, and only compiled code is made
where it was not.
"""

from __future__ import annotations

import http.client
import json
import os
import platform
import shutil
import socket
import stat
from collections.abc import Callable, Iterator
from contextlib import closing, suppress
from datetime import UTC, datetime
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from time import perf_counter
from typing import TYPE_CHECKING

from nextpair.application.clock import now_utc
from nextpair.application.model_version import model_version
from nextpair.application.settings import Settings
from nextpair.bootstrap.at_home import AtHome
from nextpair.bootstrap.compiler import prepare_compiler
from nextpair.bootstrap.log_file import KEPT, log_path, program_version
from nextpair.bootstrap.shipped import Shipped

if TYPE_CHECKING:
    from nextpair.application.doctor import Check, CopiesFound, FolderFound, StoreFound, Versions
    from nextpair.application.self_test import SelfTest

MADE = datetime(2026, 11, 1, tzinfo=UTC)
"""No clock that is right shows a time before it."""
LIBRARIES = ("numpy", "scipy", "numba", "llvmlite", "sqlalchemy", "fastapi")
PORT = 8707
PORT_WAIT_S = 1.0
MARK = "X-Nextpair"
"""Header of every answer of `nextpair serve`."""
OTHERS = stat.S_IRWXG | stat.S_IRWXO


def examine(settings: Settings, now: Callable[[], datetime] = now_utc) -> tuple[Check, ...]:
    """Look at everything, in the order in which it is told."""
    begun_s = perf_counter()
    cache = prepare_compiler(settings)
    in_place = any(cache.rglob("*.nbi"))
    from nextpair.application import doctor

    home = AtHome(settings)
    store, folder = store_found(home), folder_found(home.data_folder())
    test, first_s = _tested(begun_s)
    log = log_path(settings)
    free = is_free(PORT)
    lasting = not cache.name.startswith("nextpair-")
    return (
        doctor.check_versions(versions()),
        doctor.check_store(store),
        doctor.check_backup(store, copies_found(home), now()),
        doctor.check_folder(folder),
        doctor.check_disk(folder),
        doctor.check_clock(now(), MADE, store.latest),
        doctor.check_cache(str(cache), lasting, in_place, first_s),
        doctor.check_kernel(test),
        doctor.check_speed(test),
        doctor.check_log(str(log), folder_found(log.parent).writable, faults_in(log)),
        doctor.check_port(PORT, free, not free and is_ours(PORT)),
    )


def _tested(begun_s: float) -> tuple[SelfTest, float]:
    """The kernel's test, and seconds to the first shot."""
    from nextpair.application.one_path import roll_one
    from nextpair.application.self_test import self_test
    from nextpair.files import load_event

    with Shipped().demo_event() as path:
        event = load_event(path)
    roll_one(event, event.locker[0].name, 24.5, 2.4, with_moves=False)
    first_s = perf_counter() - begun_s
    return self_test(event), first_s


def versions() -> Versions:
    """What runs, on what."""
    from nextpair.application.doctor import Versions

    return Versions(
        program=program_version(),
        model=model_version(),
        python=platform.python_version(),
        system=f"{platform.system()} {platform.release()} {platform.machine()}",
        processor=_processor(),
        cores=os.cpu_count() or 1,
        libraries=dict(_libraries()),
    )


def _libraries() -> Iterator[tuple[str, str]]:
    for name in LIBRARIES:
        try:
            yield name, version(name)
        except PackageNotFoundError:
            yield name, "missing"


def _processor() -> str:
    with suppress(OSError):
        for line in Path("/proc/cpuinfo").read_text("utf-8").splitlines():
            if line.startswith("model name"):
                return line.partition(":")[2].strip()
    return platform.processor() or "a processor without a name"


def store_found(home: AtHome) -> StoreFound:
    """The store as it lies there."""
    from nextpair.application.doctor import StoreFound
    from nextpair.store.health import store_health

    seen = store_health(home.store_place())
    file = Path(seen.place)
    writable = seen.on_server or (os.access(file, os.W_OK) and os.access(file.parent, os.W_OK))
    return StoreFound(
        place=seen.place,
        on_server=seen.on_server,
        there=seen.there,
        writable=writable,
        size_bytes=seen.size_bytes,
        schema=seen.schema,
        state=seen.state,
        trouble=seen.trouble,
        records=seen.records,
        jottings=seen.jottings,
        latest=seen.latest,
    )


def copies_found(home: AtHome) -> CopiesFound:
    """The newest sound daily copy beside the store, found without a change to any of them."""
    from nextpair.application.doctor import CopiesFound
    from nextpair.store.copies import copies_of, newest_sound
    from nextpair.store.failure import way_back

    place = home.store_place()
    if "://" in place:
        return CopiesFound()
    store = Path(place).expanduser()
    with suppress(OSError):
        copies, sound = copies_of(store), newest_sound(store)
        if sound is None:
            return CopiesFound(unsound=len(copies))
        return CopiesFound(
            newest=str(sound.path),
            made_at=datetime.fromtimestamp(sound.path.stat().st_mtime, UTC),
            command=way_back(store, sound.path),
            unsound=sum(copy > sound for copy in copies),
        )
    return CopiesFound()


def folder_found(folder: Path) -> FolderFound:
    """A folder, whether it may be written, who else may read in it, and the room on its disk."""
    from nextpair.application.doctor import FolderFound

    nearest = next((one for one in (folder, *folder.parents) if one.exists()), Path("/"))
    free: int | None = None
    with suppress(OSError):
        free = shutil.disk_usage(nearest).free
    return FolderFound(
        place=str(folder),
        there=folder.is_dir(),
        writable=os.access(nearest, os.W_OK | os.X_OK) and nearest.is_dir(),
        open_to_others=tuple(_open_to_others(folder)),
        free_bytes=free,
    )


def _open_to_others(folder: Path) -> Iterator[str]:
    """Where others get into the folder, what in it they may read; without it nothing is open."""
    if os.name != "posix":
        return
    with suppress(OSError):
        if not folder.stat().st_mode & OTHERS:
            return
        yield "."
        for path in sorted(folder.iterdir()):
            if path.stat().st_mode & OTHERS:
                yield path.name


def faults_in(log: Path) -> int:
    """How many errors the log's files tell."""
    found = 0
    for number in range(KEPT):
        file = log.with_name(f"{log.name}.{number}") if number else log
        with suppress(OSError):
            for line in file.read_text("utf-8", errors="replace").splitlines():
                with suppress(ValueError):
                    found += json.loads(line).get("level") == "ERROR"
    return found


def is_free(port: int) -> bool:
    """Whether nobody listens at a port of this computer."""
    with closing(socket.socket()) as probe:
        if os.name == "posix":
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except OSError:
            return False
    return True


def is_ours(port: int) -> bool:
    """Whether it is `nextpair serve` that answers there."""
    try:
        with closing(http.client.HTTPConnection("127.0.0.1", port, timeout=PORT_WAIT_S)) as line:
            line.request("GET", "/api/v1/status")
            return line.getresponse().getheader(MARK) is not None
    except (OSError, http.client.HTTPException):
        return False
