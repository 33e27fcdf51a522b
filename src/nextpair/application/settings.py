"""The settings table: every knob of the program once, with its type, default, unit and help.

A value comes from a flag, else from the environment (NEXTPAIR_ and the name in capitals), else
from the default here. `resolve_settings` is called once, in bootstrap.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, fields
from enum import StrEnum
from pathlib import Path
from typing import Any

from nextpair.domain.errors import InvalidValueError

ENVIRONMENT_PREFIX = "NEXTPAIR_"
LARGEST_SEED = 2**32 - 1
MOST_THREADS = 1024


class Colour(StrEnum):
    """When the terminal is written to in colour."""

    AUTO = "auto"
    ALWAYS = "always"
    NEVER = "never"


@dataclass(frozen=True, slots=True)
class Setting:
    """One row of the table."""

    name: str
    type: str
    default: Any
    form: str
    """How its value is written on the command line; empty for a switch."""
    unit: str
    help: str
    parse: Callable[[str, str], Any] = field(repr=False)

    @property
    def environment_name(self) -> str:
        """The variable that sets it."""
        return ENVIRONMENT_PREFIX + self.name.upper()

    @property
    def flag(self) -> str:
        """The option that sets it on the command line."""
        return "--" + self.name.replace("_", "-")


def _whole(lowest: int, highest: int) -> Callable[[str, str], int]:
    def parse(source: str, text: str) -> int:
        try:
            number = int(text)
        except ValueError:
            number = lowest - 1
        if not lowest <= number <= highest:
            raise InvalidValueError(source, text, f"a whole number from {lowest} to {highest}")
        return number

    return parse


def _colour(source: str, text: str) -> Colour:
    try:
        return Colour(text)
    except ValueError:
        allowed = ", ".join(colour.value for colour in Colour)
        raise InvalidValueError(source, text, allowed) from None


def _yes_or_no(source: str, text: str) -> bool:
    answers = {"1": True, "true": True, "yes": True, "0": False, "false": False, "no": False}
    if text.lower() not in answers:
        raise InvalidValueError(source, text, "yes or no")
    return answers[text.lower()]


def _folder(source: str, text: str) -> Path:
    if not text:
        raise InvalidValueError(source, text, "a folder")
    return Path(text).expanduser()


def _text(source: str, text: str) -> str:
    if not text:
        raise InvalidValueError(source, text, "a file, or a postgresql:// URL")
    return text


def _row(form: str, unit: str, help: str, parse: Callable[[str, str], Any]) -> dict[str, Any]:
    return {"form": form, "unit": unit, "help": help, "parse": parse}


@dataclass(frozen=True, slots=True)
class Settings:
    """The settings of one run. Each field is a row of the table."""

    seed: int = field(
        default=7,
        metadata=_row(
            "N",
            "",
            "Seed of every random draw; the same seed gives the same sheet.",
            _whole(0, LARGEST_SEED),
        ),
    )
    threads: int = field(
        default=0,
        metadata=_row(
            "N", "threads", "Threads that compute; 0 means one a core.", _whole(0, MOST_THREADS)
        ),
    )
    cache_dir: Path | None = field(
        default=None,
        metadata=_row(
            "DIR", "", "Folder for compiled code; left out, the user's cache folder.", _folder
        ),
    )
    data_dir: Path | None = field(
        default=None,
        metadata=_row(
            "DIR", "", "Folder for what you keep; left out, the user's data folder.", _folder
        ),
    )
    store: str = field(
        default="",
        metadata=_row(
            "PLACE",
            "",
            "File or postgresql:// URL of the store; left out, a file in the data folder.",
            _text,
        ),
    )
    colour: Colour = field(
        default=Colour.AUTO,
        metadata=_row("WHEN", "", "Colour on the screen: auto, always or never.", _colour),
    )
    debug: bool = field(
        default=False,
        metadata=_row("", "", "Show the whole trace when something fails.", _yes_or_no),
    )


def settings_table() -> dict[str, Setting]:
    """Every setting by name."""
    return {
        row.name: Setting(row.name, str(row.type), row.default, **row.metadata)
        for row in fields(Settings)
    }


def resolve_settings(flags: Mapping[str, Any], environment: Mapping[str, str]) -> Settings:
    """Flags before environment before defaults; a flag that is None was not given.

    Raises InvalidValueError, naming the flag or the variable, for a value that is not allowed.
    """
    chosen: dict[str, Any] = {}
    for setting in settings_table().values():
        if flags.get(setting.name) is not None:
            chosen[setting.name] = setting.parse(setting.flag, str(flags[setting.name]))
        elif setting.environment_name in environment:
            text = environment[setting.environment_name]
            chosen[setting.name] = setting.parse(setting.environment_name, text)
    return Settings(**chosen)
