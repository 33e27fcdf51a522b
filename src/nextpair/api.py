"""nextpair for programs: `import nextpair as npair`, then the names below.

event = npair.load_event("event.toml")
sheet = npair.plan(event, seed=7)
releases = npair.Releases.by(event.bowler, [24.0, 25.0, 26.0], launch_angle_deg=2.4)
paths = npair.roll(event.lane(13), event.locker[0], releases)
odds = npair.carry(paths.impact, seed=7)
"""

from __future__ import annotations

import os
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
    from nextpair.domain.event import Event
    from nextpair.domain.pattern import Pattern
    from nextpair.domain.sheet import Sheet

__all__ = ["CarryOdds", "Releases", "carry", "load_event", "load_pattern", "plan", "roll"]


def load_event(path: str | os.PathLike[str]) -> Event:
    """An event folder by its event.toml, read whole.

    Raises InputRefusedError, which carries every problem found.
    """
    return PROGRAM.load_event(Path(path))


def load_pattern(path: str | os.PathLike[str]) -> Pattern:
    """One pattern, of a file or of the library by its name. Raises InputRefusedError."""
    return PROGRAM.load_pattern(Path(path))


def plan(event: Event, *, seed: int | None = None, progress: Progress = unwatched) -> Sheet:
    """The sheet of an event; the same event and seed give the same sheet.

    Without a seed the settings decide: NEXTPAIR_SEED, else 7.
    """
    return PROGRAM.plan(event, PROGRAM.settings.seed if seed is None else seed, progress)
