"""Everybody at an event with their games: what was written down of them, what the event's own
squad sheet adds, and those of whom nothing is known yet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from nextpair.domain.bowler import Hand
from nextpair.domain.event import Entrant, Event
from nextpair.domain.field_score import FieldScore
from nextpair.scoring.averages import handicap_by
from nextpair.tournament.field_model import Floats
from nextpair.tournament.form import FieldGames

NOT_TOLD = ""


@dataclass(frozen=True, slots=True)
class Entry:
    """One who entered; nameless where nobody saw them yet.

    games : scores by game; where the event has a rule, one without handicap has the bowler's.
    handicap : pins added to each game to come.
    pairs : pair of every game of the event, where it is known.
    """

    name: str
    squad: str
    games: Mapping[int, FieldScore] = field(repr=False)
    hand: Hand | None = None
    average: int | None = None
    handicap: int = 0
    pairs: Mapping[int, str] = field(default_factory=dict, repr=False)

    @property
    def total(self) -> int:
        """Pins so far, handicap added."""
        return sum(score.total for score in self.games.values())

    @property
    def rate_pins(self) -> float:
        """Pins a game so far, handicap added; below all others without a game."""
        return self.total / len(self.games) if self.games else -1.0


@dataclass(frozen=True, slots=True)
class Entries:
    """All who entered, the bowler among them, in one order; everybody bowls so many `games`."""

    all: tuple[Entry, ...]
    me: int
    games: int

    @property
    def seen(self) -> tuple[Entry, ...]:
        """Those with a game."""
        return tuple(one for one in self.all if one.games)

    @property
    def own(self) -> Entry:
        """The bowler's."""
        return self.all[self.me]

    def pins(self, with_handicap: bool) -> Floats:
        """(n, games) pins of each game, not a number for one that nobody wrote down."""
        table = np.full((len(self.all), self.games), np.nan)
        for row, one in enumerate(self.all):
            for game, score in one.games.items():
                table[row, game - 1] = score.total if with_handicap else score.score
        return table

    def games_of(self, with_handicap: bool) -> FieldGames:
        """The games as the field's form is made of them."""
        squads = {name: number for number, name in enumerate(self.squad_names)}
        averages = [
            np.nan if one.average is None else one.average + one.handicap * with_handicap
            for one in self.all
        ]
        return FieldGames(
            pins=self.pins(with_handicap),
            squads=np.array([squads[one.squad] for one in self.all]),
            averages=np.array(averages, dtype=float),
        )

    @property
    def squad_names(self) -> tuple[str, ...]:
        """Names of the squads, in the order in which they turn up."""
        return tuple(dict.fromkeys(one.squad for one in self.all))


def entries_of(event: Event, scores: Sequence[FieldScore]) -> Entries:
    """Everybody at an event. Scores past the games that everybody bowls are passed over."""
    of: dict[str, dict[int, FieldScore]] = {}
    for score in scores:
        if score.game <= event.games:
            of.setdefault(score.name, {})[score.game] = score
    of.setdefault(event.bowler_name, {})
    listed = {entrant.name: entrant for entrant in event.squad}
    own_squad = _own_squad(of, listed)
    named = [_entry(event, name, games, listed.get(name), own_squad) for name, games in of.items()]
    nameless = _nameless(event, named, own_squad)
    return Entries((*named, *nameless), list(of).index(event.bowler_name), event.games)


def _own_squad(of: Mapping[str, Mapping[int, FieldScore]], listed: Mapping[str, Entrant]) -> str:
    """What scores call the squad of the event's sheet; a name of ours where they don't."""
    said = Counter(
        score.squad
        for name, games in of.items()
        if name in listed
        for score in games.values()
        if score.squad
    )
    return said.most_common(1)[0][0] if said else "yours"


def _entry(
    event: Event,
    name: str,
    games: Mapping[int, FieldScore],
    listed: Entrant | None,
    own_squad: str,
) -> Entry:
    told = [games[game] for game in sorted(games)]
    last = {
        fact: next((value for score in reversed(told) if (value := getattr(score, fact))), None)
        for fact in ("squad", "hand", "average", "handicap")
    }
    pairs = {game: score.pair for game, score in games.items() if score.pair}
    if listed is not None:
        ours = {
            game: str(event.pair_in_game(listed.pair, game)) for game in range(1, event.games + 1)
        }
        pairs = ours | pairs
    average = last["average"]
    if average is None and name == event.bowler_name and event.bowler.average is not None:
        average = int(event.bowler.average)
    handicap = last["handicap"] or _by_rule(event, average)
    return Entry(
        name=name,
        squad=last["squad"] or (own_squad if listed is not None else NOT_TOLD),
        games={
            game: score if score.handicap else replace(score, handicap=handicap)
            for game, score in games.items()
        }
        if event.format.handicap is not None
        else games,
        hand=last["hand"] or (listed.hand if listed is not None else None),
        average=average,
        handicap=handicap,
        pairs=pairs,
    )


def _by_rule(event: Event, average: int | None) -> int:
    """Handicap of an average, where the event gives any."""
    rule = event.format.handicap
    if rule is None or average is None:
        return 0
    return handicap_by(rule, average)


def _nameless(event: Event, named: Sequence[Entry], own_squad: str) -> list[Entry]:
    """Those who entered and have no score yet: first who is missing of the own squad, then squads
    no larger than those that are known."""
    sizes = Counter(one.squad for one in named)
    missing = event.money.entries - len(named)
    ours = max(0, len(event.squad) - sizes[own_squad])
    missing = max(missing, ours)
    size = max(len(event.squad), *sizes.values())
    usual = round(float(np.mean([one.handicap for one in named])))
    squads = [own_squad] * ours + [
        f"to come {1 + place // size}" for place in range(missing - ours)
    ]
    return [Entry(NOT_TOLD, squad, {}, handicap=usual) for squad in squads]
