"""What a field's scores say to somebody who has just bowled a low game: honest both ways."""

from __future__ import annotations

from collections.abc import Iterator

from nextpair.application.intervals import HALF_OF_80
from nextpair.domain.standing import Condition, GroupOfField

LIKE_THE_FIELD_SDS = 0.25
LOW_PINS = 5.0
"""Under one's average, from where a score is called low."""
CLAIMED_SDS = 2.0
"""How far an effect must be from nothing, in its own deviations, to be told in words."""
HAND_WORDS = {"left": "Left-handers", "right": "Right-handers"}


def condition_words(condition: Condition, own_average: int | None) -> Iterator[str]:
    """Sentences, the plainest first."""
    if not condition.bowlers:
        yield "Nobody's score is known yet."
        return
    yield _field_words(condition)
    if condition.own_mean_pins is not None:
        yield _own_words(condition, own_average)
    if lowest := _lowest_words(condition):
        yield lowest
    if condition.groups:
        claimed = [group for group in condition.groups if _is_claimed(group)]
        yield from map(_group_words, claimed)
        if not claimed:
            yield "No hand, pair or squad stands out beyond doubt."


def _field_words(condition: Condition) -> str:
    against = condition.against_averages_pins
    beside = ""
    if against is not None and abs(against) >= 1:
        beside = f", {abs(against):.0f} {'under' if against < 0 else 'over'} its averages"
    return (
        f"The field averages {condition.mean_pins:.0f} here{beside} "
        f"({_counted(condition.games, 'game')} of {_counted(condition.bowlers, 'bowler')})."
    )


def _own_words(condition: Condition, own_average: int | None) -> str:
    own, sds = condition.own_mean_pins, condition.own_sds
    if own is None or sds is None or condition.own_sds_interval_80 is None:
        return ""
    low, high = condition.own_sds_interval_80
    games = sum(game.own_pins is not None for game in condition.by_game)
    lost = 0.0 if own_average is None else own_average - own
    few = f" {_counted(games, 'game')} {'does' if games == 1 else 'do'} not settle it, though."
    if abs(sds) < LIKE_THE_FIELD_SDS:
        said = f"Your {own:.0f} is what the field bowls"
        is_open = low < -LIKE_THE_FIELD_SDS or high > LIKE_THE_FIELD_SDS
        return said + _lost_words(lost, condition.against_averages_pins) + few * is_open
    if sds > 0:
        said = f"Your {own:.0f} is {sds_words(sds)} better than that"
        return said + _lost_words(lost, condition.against_averages_pins) + few * (low < 0)
    said = f"Your {own:.0f} is {sds_words(sds)} worse than that"
    said += ": the lane is not all of it." if lost > LOW_PINS else "."
    return said + few * (high > 0)


def _lost_words(lost_pins: float, against_averages_pins: float | None) -> str:
    """Whose a score is that lies so far under the own average, and not under the field's."""
    if lost_pins <= LOW_PINS:
        return "."
    if against_averages_pins is None:
        return ": low beside your average, not beside this field."
    if against_averages_pins <= -LOW_PINS and lost_pins <= LOW_PINS - against_averages_pins:
        return ": a low score is the lane's, not yours."
    return ": low beside your average, more so than theirs beside theirs."


def _lowest_words(condition: Condition) -> str:
    """The lowest game of one's own beside the field's."""
    own = [game for game in condition.by_game if game.own_pins is not None and game.bowlers > 1]
    if not own:
        return ""
    lowest = min(own, key=lambda game: game.own_pins or 0)
    return (
        f"Your lowest, {lowest.own_pins} in game {lowest.game}, was bowled where "
        f"{lowest.bowlers} bowlers averaged {lowest.mean_pins:.0f}."
    )


def _is_claimed(group: GroupOfField) -> bool:
    low, high = group.effect_interval_80
    return abs(group.effect_pins) >= CLAIMED_SDS * (high - low) / (2 * HALF_OF_80)


def _group_words(group: GroupOfField) -> str:
    low, high = sorted(abs(end) for end in group.effect_interval_80)
    pins = f"{abs(group.effect_pins):.0f} pins a game ({low:.0f} to {high:.0f})"
    gains = group.effect_pins > 0
    if group.kind == "pair":
        return f"Pair {group.name} {'gives' if gains else 'takes'} {pins}."
    named = HAND_WORDS.get(group.name, f"Squad {group.name}")
    verb = "score" if group.kind == "hand" else "scores"
    rest = "than everybody's own form says"
    return f"{named} {verb} {pins} {'more' if gains else 'less'} {rest}."


def sds_words(sds: float) -> str:
    """A distance in standard deviations: 'half a standard deviation'."""
    size = abs(sds)
    if 0.4 <= size < 0.65:
        return "half a standard deviation"
    if 0.9 <= size < 1.1:
        return "one standard deviation"
    return f"{size:.1f} standard deviations"


def _counted(number: int, noun: str) -> str:
    return f"{number:,} {noun}{'s' * (number != 1)}"
