"""What comes with the program in its package: patterns, things to try it out with, built pages."""

from __future__ import annotations

from contextlib import contextmanager
from importlib.resources import as_file, files
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nextpair.domain.pattern import Pattern


class Shipped:
    """What comes with the program."""

    __slots__ = ()

    def load_library(self) -> tuple[Pattern, ...]:
        """The patterns that come with the program, short ones first."""
        from nextpair.files import load_library

        return load_library()

    @contextmanager
    def demo_event(self) -> Iterator[Path]:
        """The event file that comes with the program, with its neighbours beside it."""
        with as_file(files("nextpair") / "demo") as folder:
            yield folder / "event.toml"

    def demo_files(self) -> dict[str, str]:
        """Everything that comes with the program for trying it out: text by path."""
        with as_file(files("nextpair") / "demo") as folder:
            return {
                path.relative_to(folder).as_posix(): path.read_text("utf-8")
                for path in sorted(folder.rglob("*"))
                if path.is_file()
            }

    def page_script(self) -> str | None:
        """What logs in the single-file page; None where it was never built."""
        script = files("nextpair") / "web" / "static" / "single" / "single.js"
        return script.read_text("utf-8") if script.is_file() else None

    def phone_page(self) -> dict[str, bytes]:
        """The built phone page, file by file; empty where it was never built."""
        with as_file(files("nextpair") / "web") as folder:
            root = folder / "static" / "lanes"
            if not (root / "index.html").is_file():
                return {}
            return {
                path.relative_to(root).as_posix(): path.read_bytes()
                for path in sorted(root.rglob("*"))
                if path.is_file()
            }
