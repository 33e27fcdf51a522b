"""Where a bowler stands at an event: the field so far, how it scores, and what the cut asks."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence

import numpy as np

from nextpair.application.conditions import condition_of
from nextpair.application.entries import Entries, Entry, entries_of
from nextpair.application.field_models import field_model
from nextpair.application.prospects import prospects_of
from nextpair.domain.event import Event
from nextpair.domain.field_score import HIGHEST, FieldScore
from nextpair.domain.standing import Cut, FieldPlace, Needed, Standing
from nextpair.tournament.cut import CutOutlook, cut_by_draws
from nextpair.tournament.field_model import FieldModel, Floats, Wholes
from nextpair.tournament.totals import draw_totals

DRAWS, FEWEST_DRAWS = 4000, 400
MOST_TOTALS = 4_000_000
"""That are drawn at once."""
CHANCES = (0.5, 0.8, 0.95)
"""For which the needed total is told."""
MOST_NAMED = 5


def standing_of(
    event: Event, scores: Sequence[FieldScore], seed: int, draws: int = DRAWS
) -> Standing:
    """Where the event's bowler stands by everybody's scores; a huge field has fewer draws."""
    entries = entries_of(event, scores)
    model = field_model(entries)
    draws = min(draws, max(FEWEST_DRAWS, MOST_TOTALS // len(entries.all)))
    rng = np.random.default_rng(seed)
    totals = draw_totals(model, draws, rng)
    to = event.cut_to
    outlook = None if to is None else _outlook(model, totals, to)
    return Standing(
        event=event.name,
        bowler=event.bowler_name,
        entries=len(entries.all),
        games=event.games,
        games_bowled=len(entries.own.games),
        seed=seed,
        draws=draws,
        field=_field(entries, model, None if outlook is None else outlook.held_chances),
        condition=condition_of(entries),
        cut=None if to is None or outlook is None else _cut(entries, model, to, outlook),
        prospects=prospects_of(event, model, totals, rng),
        cautions=tuple(_cautions(event, scores, entries)),
    )


def _field(entries: Entries, model: FieldModel, held: Floats | None) -> tuple[FieldPlace, ...]:
    """Everybody who is known by name, best first: by pins a game, since not everybody has bowled
    as many."""
    rates = [one.rate_pins for one in entries.all]
    ranked = sorted(rates)
    places = [
        FieldPlace(
            place=1 + len(ranked) - bisect_right(ranked, rates[row]),
            name=one.name,
            squad=one.squad,
            games=tuple(
                one.games[game].score if game in one.games else None
                for game in range(1, max(one.games, default=0) + 1)
            ),
            handicap=one.handicap,
            total=one.total,
            games_left=int(model.games_left[row]),
            form_pins=float(model.form_pins[row]),
            cut_chance=None if held is None else float(held[row]),
        )
        for row, one in enumerate(entries.all)
        if one.name
    ]
    return tuple(sorted(places, key=lambda one: (one.place, one.name)))


def _outlook(model: FieldModel, totals: Wholes, to: int) -> CutOutlook:
    """What the cut will be: exactly in a small field, by the draws in others."""
    from nextpair.tournament.exact_cut import exact_cut, is_small

    return exact_cut(model, to) if is_small(model) else cut_by_draws(totals, model.me, to)


def _cut(entries: Entries, model: FieldModel, to: int, outlook: CutOutlook) -> Cut:
    line_now = _line_now(entries, to)
    bowled = bool(entries.own.games)
    return Cut(
        to=to,
        line_now_pins=line_now,
        ahead_now_pins=entries.own.total - line_now if bowled and line_now is not None else None,
        projected_line_pins=outlook.line_pins,
        projected_line_interval_80=outlook.line_interval_80,
        chance=float(outlook.held_chances[model.me]),
        needed=tuple(_needed(chance, outlook, entries.own, model) for chance in CHANCES),
    )


def _line_now(entries: Entries, to: int) -> int | None:
    """What the last one who would go on now has, over as many games as the bowler has bowled; over
    all games where that is none."""
    rates = sorted((one.rate_pins for one in entries.seen), reverse=True)
    if len(rates) < to:
        return None
    return round(rates[to - 1] * (len(entries.own.games) or entries.games))


def _needed(chance: float, outlook: CutOutlook, own: Entry, model: FieldModel) -> Needed:
    """A total, and the pins to show on the board in each game that is left."""
    total, left = outlook.needed_total(chance), int(model.games_left[model.me])
    to_come = max(0, total - own.total)
    if not left:
        return Needed(chance, total, None, to_come == 0)
    a_game = max(0.0, to_come / left - own.handicap)
    return Needed(chance, total, a_game, a_game <= HIGHEST)


def _cautions(event: Event, scores: Sequence[FieldScore], entries: Entries) -> Iterable[str]:
    if not entries.own.games:
        yield f"no score of {event.bowler_name} yet: the name must be written as in the event"
    if later := sorted({score.game for score in scores if score.game > event.games}):
        yield (
            f"games {', '.join(map(str, later))} are past the {event.games} that everybody bowls "
            "and are left out"
        )
    if nameless := sum(not one.name for one in entries.all):
        yield (
            f"{nameless} of {len(entries.all)} entrants have no score yet and are taken for "
            "ordinary ones of this field"
        )
    holes = [one.name for one in entries.seen if len(one.games) < max(one.games)]
    if holes:
        names = ", ".join(holes[:MOST_NAMED]) + " and others" * (len(holes) > MOST_NAMED)
        yield f"a game before the last one is missing, and counted as to come, of {names}"
