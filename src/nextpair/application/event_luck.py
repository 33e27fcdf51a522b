"""The luck of an event's logged games: against the sheet where there is one, else against the
bowler's own usual."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from nextpair.application.entry_chances import (
    USUAL_ANGLE_DEG,
    Entering,
    chances_of,
    mixed,
    planned_entering,
    usual_entering,
)
from nextpair.application.luck import LeaveChances, SpareChance, luck_of_game
from nextpair.application.met_racks import MetRack, game_of_racks, racks_of_shots
from nextpair.application.sheets import typical_weight_kg
from nextpair.application.shot_jottings import NotedShot
from nextpair.carry.table import CarryTable, load_table
from nextpair.domain.bowler import Hand
from nextpair.domain.event import Event
from nextpair.domain.sheet import Sheet
from nextpair.domain.spare import SpareSheet
from nextpair.domain.statistics import GameLuck, Luck
from nextpair.scoring.game_value import MOST_RACKS
from nextpair.scoring.leaves import LeaveKind, leave_kind, parse_leave

Lane = tuple[int, int]
"""A game, and a lane of its pair."""
LEAST_SEEN = 10
"""From so many entries on they tell a bowler's own usual."""
USUAL_SPARES = {
    LeaveKind.SINGLE_PIN: 0.87,
    LeaveKind.MAKEABLE: 0.65,
    LeaveKind.SPLIT: 0.15,
    LeaveKind.WASHOUT: 0.35,
}
"""Chances of a spare where nothing else is known: single pins of a 200-average bowler, [facts]
section 9; the others are assumptions, tested by how often they are made."""
PRIOR_TRIES = 10
"""Tries of one's own that the usual chance weighs as much as. Assumption."""

BY_SHEET = "Expected of the line: entries as the sheet plans them, with your own scatter."
BY_USUAL = (
    "No sheet says what was planned, so the line is held against your own usual entries in these "
    f"games, at {USUAL_ANGLE_DEG:g} degrees: over all of them it comes to about nothing."
)
BY_LEAVES = (
    "Too few entries were seen to tell line from carry: first balls are held against all your "
    "own of these games."
)
PARTLY_SEEN = (
    "Where nobody saw a ball come in, its line and its carry cannot be told apart: they stand "
    "together."
)
SPARES_BY_SHEET = "Spares are held against your chances at each leave, as computed for this event."
SPARES_BY_RECORD = (
    "Spares are held against your other games' record at such leaves, and usual chances worth "
    f"{PRIOR_TRIES} tries."
)
ESTIMATED = (
    "Carry is held against simulated racks; what a game says of luck is itself only as good as "
    "the boards that you saw."
)


def event_luck(
    event: Event,
    shots: Sequence[NotedShot],
    sheet: Sheet | None = None,
    spares: SpareSheet | None = None,
) -> Luck:
    """The luck of every finished game of the shots.

    sheet : what was planned; without it the bowler's own usual stands for that.
    spares : own chances at leaves, where they were computed.
    """
    racks = racks_of_shots(shots)
    games = tuple(
        of_game
        for _, met in groupby(racks, key=lambda rack: rack.game)
        if game_of_racks(of_game := tuple(met), event.format.counting) is not None
    )
    if not games:
        return Luck((), ())
    table = load_table(typical_weight_kg(event.locker), event.house.pinfall)
    first_balls = _FirstBalls(racks, event.bowler.hand, table, sheet)
    told = tuple(
        luck_of_game(
            game,
            [first_balls.expected(game[min(place, len(game) - 1)]) for place in range(MOST_RACKS)],
            {
                rack.place: chances
                for rack in game
                if (chances := first_balls.came_in(rack)) is not None
            },
            _spare_chance(racks, game[0].game, spares),
            event.format.counting,
        )
        for game in games
    )
    return Luck(told, tuple(_notes(told, first_balls, spares)))


class _FirstBalls:
    """What a bowler's first balls were to leave, and what they leave where they came in."""

    def __init__(
        self, racks: Sequence[MetRack], hand: Hand, table: CarryTable, sheet: Sheet | None
    ) -> None:
        self._hand, self._table = hand, table
        self._own_leaves = mixed({rack.leave or 0: 1.0} for rack in racks)
        self._planned = dict(_planned(sheet))
        boards = [rack.own_entry_boards(hand) for rack in racks]
        seen = [one for one in boards if one is not None]
        self.usual = usual_entering(seen) if len(seen) >= LEAST_SEEN else None
        self.is_planned = any(_lane_of(rack) in self._planned for rack in racks)
        self.is_usual = not all(_lane_of(rack) in self._planned for rack in racks)
        self._of_plan = {
            lane: chances_of(table, hand, entering) for lane, entering in self._planned.items()
        }
        self._of_usual = self._usual_chances(seen)

    def expected(self, rack: MetRack) -> LeaveChances:
        """What was to be expected of a rack."""
        return self._of_plan.get(_lane_of(rack), self._of_usual)

    def came_in(self, rack: MetRack) -> LeaveChances | None:
        """What the entry that was seen leaves; None where nobody saw it."""
        boards = rack.own_entry_boards(self._hand)
        entering = self._planned.get(_lane_of(rack), self.usual)
        if boards is None or entering is None:
            return None
        return chances_of(self._table, self._hand, entering.given(boards))

    def _usual_chances(self, seen: Sequence[float]) -> LeaveChances:
        if self.usual is None:
            return self._own_leaves
        usual = self.usual
        return mixed(chances_of(self._table, self._hand, usual.given(boards)) for boards in seen)


def _planned(sheet: Sheet | None) -> Iterator[tuple[Lane, Entering]]:
    for card in sheet.games if sheet is not None else ():
        for lane in card.lanes:
            if lane.band_boards:
                yield (card.game, lane.lane), planned_entering(lane)


def _lane_of(rack: MetRack) -> Lane:
    return rack.game, 0 if rack.shot is None else rack.shot.lane


def _spare_chance(racks: Sequence[MetRack], game: int, spares: SpareSheet | None) -> SpareChance:
    """Own chance of a leave's spare in a game: as computed, else by the other games' record."""
    computed = {
        parse_leave(card.leave): card.best.probability
        for card in (spares.spares if spares is not None else ())
    }
    made = dict.fromkeys(LeaveKind, 0)
    tried = dict.fromkeys(LeaveKind, 0)
    for rack in racks:
        if rack.kind is not None and rack.second is not None and rack.game != game:
            made[rack.kind] += rack.is_spare
            tried[rack.kind] += 1

    def chance(leave: int) -> float:
        kind = leave_kind(leave)
        by_record = made[kind] + PRIOR_TRIES * USUAL_SPARES[kind]
        return computed.get(leave, by_record / (tried[kind] + PRIOR_TRIES))

    return chance


def _notes(
    games: Sequence[GameLuck], first_balls: _FirstBalls, spares: SpareSheet | None
) -> Iterator[str]:
    if first_balls.is_planned:
        yield BY_SHEET
    if first_balls.is_usual:
        yield BY_LEAVES if first_balls.usual is None else BY_USUAL
    if any(game.line_and_carry_pins is not None for game in games):
        yield PARTLY_SEEN
    yield SPARES_BY_RECORD if spares is None else SPARES_BY_SHEET
    yield ESTIMATED
