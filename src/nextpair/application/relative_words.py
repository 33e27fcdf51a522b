"""What a pattern is beside another one, and where to start on it, in a bowler's words."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from nextpair.application.what_worked import best_line
from nextpair.domain.bowler import Hand
from nextpair.domain.lane import mirrored_board
from nextpair.domain.outing import LinePlayed, Outing
from nextpair.domain.pattern_book import Relative
from nextpair.domain.sheet import PatternCard
from nextpair.planning.film_distance import FilmDistance

LEAST_FT, LEAST_ML = 0.5, 0.5
LEAST_RATIO_FACTOR = 1.1
LEAST_BOARDS = 1.0
"""Differences that are told."""
SAME_FT = 0.05
FEW_RACKS = 24
"""About two games: a share of half of them is good to 13 in 100, four times in five."""
NOBODY = (
    "No pattern near this one was bowled on yet. Read what the nearest of the library say, and "
    "let practice decide."
)


def relative_words(theirs: PatternCard, ours: PatternCard, apart: FilmDistance) -> str:
    """What a relative is beside a pattern: '3 ft shorter, flatter: ratio 3.1 against 6.0'."""
    if apart.feet < SAME_FT:
        return "the same film"
    told = [*_length(theirs, ours), *_ratio(theirs, ours), *_volume(theirs, ours)]
    if apart.across_boards >= LEAST_BOARDS and not any(_ratio(theirs, ours)):
        boards = f"{apart.across_boards:.0f} board{'s' if apart.across_boards >= 1.5 else ''}"
        told.append(f"its oil lies {boards} elsewhere across")
    return ", ".join(told) or "as long, as flat and as much; its oil lies a little elsewhere"


def start_words(here: Sequence[Outing], relatives: Sequence[Relative]) -> str:
    """Where to start: from what worked on the pattern itself, or else on its nearest relative."""
    if told := _worked(here):
        return f"You know it: {told}."
    for relative in relatives:
        told = _worked(relative.outings)
        if told and relative.is_near:
            return f"Start as on {_named(relative)}: {told}."
        if told:
            return (
                f"The nearest one that was bowled on is {_named(relative)}, too far to copy: "
                f"{told}. A line carried over so far often loses 20 pins a game: let practice "
                "decide."
            )
    return NOBODY


def _line(line: LinePlayed, hand: Hand) -> str:
    """'Kestrel, laid down on 24 over 17 at the arrows', by the bowler's own boards."""
    boards = (line.laydown_board, line.target_board)
    own = boards if hand is Hand.RIGHT else tuple(map(mirrored_board, boards))
    side = "" if hand is Hand.RIGHT else ", counted from the left"
    laydown, target = (f"{math.floor(2 * board + 0.5) / 2:g}" for board in own)
    return f"{line.ball}, laid down on {laydown} over {target} at the arrows{side}"


def _named(relative: Relative) -> str:
    return f"{relative.pattern.name} ({relative.feet:.1f} ft away, {relative.words})"


def _worked(outings: Iterable[Outing]) -> str:
    """What worked best of the own outings, or else of others'; nothing where none tells."""
    outings = tuple(outings)
    for own in (True, False):
        some = [one for one in outings if one.is_own is own]
        found = best_line(some)
        if found is not None:
            outing, line = found
            struck = f"{line.strikes.made} of {line.strikes.tried} racks struck"
            struck += ", which is few," if line.strikes.tried < FEW_RACKS else ""
            who = "" if own else f"{outing.bowler}, {outing.hand.value}-handed: "
            return f"{who}{_line(line, outing.hand)}, {struck} at {outing.event}"
        scored = [one for one in some if one.mean_pins is not None]
        if scored:
            best = max(scored, key=_against_field)
            who = "you" if own else best.bowler
            return f"{who} averaged {best.mean_pins:.0f} over {best.games} games at {best.event}"
    return ""


def _against_field(outing: Outing) -> float:
    """By how much it beat the field; an outing without one comes after all others."""
    return -math.inf if outing.field_pins is None else outing.field_pins


def _length(theirs: PatternCard, ours: PatternCard) -> Iterator[str]:
    longer = theirs.length_ft - ours.length_ft
    if abs(longer) >= LEAST_FT:
        yield f"{round(abs(longer), 1):g} ft {'longer' if longer > 0 else 'shorter'}"


def _ratio(theirs: PatternCard, ours: PatternCard) -> Iterator[str]:
    if theirs.ratio == ours.ratio:
        return
    steeper = theirs.ratio / ours.ratio if math.isfinite(theirs.ratio) else math.inf
    if steeper >= LEAST_RATIO_FACTOR or steeper <= 1 / LEAST_RATIO_FACTOR:
        word = "steeper" if steeper > 1 else "flatter"
        yield f"{word}: ratio {_ratio_told(theirs.ratio)} against {_ratio_told(ours.ratio)}"


def _volume(theirs: PatternCard, ours: PatternCard) -> Iterator[str]:
    more = theirs.volume_ml - ours.volume_ml
    if abs(more) >= LEAST_ML:
        yield f"{abs(more):.1f} mL {'more' if more > 0 else 'less'}"


def _ratio_told(ratio: float) -> str:
    return f"{ratio:.1f}" if math.isfinite(ratio) else "dry outside"
