"""Who belongs together at an event, by hand, by pair and by squad, and what that is worth."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from nextpair.application.entries import Entries, Entry
from nextpair.application.intervals import HALF_OF_80
from nextpair.domain.standing import GroupOfField
from nextpair.tournament.effects import UNKNOWN, Effects, Grouping, effects_of
from nextpair.tournament.field_model import Floats, Wholes
from nextpair.tournament.form import average_effects, form_of

LEAST_BOWLERS = 3
"""A group of fewer says nothing that their own form would not."""
KINDS: dict[str, Callable[[Entry, int], str]] = {
    "hand": lambda entry, _game: entry.hand.value if entry.hand is not None else "",
    "pair": lambda entry, game: entry.pairs.get(game, ""),
    "squad": lambda entry, _game: entry.squad,
}


@dataclass(frozen=True, slots=True, eq=False)
class GroupEffects:
    """The groups of one kind, by name, with what they give or take."""

    kind: str
    names: tuple[str, ...]
    groups: Wholes = field(repr=False)
    effects: Effects


def group_effects(entries: Entries, with_handicap: bool) -> tuple[GroupEffects, ...]:
    """The effects of each kind of group, which is told for two groups or more."""
    games = entries.games_of(with_handicap)
    if np.isnan(games.pins).all():
        return ()
    form = form_of(games)
    told = {kind: _grouping(entries, games.pins, told_by) for kind, told_by in KINDS.items()}
    told = {kind: one for kind, one in told.items() if len(one[0]) > 1}
    number = Grouping(np.indices(games.pins.shape)[1], entries.games)
    groupings = [Grouping(groups, len(names)) for names, groups in told.values()]
    means = np.full(len(games.pins), np.nan)
    seen = ~np.isnan(games.pins).all(axis=1)
    means[seen] = np.nanmean(games.pins[seen], axis=1)
    promised = average_effects(means, games.squads, games.averages)
    effects = effects_of(
        games.pins - promised[:, None],
        [*groupings, number],
        form.game_sd_pins,
        form.bowler_sd_pins,
    )
    return tuple(
        GroupEffects(kind, names, groups, effect)
        for (kind, (names, groups)), effect in zip(told.items(), effects, strict=False)
    )


def groups_of_field(entries: Entries) -> tuple[GroupOfField, ...]:
    """Every group with its effect and the interval that holds it four times in five."""
    bowled = ~np.isnan(entries.pins(with_handicap=False))
    return tuple(
        GroupOfField(
            kind=one.kind,
            name=name,
            bowlers=int(((one.groups == place) & bowled).any(axis=1).sum()),
            games=int(((one.groups == place) & bowled).sum()),
            effect_pins=float(one.effects.pins[place]),
            effect_interval_80=_interval(one.effects, place),
        )
        for one in group_effects(entries, with_handicap=False)
        for place, name in enumerate(one.names)
    )


def pair_pins(entries: Entries) -> Floats:
    """(n, games) pins that the pair of each game gives or takes; 0 where it is not known."""
    effects = (one for one in group_effects(entries, with_handicap=True) if one.kind == "pair")
    pairs = next(effects, None)
    if pairs is None:
        return np.zeros((len(entries.all), entries.games))
    given = np.append(pairs.effects.pins, 0.0)
    pins: Floats = given[pairs.groups]
    return pins


def _grouping(
    entries: Entries, pins: Floats, told_by: Callable[[Entry, int], str]
) -> tuple[tuple[str, ...], Wholes]:
    """Names of the groups that are large enough, and the group of each game, to come or bowled."""
    labels = [
        [told_by(entry, game) for game in range(1, entries.games + 1)] for entry in entries.all
    ]
    bowled = ~np.isnan(pins)
    members: dict[str, set[int]] = {}
    for row, of_bowler in enumerate(labels):
        for label, is_bowled in zip(of_bowler, bowled[row], strict=True):
            if label and is_bowled:
                members.setdefault(label, set()).add(row)
    names = sorted(
        (name for name, rows in members.items() if len(rows) >= LEAST_BOWLERS), key=_lane
    )
    place_of = {name: place for place, name in enumerate(names)}
    groups = [[place_of.get(label, UNKNOWN) for label in of_bowler] for of_bowler in labels]
    return tuple(names), np.array(groups)


def _lane(name: str) -> tuple[int, str]:
    """Pairs in the order of their lanes, everything else by name."""
    lane = name.partition("-")[0]
    return int(lane) if lane.isdecimal() else 0, name


def _interval(effects: Effects, place: int) -> tuple[float, float]:
    middle, half = float(effects.pins[place]), HALF_OF_80 * float(effects.sd_pins[place])
    return middle - half, middle + half
