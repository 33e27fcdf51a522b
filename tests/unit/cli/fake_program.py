"""A program that answers at once with made-up sheets, and remembers what it was asked."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any, ClassVar

from debriefs import A_LESSON
from nextpair.application.settings import Settings
from nextpair.domain.bowler import Hand
from nextpair.domain.errors import InputRefusedError, InvalidValueError, Problem
from nextpair.domain.format import Counting
from nextpair.domain.house import Pinfall
from unit.reports.carry_factory import a_carry_map
from unit.reports.pocket_factory import a_pocket
from unit.reports.proof_factory import a_proof
from unit.reports.read_factory import a_read
from unit.reports.score_factory import a_score_sheet
from unit.reports.sheet_factory import a_film_card, a_path, a_sheet
from unit.reports.spare_factory import a_spare_sheet

PROBLEMS = (
    Problem("event.toml", "games", "0", "1 to 24 games"),
    Problem("squad.csv", "line 3", "both", "right or left"),
)


class FakeProgram:
    """Stands in for bootstrap.Program; an event named after a fault has that fault."""

    pages: ClassVar[dict[str, bytes]] = {}
    """The phone's page as it was built; nothing where it never was."""

    def __init__(self, settings: Settings) -> None:
        self.settings = settings
        self.asked: dict[str, Any] = {}

    def load_event(self, path: Path) -> Path:
        if path.name == "refused.toml":
            raise InputRefusedError(PROBLEMS)
        return path

    def load_pattern(self, path: Path) -> Path:
        return self.load_event(path)

    def load_library(self) -> list[Path]:
        return [Path(name) for name in ("one", "two", "three", "four")]

    @contextmanager
    def demo_event(self) -> Iterator[Path]:
        yield Path("demo.toml")

    def load_shots(self, path: Path, _event: Path) -> list[Path]:
        return [self.load_event(path)]

    def read(self, event: Path, shots: list[Path], seed: int, progress: Any) -> Any:
        progress("reading", 1, 2)
        self.asked |= {"event": event, "shots": shots, "seed": seed}
        return a_read()

    def plan(self, event: Path, seed: int, progress: Any, read: Any = None) -> Any:
        progress("planning", 1, 2)
        if read is not None:
            self.asked["read"] = read
        if event.name == "broken.toml":
            raise ZeroDivisionError("by nought")
        self.asked |= {"event": event, "seed": seed}
        return a_sheet(games=2)

    def with_lessons(self, sheet: Any, event: Path) -> Any:
        if event.name == "unread.toml":
            raise InvalidValueError("store", "old.sqlite3", "one that opens")
        return replace(sheet, lessons=(A_LESSON,))

    def measure_film(self, _pattern: Path) -> Any:
        return a_film_card()

    def roll_one(self, _event: Path, ball_name: str, *numbers: float, **options: Any) -> Any:
        if ball_name == "nothing":
            raise InvalidValueError("ball", ball_name, "a ball of the locker: Kestrel")
        self.asked |= {"ball": ball_name, "numbers": numbers, **options}
        return a_path()

    def map_carry(
        self,
        ball_lb: float,
        speed_mph: float,
        hand: Hand,
        impact: Any = None,
        pinfall: Pinfall = Pinfall.FREE,
    ) -> Any:
        self.asked |= {"ball_lb": ball_lb, "speed_mph": speed_mph, "hand": hand, "impact": impact}
        self.asked["pinfall"] = pinfall
        return a_carry_map(hand.value, impact, pinfall=pinfall.value)

    def prove(self, worlds: int, seed: int, progress: Any) -> Any:
        progress("bowling", 1, 2)
        self.asked |= {"worlds": worlds, "seed": seed}
        return a_proof()

    def kept_store(self) -> None:
        """Nothing was ever kept."""

    def fill_pocket(self, event: Path, seed: int, made_at: str, progress: Any, packed: Any) -> Any:
        progress("planning", 1, 2)
        self.asked |= {"packed": packed, "event": event, "seed": seed, "made_at": made_at}
        return a_pocket()

    def score(self, path: Path, counting: Counting, name: str | None = None) -> Any:
        self.asked |= {"path": path, "counting": counting, "name": name}
        return a_score_sheet()

    def score_shots(self, path: Path, event: Path) -> Any:
        self.asked |= {"path": path, "event": event}
        return a_score_sheet()

    def page_script(self) -> str | None:
        return None

    def phone_page(self) -> dict[str, bytes]:
        return dict(self.pages)

    def shoot_spares(self, event: Path, leave: str | None, seed: int) -> Any:
        if leave == "11":
            raise InvalidValueError("leave", leave, "pins 1 to 10 joined by hyphens, as 1-2-10")
        self.asked |= {"event": event, "leave": leave, "seed": seed}
        return a_spare_sheet()


class Bench:
    """Makes the program a command asks for, and keeps it to look at."""

    def __init__(self) -> None:
        self.made: list[FakeProgram] = []

    def __call__(self, settings: Settings) -> FakeProgram:
        self.made.append(FakeProgram(settings))
        return self.made[-1]

    @property
    def asked(self) -> dict[str, Any]:
        return self.made[-1].asked
