"""Every lane the bowler will meet, and what every line with every ball is worth there."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial

import numpy as np
from numpy.typing import NDArray

from nextpair.domain.ball import Ball
from nextpair.domain.bowler import Scatter
from nextpair.domain.event import Event, Pair
from nextpair.kernel.layout import Bodies, bodies_of, own_frame
from nextpair.kernel.throws import Form, LaneKind, lane_kind
from nextpair.physics.film_draws import drawn_films
from nextpair.planning.aim import PinValue
from nextpair.planning.doubt import Doubt
from nextpair.planning.lines import LineGrid, LineValues, line_grid, line_values
from nextpair.planning.options import in_game
from nextpair.planning.release_change import AS_USUAL, ReleaseChange
from nextpair.planning.traffic import LaneFilms

FloatArray = NDArray[np.float64]

ANSWERED_SHARE = 0.6
"""Share of a game's frames that a bowler throws after having moved to what the lane has shown; the
others are thrown as planned (assumption, tested by logged shots)."""
ALIKE_FILM_UM = 1e-3
"""Films of two lanes that differ nowhere by more are one film to a line: a thousandth of a usual
film moves no shot by a hundredth of a board."""


@dataclass(frozen=True, slots=True)
class LaneStudy:
    """One lane in one game, in the bowler's frame.

    fresh, start, middle : (120, 39) films [um] as laid, at the first shot of the game and half-way
        through it.
    films : (d, 120, 39), one for each draw of the doubt.
    form, inside_boards : see Doubt. likely : the lane and the day that start and middle are of.
    bodies : the options as their surfaces are by then, had they been thrown in every game.
    changes : how options are let go of otherwise than usual, where their values are of that.
    """

    game: int
    lane: int
    kind: LaneKind
    fresh: FloatArray
    start: FloatArray
    middle: FloatArray
    films: FloatArray
    dry_factor: FloatArray
    form: Form | None
    inside_boards: FloatArray | None
    likely: Doubt
    bodies: Bodies
    values: LineValues
    changes: Mapping[int, ReleaseChange] = field(default_factory=dict)

    @property
    def length_m(self) -> float:
        """Length of the pattern."""
        return self.kind.length_m


@dataclass(frozen=True, slots=True)
class Study:
    """All lanes of all games, with the options they were studied with."""

    event: Event
    options: tuple[Ball, ...]
    doubt: Doubt
    lanes: dict[tuple[int, int], LaneStudy]
    """By game and lane."""
    first_look: Study | None = None
    """The study of more options, more coarsely, from which these were taken."""

    def pair(self, game: int) -> Pair:
        """Pair of a game."""
        return self.event.pair_in_game(self.event.start_pair, game)

    def scatter(self, change: ReleaseChange = AS_USUAL) -> Scatter:
        """The bowler's under a change of release, about what is known of the day."""
        bowler = self.event.bowler
        return self.doubt.scatter_of(bowler.release, change.scattered(bowler.scatter))

    def of_game(self, game: int) -> tuple[LaneStudy, LaneStudy]:
        """Both lanes of a game's pair, left lane first."""
        left, right = self.pair(game).lanes
        return self.lanes[game, left], self.lanes[game, right]

    @property
    def planned_values(self) -> FloatArray:
        """Expected pins (o, g) of each option with the lines that are best before any shot."""
        return self._by_game(lambda values: values.best_value())

    @property
    def answered_values(self) -> FloatArray:
        """Expected pins (o, g, d) of each option with the lines that are best once the lane has
        shown which draw of the doubt it is."""
        return self._by_game(lambda values: np.asarray(values.value.max(axis=(2, 3)), float))

    @property
    def game_values(self) -> FloatArray:
        """Expected pins (o, g) of each option over a game: as planned, then answered."""
        answered = self.answered_values.mean(axis=2)
        return np.asarray((1 - ANSWERED_SHARE) * self.planned_values + ANSWERED_SHARE * answered)

    def _by_game(self, measure: Callable[[LineValues], FloatArray]) -> FloatArray:
        """A measure of each option's lines (o, ...), mean over a pair, stacked by game."""
        return np.stack(
            [
                np.mean([measure(lane.values) for lane in self.of_game(game)], axis=0)
                for game in range(1, self.event.games + 1)
            ],
            axis=1,
        )


def value_over_game(value: NDArray[np.float32]) -> float:
    """Expected pins of one option's lines (d, l, f) over a game: as planned, then answered."""
    planned = value.mean(axis=0, dtype=float).max()
    answered = value.max(axis=(1, 2)).mean(dtype=float)
    return float((1 - ANSWERED_SHARE) * planned + ANSWERED_SHARE * answered)


def lane_study(
    event: Event,
    options: tuple[Ball, ...],
    doubt: Doubt,
    films: LaneFilms,
    pins: PinValue,
    progress: Callable[[str, int, int], None],
    *,
    grid: LineGrid | None = None,
) -> Study:
    """Study every lane of every game of the bowler.

    `grid` of lines left out is all that the bowler can repeat.
    """
    bowler = event.bowler
    lanes: dict[tuple[int, int], LaneStudy] = {}
    for game in range(1, event.games + 1):
        bodies = bodies_of(
            [in_game(event, ball, game) for ball in options], event.house, bowler.pap_m
        )
        value = partial(
            line_values,
            release=bowler.release,
            scatter=doubt.scatter_of(bowler.release, bowler.scatter),
            bodies=bodies,
            pins=pins,
            grid=grid or line_grid(bowler.reach, bowler.hand),
            form=doubt.form,
        )
        beside: LaneStudy | None = None
        for lane in event.pair_in_game(event.start_pair, game).lanes:
            beside = _study(event, game, lane, bodies, doubt, films, value, beside)
            lanes[game, lane] = beside
            progress("trying every line", len(lanes), 2 * event.games)
    return Study(event, options, doubt, lanes)


def _study(
    event: Event,
    game: int,
    lane: int,
    bodies: Bodies,
    doubt: Doubt,
    films: LaneFilms,
    value: Callable[..., LineValues],
    beside: LaneStudy | None,
) -> LaneStudy:
    """Study one lane; one like the lane `beside` it takes its values from there."""
    hand = event.bowler.hand
    fresh, start, end, starts, ends = (
        np.ascontiguousarray(own_frame(film, hand))
        for film in (
            films.fresh[lane],
            films.at(lane, game),
            films.at(lane, game + 1),
            films.drawn(lane, game, doubt.traffic),
            films.drawn(lane, game + 1, doubt.traffic),
        )
    )
    kind, own = lane_kind(event.lane(lane), hand), doubt.of_lane(lane)
    drawn = doubted_films(fresh, starts, ends, own, kind.length_m)
    likely = own.likely
    start, end = (drawn_films(fresh, film, likely.oil, kind.length_m)[0] for film in (start, end))
    known = beside is not None and _are_alike(beside, kind, drawn, own)
    return LaneStudy(
        game=game,
        lane=lane,
        kind=kind,
        fresh=fresh,
        start=start,
        middle=0.5 * (start + end),
        films=drawn,
        dry_factor=own.dry_factor,
        form=own.form,
        inside_boards=own.inside_boards,
        likely=likely,
        bodies=bodies,
        values=beside.values
        if beside is not None and known
        else value(drawn, own.dry_factor, kind=kind, inside_boards=own.inside_boards),
    )


def _are_alike(other: LaneStudy, kind: LaneKind, films: FloatArray, doubt: Doubt) -> bool:
    """Whether another lane is so near that lines are worth the same on both."""
    return (
        kind.is_like(other.kind)
        and doubt.inside_boards is other.inside_boards is None
        and np.array_equal(doubt.dry_factor, other.dry_factor)
        and bool(np.abs(films - other.films).max() <= ALIKE_FILM_UM)
    )


def doubted_films(
    fresh: FloatArray, start: FloatArray, end: FloatArray, doubt: Doubt, length_m: float
) -> FloatArray:
    """Films (d, 120, 39) of one lane: laid and worn otherwise than planned, sooner or later in the
    game. `start` and `end` are one film or one for each draw; the pattern's length is on paper."""
    share = doubt.time[:, None, None]
    return drawn_films(fresh, start + share * (end - start), doubt.oil, length_m)
