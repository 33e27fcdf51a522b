"""nextpair for programs: `import nextpair as npair`, then the names below.

event = npair.load_event("event.toml")
sheet = npair.plan(event, seed=7)
releases = npair.Releases.by(event.bowler, [24.0, 25.0, 26.0], launch_angle_deg=2.4)
paths = npair.roll(event.lane(13), event.locker[0], releases)
odds = npair.carry(paths.impact, seed=7)
read = npair.read(event, "shots.csv")
sheet = npair.plan(event, read=read)
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from nextpair.application.ports import Progress, unwatched
from nextpair.application.settings import resolve_settings
from nextpair.bootstrap import Program, prepare_compiler

PROGRAM = Program(resolve_settings({}, os.environ))
prepare_compiler(PROGRAM.settings)

# After the compiler's cache is settled: these load compiled code.
from nextpair.application.releases import Releases  # noqa: E402
from nextpair.application.releases import roll_releases as roll  # noqa: E402
from nextpair.carry.impacts import CarryOdds  # noqa: E402
from nextpair.carry.impacts import carry_of as carry  # noqa: E402

if TYPE_CHECKING:
    from nextpair.domain.belief import Read
    from nextpair.domain.event import Event
    from nextpair.domain.pattern import Pattern
    from nextpair.domain.sheet import Sheet
    from nextpair.domain.shot_log import LoggedShot

__all__ = [
    "CarryOdds",
    "Releases",
    "carry",
    "load_event",
    "load_pattern",
    "load_shots",
    "plan",
    "read",
    "roll",
]


def load_event(path: str | os.PathLike[str]) -> Event:
    """An event folder by its event.toml, read whole.

    Raises InputRefusedError, which carries every problem found.
    """
    return PROGRAM.load_event(Path(path))


def load_pattern(path: str | os.PathLike[str]) -> Pattern:
    """One pattern, of a file or of the library by its name. Raises InputRefusedError."""
    return PROGRAM.load_pattern(Path(path))


def load_shots(path: str | os.PathLike[str], event: Event) -> tuple[LoggedShot, ...]:
    """The shots of an event's log. Raises InputRefusedError, which carries every problem found."""
    return PROGRAM.load_shots(Path(path), event)


def plan(
    event: Event,
    *,
    seed: int | None = None,
    progress: Progress = unwatched,
    read: Read | None = None,
) -> Sheet:
    """The sheet of an event; the same event, seed and read give the same sheet.

    With a read it is the sheet of the games to come, by what is believed now. Without a seed the
    settings decide: NEXTPAIR_SEED, else 7.
    """
    return PROGRAM.plan(event, _seed(seed), progress, read)


def read(
    event: Event,
    shots: str | os.PathLike[str] | Sequence[LoggedShot],
    *,
    seed: int | None = None,
    progress: Progress = unwatched,
) -> Read:
    """What shots say of the lanes and the bowler, and the next move; `shots` are a log's file or
    what was read of one.

    Raises InputRefusedError for a file that is no log, InvalidValueError for shots that say
    nothing.
    """
    if isinstance(shots, str | os.PathLike):
        shots = load_shots(shots, event)
    return PROGRAM.read(event, shots, _seed(seed), progress)


def _seed(seed: int | None) -> int:
    return PROGRAM.settings.seed if seed is None else seed
