"""Statistics of games for a terminal: every rate as a count with what it would likely be."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from nextpair.domain.statistics import (
    GameLuck,
    GameStatistics,
    Group,
    KindRecord,
    LeaveRecord,
    Luck,
    MeanPins,
    Rates,
    Share,
)
from nextpair.reports.ink import Ink
from nextpair.reports.wording import board_words, counted
from nextpair.scoring.leaves import FULL_RACK, leave_text

LABEL_COLUMNS = 26
LEAVES_TOLD = 12
"""Of all games; the rarer ones are in the JSON."""
TITLES = {
    "game": "BY GAME",
    "half": "BY HALF OF THE GAME",
    "ball": "BY BALL, of the first ball",
    "spare ball": "BY SPARE BALL, of the second ball",
    "pair": "BY PAIR",
    "lane side": "BY SIDE OF THE PAIR",
    "line": "BY LINE, lay-down to target, most played first",
}
KINDS = {
    "single-pin": "single pins",
    "makeable": "makeable leaves",
    "split": "splits",
    "washout": "washouts",
    "not told": "kind not told",
}
ALL_TEN = leave_text(FULL_RACK)
STRINGS = {2: "double", 3: "turkey"}


def render_statistics(stats: GameStatistics, columns: int = 80, *, colour: bool = False) -> str:
    """The statistics as text, at most `columns` wide."""
    page = Ink(columns, colour, LABEL_COLUMNS)
    lines = page.section(f"STATISTICS of {counted(stats.games, 'game')}")
    if stats.game_pins.count:
        lines += page.labelled("score", mean_words(stats.game_pins, "finished game"))
    lines += _rates(stats.all, page)
    lines += page.labelled("in a row", strings_words(stats))
    lines += page.labelled("strike after strike", share_words(stats.strike_after_strike))
    lines += page.labelled("after another ball", share_words(stats.strike_after_other))
    lines += _spares(stats.all, page)
    for kind, groups in groupby(stats.groups, key=lambda group: group.kind):
        lines += _groups(kind, groups, stats.hand, page)
    if stats.luck is not None and stats.luck.games:
        lines += _luck(stats.luck, page)
    lines += page.section("HOW THIS IS COUNTED")
    lines += [line for note in stats.notes for line in page.indented("  - ", 4, note)]
    return "\n".join(lines) + "\n"


def share_words(share: Share) -> str:
    """'7 of 9, likely 58 to 88 %'."""
    if share.share_interval_80 is None:
        return "none to count"
    low, high = (f"{100 * end:.0f}" for end in share.share_interval_80)
    return f"{share.made} of {share.tried}, likely {low} to {high} %"


def mean_words(mean: MeanPins, each: str) -> str:
    """'9.1 over 24 first balls, likely 8.8 to 9.3'."""
    if mean.mean_pins is None:
        return "none to count"
    said = f"{mean.mean_pins:.1f} over {counted(mean.count, each)}"
    if mean.pins_interval_80 is None:
        return f"{said}, too few or too much alike to say more"
    low, high = mean.pins_interval_80
    return f"{said}, likely {low:.1f} to {high:.1f}"


def strings_words(stats: GameStatistics) -> str:
    """'5 strikes once, double twice'."""
    told = [
        f"{STRINGS.get(run.strikes, f'{run.strikes} strikes')} {_times(run.times)}"
        for run in stats.strings
    ]
    return ", ".join(told) or "no two strikes"


def _times(times: int) -> str:
    return {1: "once", 2: "twice"}.get(times, f"{times} times")


def _rates(rates: Rates, page: Ink) -> list[str]:
    told = (
        ("strikes", share_words(rates.strikes)),
        ("in the pocket", share_words(rates.pocket)),
        ("carry", share_words(rates.carry)),
        ("first ball", mean_words(rates.first_ball, "first ball")),
        ("frames filled", f"{share_words(rates.frames_filled)}; {counted(rates.opens, 'open')}"),
        ("spares", share_words(rates.spares)),
    )
    return [line for label, words in told for line in page.labelled(label, words)]


def _spares(rates: Rates, page: Ink) -> list[str]:
    if not rates.by_kind:
        return []
    lines = page.section("SPARES BY KIND")
    for kind in rates.by_kind:
        lines += page.labelled(KINDS[kind.kind], _left_words(kind))
    if not rates.by_leave:
        return lines
    lines += page.section("LEAVES, commonest first")
    for leave in rates.by_leave[:LEAVES_TOLD]:
        pins = "all ten" if leave.leave == ALL_TEN else leave.leave
        named = f" {leave.name}" if leave.name else ""
        lines += page.labelled(f"{pins}{named}", _left_words(leave))
    rarer = len(rates.by_leave) - LEAVES_TOLD
    return lines + (page.labelled("", f"and {counted(rarer, 'rarer leave')}") if rarer > 0 else [])


def _left_words(record: KindRecord | LeaveRecord) -> str:
    made = f"made {share_words(record.spares)}" if record.spares.tried else "not shot at"
    return f"left {_times(record.left)}, {made}"


def _groups(kind: str, groups: Iterable[Group], hand: str, page: Ink) -> list[str]:
    lines = page.section(TITLES[kind])
    for group in groups:
        lines += page.labelled(_group_name(group, hand), _group_words(group))
    return lines


def _group_name(group: Group, hand: str) -> str:
    if group.laydown_board is None or group.target_board is None:
        return group.name
    laydown, target = (board_words(b, hand) for b in (group.laydown_board, group.target_board))
    return f"{laydown} to {target}"


def _group_words(group: Group) -> str:
    rates = group.rates
    spares = f"spares {share_words(rates.spares)}"
    if group.kind == "spare ball":
        return spares
    told = [f"strikes {share_words(rates.strikes)}"]
    if rates.pocket.tried:
        told += [f"pocket {share_words(rates.pocket)}", f"carry {share_words(rates.carry)}"]
    return "; ".join([*told, spares])


def _luck(luck: Luck, page: Ink) -> list[str]:
    lines = page.section("LUCK, in pins: score against what was to be expected")
    for game in luck.games:
        lines += page.labelled(f"game {game.game}", luck_words(game))
    return lines + [line for note in luck.notes for line in page.indented("  - ", 4, note)]


def luck_words(game: GameLuck) -> str:
    """'187, expected 201.3: line -3.1, carry -8.0, spares -3.2'."""
    told = (
        ("line", game.line_pins),
        ("carry", game.carry_pins),
        ("line and carry unseen", game.line_and_carry_pins),
        ("spares", game.spares_pins),
    )
    parts = ", ".join(f"{name} {pins:+.1f}" for name, pins in told if pins is not None)
    return f"{game.score}, expected {game.expected_score:.1f}: {parts}"
