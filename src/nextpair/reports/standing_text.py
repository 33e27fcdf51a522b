"""Where a bowler stands, for a terminal: the low score first, then the cut, then the field."""

from __future__ import annotations

from collections.abc import Iterator

from nextpair.domain.money import rounded
from nextpair.domain.standing import Condition, Cut, FieldPlace, Needed, Prospects, Standing
from nextpair.reports.ink import Ink, fitted
from nextpair.reports.wording import percent, sentence

LABEL_COLUMNS = 22
NAME_COLUMNS, SQUAD_COLUMNS, GAME_COLUMNS = 24, 10, 4
SHOWN_AT_THE_TOP, SHOWN_AROUND = 5, 3
"""Places of a long field that are listed: the first ones, and those beside the bowler and the
line."""
WHOLE_FIELD = 24
"""So many and fewer are all listed."""


def render_standing_text(standing: Standing, columns: int = 80, *, colour: bool = False) -> str:
    """The standing as text, at most `columns` wide."""
    page = Ink(columns, colour, LABEL_COLUMNS)
    bowled = f"{standing.games_bowled} of {standing.games} games bowled"
    lines = [
        page.strong(f"Where you stand: {standing.event}"),
        f"{standing.bowler}, {bowled}; {standing.entries} entries",
        "intervals hold four times in five",
    ]
    lines += page.section("THE CONDITION")
    for words in standing.condition.words:
        lines += page.indented("  ", 2, words)
    lines += _by_game(standing.condition, page)
    if standing.cut is not None:
        lines += _cut(standing, standing.cut, page)
    if standing.prospects is not None:
        lines += _prospects(standing.prospects, page)
    lines += _groups(standing.condition, page)
    lines += _field(standing, page)
    if standing.cautions:
        lines += page.section("TAKE CARE")
        lines += [
            line for word in standing.cautions for line in page.indented("  - ", 4, sentence(word))
        ]
    lines += ["", page.faint(f"{standing.draws:,} draws, seed {standing.seed}")]
    return "\n".join(lines) + "\n"


def _by_game(condition: Condition, page: Ink) -> Iterator[str]:
    """A line a game: the field's mean, the bowler's game, and how far that is from it."""
    if not condition.by_game:
        return
    yield ""
    yield page.faint(f"  {'game':<6}{'bowlers':>8}{'field':>8}{'sd':>6}{'yours':>8}  ")
    for game in condition.by_game:
        own = "-" if game.own_pins is None else str(game.own_pins)
        beside = "" if game.own_sds is None else f"  {game.own_sds:+.1f} sd"
        yield (
            f"  {game.game:<6}{game.bowlers:>8}{game.mean_pins:>8.0f}{game.sd_pins:>6.0f}"
            f"{own:>8}{beside}"
        )


def _cut(standing: Standing, cut: Cut, page: Ink) -> list[str]:
    low, high = cut.projected_line_interval_80
    own = next((one for one in standing.field if one.name == standing.bowler), None)
    lines = page.section(f"THE CUT   the first {cut.to} of {standing.entries} go on")
    if own is not None and own.games:
        lines += page.labelled("Now", _now_words(standing, cut, own))
    lines += page.labelled(
        "Projected line", f"{cut.projected_line_pins:.0f} ({low:.0f} to {high:.0f})"
    )
    lines += page.labelled("Your chance", page.accent(percent(cut.chance)))
    for needed in cut.needed:
        lines += page.labelled(
            f"For {percent(needed.chance)}", needed_words(needed, own.games_left if own else 0)
        )
    return lines


def _now_words(standing: Standing, cut: Cut, own: FieldPlace) -> str:
    seen = sum(bool(one.games) for one in standing.field)
    place = f"place {own.place} of the {seen} who have bowled, by pins a game"
    if cut.line_now_pins is None or cut.ahead_now_pins is None:
        return place
    ahead = cut.ahead_now_pins
    side = "ahead of" if ahead > 0 else "behind" if ahead < 0 else "level with"
    by = f"{abs(ahead)} {side}" if ahead else side
    return f"{place}; {own.total}, {by} place {cut.to} over as many games ({cut.line_now_pins})"


def needed_words(needed: Needed, games_left: int) -> str:
    """'1,175 in all: 206 a game in the 2 left'."""
    total = f"{needed.total:,} in all"
    if needed.pins_per_game is None:
        return f"{total}: {'you have it' if needed.is_possible else 'out of reach'}"
    if not needed.is_possible:
        return f"{total}: out of reach, more than 300 a game"
    if needed.pins_per_game <= 0:
        return f"{total}: you have it"
    left = "the game that is left" if games_left == 1 else f"the {games_left} left"
    return f"{total}: {_up(needed.pins_per_game)} a game in {left}"


def _up(pins: float) -> str:
    """Pins a game, rounded up to a tenth where they are not whole: less would not do."""
    tenths = -(-round(pins * 1000) // 100)
    return f"{tenths / 10:g}"


def drawn_percent(chance: float) -> str:
    """A chance by draws as whole percent: one that none of them met is still no promise."""
    return "under 1 %" if chance < 0.005 else percent(chance)


def _prospects(prospects: Prospects, page: Ink) -> list[str]:
    lines = page.section("WHAT IS STILL TO BE WON")
    for stage in prospects.stages:
        reach, win = drawn_percent(stage.reach_chance), drawn_percent(stage.win_chance)
        label = f"{sentence(stage.kind.replace('-', ' '))[:-1]} of {stage.entrants}"
        lines += page.labelled(label, f"in it {reach}, first in it {win}")
    (low, high), currency = prospects.place_interval_80, prospects.currency
    lines += page.labelled("To win the event", drawn_percent(prospects.win_chance))
    lines += page.labelled("Final place", f"{low} to {high}")
    lines += page.labelled(
        "To cash",
        f"{drawn_percent(prospects.cash_chance)}; a prize of "
        f"{rounded(prospects.expected_prize, currency)} {currency} on average, give or take "
        f"{rounded(prospects.prize_sd, currency)}",
    )
    return lines


def _groups(condition: Condition, page: Ink) -> list[str]:
    if not condition.groups:
        return []
    lines = page.section("WHO SCORES, everybody's own form allowed for, in pins a game")
    lines.append(
        page.faint(f"  {'':<18}{'bowlers':>8}{'games':>7}{'effect':>8}   {'interval':<14}")
    )
    for group in condition.groups:
        low, high = group.effect_interval_80
        lines.append(
            f"  {fitted(f'{group.kind} {group.name}', 18)}"
            f"{group.bowlers:>8}{group.games:>7}{group.effect_pins:>+8.1f}   "
            f"{low:+.1f} to {high:+.1f}"
        )
    return lines


def _field(standing: Standing, page: Ink) -> list[str]:
    most = max((len(one.games) for one in standing.field), default=0)
    games = most * GAME_COLUMNS
    fits = 60 + games <= page.columns
    lines = page.section("THE FIELD, by pins a game; form is what is believed of a game to come")
    heads = "".join(f"{number:>{GAME_COLUMNS}}" for number in range(1, most + 1)) if fits else ""
    tail = f"{'total':>7}{'left':>5}{'form':>6}{'cut':>10}"
    lines.append(
        page.faint(f"{'':>5} {'':<{NAME_COLUMNS}}{'squad':<{SQUAD_COLUMNS}}{heads}{tail}")
    )
    previous = 0
    for row in sorted(_shown(standing)):
        if row > previous:
            lines.append(page.faint(f"{'...':>5}"))
        previous = row + 1
        lines.append(_place(standing.field[row], standing.bowler, fits, most, page))
    if previous < len(standing.field):
        lines.append(page.faint(f"{'...':>5}"))
    return lines


def _shown(standing: Standing) -> set[int]:
    """Rows of the field that are listed."""
    rows = range(len(standing.field))
    if len(rows) <= WHOLE_FIELD:
        return set(rows)
    own = next((row for row in rows if standing.field[row].name == standing.bowler), 0)
    line = standing.cut.to - 1 if standing.cut is not None else 0
    near = {middle + step for middle in (own, line) for step in range(-SHOWN_AROUND, SHOWN_AROUND)}
    return {row for row in {*range(SHOWN_AT_THE_TOP), *near} if row in rows}


def _place(one: FieldPlace, bowler: str, fits: bool, most: int, page: Ink) -> str:
    padded = (*one.games, *[None] * (most - len(one.games)))
    games = "".join(f"{'-' if pins is None else pins:>{GAME_COLUMNS}}" for pins in padded)
    cut = "" if one.cut_chance is None else percent(one.cut_chance)
    name, squad = fitted(one.name, NAME_COLUMNS - 1), fitted(one.squad, SQUAD_COLUMNS - 1)
    line = (
        f"{one.place:>5} {name} {squad} "
        f"{games if fits else ''}{one.total:>7}{one.games_left:>5}{one.form_pins:>6.0f}{cut:>10}"
    )
    return page.accent(line) if one.name == bowler else line
