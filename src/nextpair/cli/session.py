"""One run of the command line: its flags, its settings, and how it talks to the terminal."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import partial
from typing import Any

from nextpair.application.ports import Progress, unwatched
from nextpair.application.settings import Colour, Settings, resolve_settings
from nextpair.bootstrap import Program
from nextpair.domain.errors import InvalidValueError

COLUMNS_WITHOUT_TERMINAL = 88


@dataclass(slots=True)
class Session:
    """What a command is given: the settings that were set by flags, and the program behind it."""

    assemble: Callable[[Settings], Program] = Program
    flags: dict[str, Any] = field(default_factory=dict)
    debug: bool = False
    """Set before the command; with it, the command's own flag is not needed."""

    @property
    def settings(self) -> Settings:
        """The settings of this run."""
        return resolve_settings(self.flags, os.environ)

    def program(self) -> Program:
        """The program under the settings of this run; what it has to warn of goes to standard
        error."""
        import logging

        logging.basicConfig(
            stream=sys.stderr, level=logging.WARNING, format="nextpair: %(message)s"
        )
        return self.assemble(self.settings)

    @property
    def shows_traces(self) -> bool:
        """Whether a failure shows its trace; not where the settings themselves fail."""
        try:
            return self.debug or self.settings.debug
        except InvalidValueError:
            return False

    def page(self) -> dict[str, Any]:
        """Width and colour for text on standard output."""
        size = shutil.get_terminal_size(fallback=(COLUMNS_WITHOUT_TERMINAL, 24))
        return {"columns": size.columns, "colour": self._in_colour()}

    def _in_colour(self) -> bool:
        colour = self.settings.colour
        if colour is Colour.AUTO:
            plain = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb"
            return sys.stdout.isatty() and not plain
        return colour is Colour.ALWAYS


@contextmanager
def watched() -> Iterator[Progress]:
    """A progress bar on standard error where a person sits there, else nothing."""
    if not sys.stderr.isatty():
        yield unwatched
        return
    from rich.console import Console
    from rich.progress import BarColumn, TextColumn, TimeElapsedColumn
    from rich.progress import Progress as Bars

    columns = (TextColumn("{task.description}"), BarColumn(), TimeElapsedColumn())
    with Bars(*columns, console=Console(stderr=True), transient=True) as bars:
        yield partial(_advance, bars.update, bars.add_task("starting", total=None))


def _advance(update: Callable[..., None], task: Any, label: str, done: int, total: int, /) -> None:
    update(task, description=label, completed=done, total=total)
