"""What follows the games that everybody bowls, stage by stage, to everybody's final place.

Who goes out in a stage keeps the place by which they went out. Equal pins are put in order by lot,
since a roll-off between them is anybody's: at the cut that gives everybody the share of the last
places that `cut.places_held` gives them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from nextpair.domain.field_score import HIGHEST
from nextpair.domain.format import PinsTaken, Stage, StageKind
from nextpair.tournament.drawn_form import draw_forms
from nextpair.tournament.elimination import double_elimination, single_elimination
from nextpair.tournament.field_model import FieldModel, Floats, Wholes
from nextpair.tournament.match import MatchPlay
from nextpair.tournament.round_robin import block_pins, round_robin
from nextpair.tournament.step_ladder import step_ladder

BY_MATCHES = {
    StageKind.SINGLE_ELIMINATION: single_elimination,
    StageKind.DOUBLE_ELIMINATION: double_elimination,
    StageKind.STEP_LADDER: step_ladder,
}


@dataclass(frozen=True, slots=True, eq=False)
class Finish:
    """How everybody finished, draw by draw.

    places : (draws, n) final place of every bowler, from 1; nobody shares one.
    stages : of each stage (draws, entrants) bowlers by their place in it.
    """

    places: Wholes = field(repr=False)
    stages: tuple[Wholes, ...] = field(repr=False)


@dataclass(frozen=True, slots=True, eq=False)
class Entrants:
    """Who is in a stage, (draws, k), the best seed first.

    bowlers : their numbers in the field. pins : what counts so far.
    form_pins, most_pins : mean of a game, and what nobody passes in one.
    """

    bowlers: Wholes = field(repr=False)
    pins: Wholes = field(repr=False)
    form_pins: Floats = field(repr=False)
    most_pins: Wholes = field(repr=False)

    def by_place(self, seeds: Wholes, pins: Wholes) -> Entrants:
        """The same in another order, with the pins that every seed has by now."""
        return Entrants(
            np.take_along_axis(self.bowlers, seeds, axis=1),
            np.take_along_axis(pins, seeds, axis=1),
            np.take_along_axis(self.form_pins, seeds, axis=1),
            np.take_along_axis(self.most_pins, seeds, axis=1),
        )

    def first(self, many: int) -> Entrants:
        """The best of them."""
        return Entrants(
            self.bowlers[:, :many],
            self.pins[:, :many],
            self.form_pins[:, :many],
            self.most_pins[:, :many],
        )


def finish_of(
    stages: Sequence[Stage], model: FieldModel, totals: Wholes, rng: np.random.Generator
) -> Finish:
    """Final places of a field that ends its games with these totals, (draws, n)."""
    order = by_lot(totals, rng)
    bowled = []
    if stages:
        forms = draw_forms(model, totals, rng)
        left = _seeded(order[:, : stages[0].entrants], model, totals, forms)
    for stage in stages:
        left = after(stage, left.first(stage.entrants), model.game_sd_pins, rng)
        order[:, : left.bowlers.shape[1]] = left.bowlers
        bowled.append(left.bowlers)
    places = np.empty_like(order)
    np.put_along_axis(places, order, np.arange(1, order.shape[1] + 1)[None, :], axis=1)
    return Finish(places, tuple(bowled))


def after(
    stage: Stage, entrants: Entrants, game_sd_pins: float, rng: np.random.Generator
) -> Entrants:
    """Those in a stage by their place in it. Pins of matches that are won or lost count no more
    once they are over; those of a block or a round robin do."""
    play = MatchPlay(entrants.form_pins, game_sd_pins, stage.games, rng)
    if by_matches := BY_MATCHES.get(stage.kind):
        return entrants.by_place(by_matches(play), entrants.pins)
    if stage.kind is StageKind.ROUND_ROBIN:
        pins = round_robin(play, entrants.most_pins, stage.win_bonus_pins, stage.tie_bonus_pins)
    else:
        pins = block_pins(play, entrants.form_pins, entrants.most_pins)
    if stage.pins is PinsTaken.CARRIED:
        pins = pins + entrants.pins
    return entrants.by_place(by_lot(pins, rng), pins)


def by_lot(pins: Wholes, rng: np.random.Generator) -> Wholes:
    """(draws, n) numbers of bowlers, most pins first, equal ones in an order drawn by lot."""
    return np.argsort(rng.random(pins.shape) - pins, axis=1)


def _seeded(bowlers: Wholes, model: FieldModel, totals: Wholes, forms: Floats) -> Entrants:
    """Those who made the cut, by their totals."""
    added = np.zeros(len(model.names), dtype=np.int64)
    most = HIGHEST + (added if model.handicaps is None else model.handicaps)
    return Entrants(
        bowlers,
        np.take_along_axis(totals, bowlers, axis=1),
        np.take_along_axis(forms, bowlers, axis=1),
        most[bowlers],
    )
