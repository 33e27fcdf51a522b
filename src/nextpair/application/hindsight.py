"""An event as it is believed to have been once all of its shots are read: every lane of every
game, and what each ball and line was worth there."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from nextpair.application.believed import belief_of, doubt_of
from nextpair.application.entry_chances import told_chances
from nextpair.application.lane_story import ball_thrown, share_of_stage
from nextpair.application.luck import LeaveChances
from nextpair.application.meant_line import meant_line
from nextpair.application.played_lines import line_boards
from nextpair.application.ports import Progress
from nextpair.application.reading import Groundwork, reading_of
from nextpair.domain.ball import Ball, Grit, Role, Surface, Tool
from nextpair.domain.entry import level_boards
from nextpair.domain.errors import InvalidValueError, require, require_within
from nextpair.domain.event import Event
from nextpair.domain.shot_log import PRACTICE, LoggedShot
from nextpair.domain.sight import ENTRY_ERROR_BOARDS
from nextpair.domain.unknowns import SHARED
from nextpair.kernel.layout import Bodies, bodies_of
from nextpair.kernel.roll import roll
from nextpair.kernel.throws import (
    NO_ERRORS,
    Errors,
    own_boards_of,
    release_errors,
    usual_form,
)
from nextpair.planning.doubt import Doubt
from nextpair.planning.next_move import LaneNow, lane_now
from nextpair.planning.options import ball_options
from nextpair.planning.study import Study, lane_study
from nextpair.planning.traffic import LaneFilms
from nextpair.planning.trial import Line, line_shots
from nextpair.reading.update import Reading

FloatArray = NDArray[np.float64]

DRAWS = 24
"""Draws of the belief under which everything is valued, as for the next shot."""
ERRORS = 24


@dataclass(frozen=True, slots=True)
class Expectation:
    """What first balls of a line leave.

    level_boards : (n,) where each of n rolled ones crosses the head pin's row, to the bowler's
    side of it; not a number where it does not come so far. chances : (n, leaves) of each.
    """

    leaves: LeaveChances
    level_boards: FloatArray
    chances: FloatArray

    def given(self, seen_boards: float) -> FloatArray:
        """Chances (leaves,) once somebody has seen where a ball came in: of those that come in
        there, as well as one sees. Over all that may be seen they are those of any that comes in.

        Source: closed form, Bayes' theorem for equally likely balls and a normal error.
        """
        off = (seen_boards - self.level_boards) / ENTRY_ERROR_BOARDS
        log = np.where(np.isnan(off), -np.inf, -0.5 * off**2)
        weight = np.exp(log - log.max()) if np.isfinite(log).any() else np.ones(len(log))
        return np.asarray(weight @ self.chances / weight.sum())


@dataclass(frozen=True)
class Hindsight:
    """What is believed of an event after all of its shots.

    options : balls as they were finished, or could have been. thrown : rows of those that were.
    believed : the lanes and the day.
    """

    event: Event
    ground: Groundwork
    reading: Reading
    options: tuple[Ball, ...]
    thrown: tuple[int, ...]
    believed: Doubt
    seed: int
    progress: Progress

    @cached_property
    def study(self) -> Study:
        """Every lane of every game as it is believed to have been."""
        return self._study(self.believed)

    @cached_property
    def as_released(self) -> Study:
        """The same lanes, met with the release that the bowler's file has."""
        return self._study(replace(self.believed, form=usual_form(len(self.believed))))

    @cached_property
    def errors(self) -> Errors:
        """The bowler's own, the same for everything that is compared."""
        return release_errors(self.event.bowler.scatter, ERRORS, self.seed)

    def now(self, shot: LoggedShot) -> LaneNow:
        """The lane of a shot when it was thrown."""
        return lane_now(
            self.event,
            self.ground.films,
            self.believed,
            shot.lane,
            shot.game,
            self.share_of(shot),
        )

    def share_of(self, shot: LoggedShot) -> float:
        """How much of its game was over when a shot was thrown."""
        return share_of_stage(self.event, shot)

    def values_of(self, game: int, lane: int, line: Line) -> FloatArray:
        """Value (d,) [pins a game] of a line on a lane of a game, by the final belief."""
        values = self.study.lanes[game, lane].values
        row, column = values.grid.cell_of(line.own_laydown, line.angle_rad)
        return np.asarray(values.value[line.option, :, row, column], float)

    def meant_line(self, shot: LoggedShot, now: LaneNow) -> Line | None:
        """The line that a shot was meant on, or else was seen on; None where nobody told."""
        boards = line_boards(shot)
        if boards is None:
            return None
        return meant_line(
            boards,
            self.option_of(shot),
            self.event.bowler.hand,
            lambda line: self._crosses(line, now, shot),
        )

    def expectation(self, line: Line, now: LaneNow, shot: LoggedShot) -> Expectation:
        """What a shot from a line was to do, with the bowler's scatter and what is not known."""
        bowler, table = self.event.bowler, self.ground.table
        shots = line_shots(
            replace(line, option=0),
            bowler.release,
            now.kind,
            self.errors,
            now.form,
            film=np.arange(len(now.films)),
            dry_factor=now.dry_factor,
        )
        paths = roll(now.kind.under(now.films), self._bodies(shot), shots)
        inside = np.repeat(now.inside_boards, len(self.errors))
        impact = paths.impact
        rows = table.leave_probability(
            impact.offset_boards - inside, impact.entry_angle_deg, impact.speed_mps
        )
        level = [
            level_boards(*place)
            for place in zip(impact.offset_boards - inside, impact.entry_angle_deg, strict=True)
        ]
        return Expectation(
            told_chances(table, bowler.hand, rows.mean(axis=0)), np.array(level), rows
        )

    def told_share(self, shots: Sequence[LoggedShot]) -> float:
        """How much of the doubt about the lanes some of the shots took away by themselves: of the
        variance of what all lanes share, that which they told most of, 0 to 1."""
        by_them = reading_of(self.event, shots, self.ground, self.seed)
        if not by_them.used.any():
            return 0.0
        names = [unknown.name for unknown in SHARED]
        places = [by_them.prior.place(name) for name in names]
        left = (by_them.sd[places] / by_them.prior.sd[places]) ** 2
        return float(np.clip(1.0 - left.min(), 0.0, 1.0))

    def option_of(self, shot: LoggedShot) -> int:
        """The option that a logged shot was thrown with."""
        return self.options.index(finished_as(self.event, shot))

    def option_named(self, ball: str, surface_grit: Grit) -> int:
        """The option of a sheet's ball, from a spinner where there is one: games say no tool.

        Raises InvalidValueError for one that the event does not have.
        """
        named = [
            number
            for number, option in enumerate(self.options)
            if (option.name, option.surface.named) == (ball, surface_grit)
        ]
        if not named:
            found = f"{ball} at {surface_grit}"
            raise InvalidValueError("sheet", found, "a sheet of the event as it is now")
        return max(named, key=lambda number: self.options[number].surface.by is Tool.SPINNER)

    def _crosses(self, line: Line, now: LaneNow, shot: LoggedShot) -> float:
        """Own board at the arrows of a meant shot, in one draw: up to there they hardly differ."""
        paths = roll(
            now.kind.under(now.films[:1]),
            self._bodies(shot),
            line_shots(
                replace(line, option=0),
                self.event.bowler.release,
                now.kind,
                NO_ERRORS,
                dry_factor=now.dry_factor[:1],
            ),
        )
        return float(own_boards_of(paths.arrows_x_m[0]))

    def _bodies(self, shot: LoggedShot) -> Bodies:
        return bodies_of(
            [ball_thrown(self.event, shot)], self.event.house, self.event.bowler.pap_m
        )

    def _study(self, doubt: Doubt) -> Study:
        films: LaneFilms = self.ground.films
        return lane_study(self.event, self.options, doubt, films, self.ground.pins, self.progress)


def hindsight_of(
    event: Event,
    shots: Sequence[LoggedShot],
    planned: Iterable[Ball],
    ground: Groundwork,
    seed: int,
    progress: Progress,
) -> Hindsight:
    """What is believed after some shots at full racks. `planned` are the balls of the sheet.

    Raises InvalidValueError for shots that the event cannot have.
    """
    for shot in shots:
        _require_possible(event, shot)
    reading = reading_of(event, shots, ground, seed)
    thrown = tuple(dict.fromkeys(finished_as(event, shot) for shot in shots))
    options = _options(event, thrown, planned)
    return Hindsight(
        event=event,
        ground=ground,
        reading=reading,
        options=options,
        thrown=tuple(map(options.index, thrown)),
        believed=doubt_of(belief_of(reading), event.bowler, DRAWS, seed),
        seed=seed,
        progress=progress,
    )


def _require_possible(event: Event, shot: LoggedShot) -> None:
    """Raises InvalidValueError for a shot of a game or on a lane that was not bowled on."""
    require_within("game", shot.game, PRACTICE, event.games, "games of the event")
    pair = event.pair_in_game(event.start_pair, max(shot.game, 1))
    require(shot.lane in pair.lanes, f"lane of game {shot.game}", shot.lane, f"a lane of {pair}")


def finished_as(event: Event, shot: LoggedShot) -> Ball:
    """A shot's ball with the surface that the log says, as it was before the first game."""
    ball = next(ball for ball in event.locker if ball.name == shot.ball)
    if shot.surface_grit is None:
        return ball
    return replace(ball, surface=Surface.put_on(shot.surface_grit))


def _options(event: Event, thrown: Sequence[Ball], planned: Iterable[Ball]) -> tuple[Ball, ...]:
    """The balls that were thrown or planned, as they were and as the rules let them be finished;
    and the strike balls of the locker as they are."""
    planned = tuple(planned)
    names = {ball.name for ball in (*thrown, *planned)}
    could_be = (ball for ball in ball_options(event) if ball.name in names)
    as_owned = (ball for ball in event.locker if ball.role is Role.STRIKE)
    return tuple(dict.fromkeys((*thrown, *planned, *could_be, *as_owned)))
