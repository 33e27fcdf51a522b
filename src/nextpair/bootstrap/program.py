"""Everything the program can be asked: which use case answers what, with which adapters.

Nothing heavy is imported before it is used, so that help and errors are quick.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from nextpair.application.ports import Progress, unwatched
from nextpair.bootstrap.batches import Batches
from nextpair.bootstrap.compiler import prepare_compiler
from nextpair.bootstrap.shipped import Shipped
from nextpair.domain.house import Pinfall

if TYPE_CHECKING:
    from collections.abc import Sequence
    from uuid import UUID

    from nextpair.application.bundle import EventFolder, Papers
    from nextpair.application.film import FilmCard
    from nextpair.application.packing_at_home import PackedBy
    from nextpair.application.score_sheet import ScoreSheet
    from nextpair.application.shot_jottings import NotedShot
    from nextpair.domain.ball import Grit
    from nextpair.domain.belief import Read
    from nextpair.domain.bowler import Hand
    from nextpair.domain.carry import CarryMap
    from nextpair.domain.debrief import Debrief
    from nextpair.domain.event import Event
    from nextpair.domain.field_score import FieldScore
    from nextpair.domain.format import Counting
    from nextpair.domain.house_book import Visit
    from nextpair.domain.ledger import EventLedger, SeasonLedger
    from nextpair.domain.lesson import Lesson
    from nextpair.domain.pattern import Pattern
    from nextpair.domain.pocket import Pocket
    from nextpair.domain.proof import Proof
    from nextpair.domain.recap import Recap
    from nextpair.domain.record import Document
    from nextpair.domain.sheet import Sheet
    from nextpair.domain.shot import PathCard
    from nextpair.domain.shot_log import LoggedShot
    from nextpair.domain.spare import SpareSheet
    from nextpair.domain.stakes import Stakes
    from nextpair.domain.standing import Prospects, Standing
    from nextpair.domain.statistics import Luck


@dataclass(frozen=True, slots=True)
class Program(Batches, Shipped):
    """Everything the program can be asked, with the files and the compiler behind it."""

    def papers(self) -> Papers:
        """Checks, reads and writes documents and files."""
        from nextpair.files import FilePapers

        return FilePapers()

    def load_event(self, path: Path) -> Event:
        """An event folder, read whole. Raises InputRefusedError."""
        from nextpair.files import load_event

        return load_event(path)

    def load_folder(self, path: Path) -> EventFolder:
        """An event folder as documents, with its shots and scores. Raises InputRefusedError."""
        from nextpair.files import load_folder

        return load_folder(path)

    def load_pattern(self, path: Path) -> Pattern:
        """One pattern, of a file or of the library by its name. Raises InputRefusedError."""
        from nextpair.files import load_pattern

        return load_pattern(path)

    def load_shots(self, path: Path, event: Event) -> tuple[LoggedShot, ...]:
        """The shots of an event's log. Raises InputRefusedError."""
        from nextpair.files import load_shots

        return load_shots(path, event)

    def load_scores(self, path: Path) -> tuple[FieldScore, ...]:
        """The scores of a field. Raises InputRefusedError."""
        from nextpair.files import load_scores

        return load_scores(path)

    def score(self, path: Path, counting: Counting, name: str | None = None) -> ScoreSheet:
        """A score sheet checked, scored and counted, of everybody or of one bowler. Raises
        InputRefusedError, and InvalidValueError for a name that it does not hold."""
        from nextpair.application.score_sheet import score_sheet
        from nextpair.application.sheet_statistics import with_statistics
        from nextpair.files import load_score_sheet

        written = load_score_sheet(path, counting)
        return with_statistics(score_sheet(written, counting, name), written)

    def score_shots(self, path: Path, event: Event) -> ScoreSheet:
        """An event's shots scored and counted, with luck. Raises InputRefusedError."""
        from nextpair.application.sheet_statistics import with_shots
        from nextpair.application.shot_jottings import NotedShot

        shots = [NotedShot(shot, foul=False) for shot in self.load_shots(path, event)]
        sheet = self.score(path, event.format.counting)
        return with_shots(sheet, shots, event.bowler.hand, self.luck(event, shots))

    def load_shared_house(self, path: Path) -> tuple[Document, tuple[Visit, ...]]:
        """A house that was shared, and visits to it. Raises InputRefusedError."""
        from nextpair.files import load_shared_house

        return load_shared_house(path)

    def plan(
        self, event: Event, seed: int, progress: Progress = unwatched, read: Read | None = None
    ) -> Sheet:
        """The sheet of an event; with a read, of the games to come."""
        prepare_compiler(self.settings)
        from nextpair.application.sheets import plan

        return plan(event, seed, progress, read)

    def read(
        self,
        event: Event,
        shots: Sequence[LoggedShot],
        seed: int,
        progress: Progress = unwatched,
    ) -> Read:
        """What logged shots say. Raises InvalidValueError where they say nothing."""
        prepare_compiler(self.settings)
        from nextpair.application.reading import read

        return read(event, shots, seed, progress)

    def standing(self, event: Event, scores: Sequence[FieldScore], seed: int) -> Standing:
        """Where the event's bowler stands in the field."""
        # Its threads wait for each other longer than our small products take.
        os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
        from nextpair.application.standings import standing_of

        return standing_of(event, scores, seed)

    def debrief(
        self,
        event: Event,
        shots: Sequence[NotedShot],
        sheet: Sheet,
        seed: int,
        progress: Progress = unwatched,
        standing: Standing | None = None,
    ) -> Debrief:
        """What an event taught. Raises InvalidValueError where no shot tells anything."""
        prepare_compiler(self.settings)
        from nextpair.application.debrief import debrief

        return debrief(event, shots, sheet, seed, progress, standing=standing)

    def stakes(self, event: Event, scores: Sequence[FieldScore], seed: int) -> Stakes | None:
        """What side pots and brackets are worth; None where there is none to be shown."""
        from nextpair.application.stakes import stakes_of

        return stakes_of(event, scores, seed)

    def money(
        self, event: Event, prospects: Prospects | None = None, stakes: Stakes | None = None
    ) -> EventLedger:
        """The ledger of an event."""
        from nextpair.application.ledger import money_of_event

        return money_of_event(event, prospects, stakes)

    def season(self, events: Sequence[Event]) -> SeasonLedger:
        """The ledger of some events together."""
        from nextpair.application.ledger import season_ledger

        return season_ledger(events)

    def recap(
        self,
        event: Event,
        scores: Sequence[FieldScore],
        shots: Sequence[LoggedShot],
        lessons: Sequence[Lesson] = (),
        with_money: bool = False,
    ) -> Recap:
        """What of an event may be shown to anybody. Raises InvalidValueError without a game."""
        from nextpair.application.recap import recap_of
        from nextpair.application.shot_jottings import NotedShot

        noted = [NotedShot(shot, foul=False) for shot in shots]
        return recap_of(event, scores, noted, lessons, with_money)

    def luck(
        self,
        event: Event,
        shots: Sequence[NotedShot],
        sheet: Sheet | None = None,
        spares: SpareSheet | None = None,
    ) -> Luck:
        """The luck of the finished games of a log, by the sheet where there is one."""
        prepare_compiler(self.settings)
        from nextpair.application.event_luck import event_luck

        return event_luck(event, shots, sheet, spares)

    def measure_film(self, pattern: Pattern) -> FilmCard:
        """A pattern's fresh film, in numbers."""
        from nextpair.application.film import film_card

        return film_card(pattern)

    def roll_one(
        self,
        event: Event,
        ball_name: str,
        laydown_board: float,
        launch_angle_deg: float,
        lane: int | None = None,
        speed_mph: float | None = None,
        axis_rotation_deg: float | None = None,
        surface: Grit | None = None,
        by_hand: bool = False,
        at_ft: Sequence[float] = (),
        film_units: Sequence[Sequence[float]] | None = None,
        with_moves: bool = True,
    ) -> PathCard:
        """One shot of the event's bowler. Raises InvalidValueError for an unknown ball or lane."""
        prepare_compiler(self.settings)
        from nextpair.application.one_path import roll_one

        return roll_one(
            event,
            ball_name,
            laydown_board,
            launch_angle_deg,
            lane=lane,
            speed_mph=speed_mph,
            axis_rotation_deg=axis_rotation_deg,
            surface=surface,
            by_hand=by_hand,
            at_ft=at_ft,
            film_units=film_units,
            with_moves=with_moves,
        )

    def map_carry(
        self,
        ball_lb: float,
        speed_mph: float,
        hand: Hand,
        impact: tuple[float, float] | None = None,
        pinfall: Pinfall = Pinfall.FREE,
    ) -> CarryMap:
        """The carry table for one ball and speed, and one impact (offset, angle) in detail."""
        prepare_compiler(self.settings)
        from nextpair.application.carry_map import carry_map

        return carry_map(ball_lb, speed_mph, hand, impact, pinfall)

    def shoot_spares(self, event: Event, leave: str | None, seed: int) -> SpareSheet:
        """How to shoot one leave, or the commonest. Raises InvalidValueError for what is none."""
        prepare_compiler(self.settings)
        from nextpair.application.spare_plan import shoot_spares

        return shoot_spares(event, leave, seed)

    def shoot_every_spare(self, event: Event, seed: int) -> SpareSheet:
        """How to shoot every leave that has odds."""
        prepare_compiler(self.settings)
        from nextpair.application.spare_plan import shoot_every_spare

        return shoot_every_spare(event, seed)

    def fill_pocket(
        self,
        event: Event,
        seed: int,
        made_at: str,
        event_id: UUID | None = None,
        progress: Progress = unwatched,
        *,
        sheet: Sheet | None = None,
        packed: PackedBy | None = None,
    ) -> Pocket:
        """What the phone carries of an event, by its sheet or by a new one."""
        prepare_compiler(self.settings)
        from nextpair.application.packing_at_home import NOTHING_KEPT
        from nextpair.application.pocket import pocket_of

        packed = packed or NOTHING_KEPT
        return pocket_of(event, seed, made_at, event_id, progress, sheet=sheet, packed=packed)

    def prove(self, worlds: int, seed: int, progress: Progress = unwatched) -> Proof:
        """The planner against others in simulated worlds, on patterns of the library."""
        prepare_compiler(self.settings)
        from nextpair.application.proof import prove

        processes = self.settings.threads or os.cpu_count() or 1
        return prove(self.load_library(), worlds, seed, processes, progress)
