"""Print how far nearness of films means alike play: the table of the decision on distances.

Each pattern of the library is laid in the bundled house, every line of the bundled bowler is
rolled there with every strike ball of the locker, and the best ones are told apart: where they
leave the oil, what they are worth, and what a line that is best on one pattern loses on another.
Beside the distance stand its parts, and what a number of the pattern alone would tell. Takes a
minute of CPU.

    python tools/relatives.py
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from importlib.resources import as_file, files
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from nextpair.application.settings import Settings
from nextpair.bootstrap import prepare_compiler

SEED, DRAWS = 7, 8
BANDS_FT = (2.5, 5.0, 7.5, 10.0, 15.0)
"""Distances between which borrowed lines are told together."""

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Played:
    """A pattern with what every line is worth there (balls, lay-downs, angles), and its best."""

    name: str
    length_ft: float
    ratio: float
    oil_ml: float
    film: FloatArray
    value: FloatArray
    exit_board: float

    @property
    def best(self) -> tuple[int, ...]:
        """Ball and line worth most."""
        return tuple(
            int(place) for place in np.unravel_index(self.value.argmax(), self.value.shape)
        )

    @property
    def pins(self) -> float:
        """What they are worth."""
        return float(self.value.max())


def played() -> list[Played]:
    """Every pattern of the library, played."""
    from nextpair import load_event
    from nextpair.application.film import pattern_card
    from nextpair.application.sheets import typical_weight_kg
    from nextpair.carry.table import load_table
    from nextpair.domain.ball import Role
    from nextpair.files import load_library
    from nextpair.kernel.layout import bodies_of
    from nextpair.kernel.throws import lane_kind
    from nextpair.physics.dressing import film_of
    from nextpair.physics.film_draws import drawn_films
    from nextpair.planning.aim import pin_value
    from nextpair.planning.doubt import lane_doubt
    from nextpair.planning.lines import line_grid, line_values
    from nextpair.planning.sheet import SPEED_KEPT
    from nextpair.planning.spare_shots import spare_chances

    with as_file(files("nextpair") / "demo") as folder:
        event = load_event(folder / "event.toml")
    bowler, house = event.bowler, replace(event.house, traits=())
    table = load_table(typical_weight_kg(event.locker), house.pinfall)
    spares = spare_chances(event, table.leaves, SEED)
    pins = pin_value(table, spares, SPEED_KEPT * bowler.release.speed_mps)
    doubt = lane_doubt(DRAWS, SEED)
    balls = [ball for ball in event.locker if ball.role is Role.STRIKE]
    found = []
    for pattern in load_library():
        laid = replace(event, house=house, left_pattern=pattern, right_pattern=pattern)
        film = film_of(pattern)
        values = line_values(
            drawn_films(film, film, doubt.oil, pattern.length_m),
            doubt.dry_factor,
            bowler.release,
            doubt.scatter_of(bowler.release, bowler.scatter),
            lane_kind(laid.lane(event.start_pair.lanes[0]), bowler.hand),
            bodies_of(balls, house, bowler.pap_m),
            pins,
            line_grid(bowler.reach, bowler.hand),
        )
        value, card = values.mean_value, pattern_card(pattern, film)
        best = np.unravel_index(value.argmax(), value.shape)
        exit_board = float(values.exit_board[best])
        found.append(
            Played(
                pattern.name, card.length_ft, card.ratio, card.volume_ml, film, value, exit_board
            )
        )
        print(
            f"{pattern.name:<18}{balls[int(best[0])].name:<16} exit {exit_board:4.1f}  "
            f"{value.max():5.1f} pins",
            flush=True,
        )
    return found


def main() -> None:
    """Play the library and print what distance says of it."""
    from scipy.stats import spearmanr

    from nextpair.planning.film_distance import film_distance

    lanes = played()
    pairs = list(combinations(lanes, 2))
    apart = [film_distance(one.film, other.film) for one, other in pairs]
    measures: Mapping[str, list[float]] = {
        "distance": [each.feet for each in apart],
        "grip": [each.grip_ft for each in apart],
        "across": [each.across_boards for each in apart],
        "oil": [each.oil_ml for each in apart],
        "length": [abs(one.length_ft - other.length_ft) for one, other in pairs],
        "volume": [abs(one.oil_ml - other.oil_ml) for one, other in pairs],
        "log of ratio": [abs(float(np.log(one.ratio / other.ratio))) for one, other in pairs],
    }
    plays: Mapping[str, Callable[[Played, Played], float]] = {
        "exit": lambda one, other: abs(one.exit_board - other.exit_board),
        "pins": lambda one, other: abs(one.pins - other.pins),
        "lines": lambda one, other: float(np.sqrt(np.mean((one.value - other.value) ** 2))),
        "borrowed": lambda one, other: 0.5 * (_lost(one, other) + _lost(other, one)),
    }
    told = {name: [play(*pair) for pair in pairs] for name, play in plays.items()}
    print(f"\nrank correlation over {len(pairs)} pairs with what differs in")
    print(f"{'':<14}" + "".join(f"{name:>10}" for name in told))
    for name, values in measures.items():
        ranks = [float(spearmanr(values, each).statistic) for each in told.values()]
        print(f"{name:<14}" + "".join(f"{rank:>10.2f}" for rank in ranks))
    _tell_borrowed(np.array(measures["distance"]), np.array(told["borrowed"]))


def _lost(home: Played, abroad: Played) -> float:
    """Pins a game that the best ball and line of one pattern lose on another."""
    return float(abroad.value.max() - abroad.value[home.best])


def _tell_borrowed(feet: FloatArray, lost: FloatArray) -> None:
    print("\nball and line of the other pattern lose, pins a game")
    band = np.searchsorted(BANDS_FT, feet)
    for number, (low, high) in enumerate(zip((0.0, *BANDS_FT), (*BANDS_FT, np.inf), strict=True)):
        if (here := lost[band == number]).size:
            told = f"{np.median(here):5.1f} in the middle, {here.max():5.1f} at most"
            print(f"  {low:4.1f} to {high:4.1f} ft  {here.size:>3} pairs  {told}")


if __name__ == "__main__":
    # As the program does it, before anything compiled is imported.
    prepare_compiler(Settings())
    main()
