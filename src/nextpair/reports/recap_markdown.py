"""A recap as CommonMark: for a message, a blog, or the description under a video."""

from __future__ import annotations

import re
from collections.abc import Iterator

from nextpair.domain.recap import Recap
from nextpair.reports.recap_words import (
    ball_name,
    change_words,
    counts_words,
    edge_words,
    handicap_words,
    in_short,
    money_told,
    pattern_told,
    pins_words,
    place_words,
    surface_words,
    use_words,
    where_words,
)
from nextpair.reports.wording import sentence

SIGNS = re.compile(r"([\\`*_\[\]<>#|~&])")
"""That may stand for something else than themselves, wherever they stand."""
AT_THE_START = re.compile(r"^(\d+(?=[.)])|(?=[-+=]))")
"""Before what begins a list, a rule or a heading, where a line begins with it."""


def render_recap_markdown(recap: Recap) -> str:
    """The recap as text that any CommonMark reader takes."""
    return "\n".join(_lines(recap)) + "\n"


def _lines(recap: Recap) -> Iterator[str]:
    yield f"# {plain(recap.event)}"
    yield ""
    yield plain(in_short(recap))
    yield from _part("Scores", _scores(recap))
    yield from _part("Lanes", _lanes(recap))
    yield from _part(
        "Bag",
        [
            f"**{plain(ball_name(ball))}.** {plain(sentence(use_words(ball, recap.games)))}"
            for ball in recap.bag
        ],
    )
    yield from _part("Learned", [plain(sentence(words)) for words in recap.learned])
    if recap.money is not None:
        yield from _part("Money", [plain(money_told(recap.money))])


def _part(heading: str, items: list[str]) -> Iterator[str]:
    if items:
        yield ""
        yield f"## {heading}"
        yield ""
        for item in items:
            yield f"- {item}"


def _scores(recap: Recap) -> list[str]:
    games = [
        f"Game {game.game}, lanes {plain(game.pair)}: **{game.score}**"
        + ("" if game.field_pins is None else f" (field {game.field_pins:.0f})")
        for game in recap.games
    ]
    average = f"average {recap.average_pins:.1f}"
    place = f", {place_words(recap)}" if recap.place is not None else ""
    together = f"Together **{pins_words(recap.total_pins)}**, {average}{place}."
    told = [together, *filter(None, (handicap_words(recap), counts_words(recap)))]
    return [*games, *told]


def _lanes(recap: Recap) -> list[str]:
    where = f"{where_words(recap)}; {surface_words(recap)}."
    patterns = [f"{pattern_told(one)}." for one in recap.patterns]
    told = [where, *patterns, *change_words(recap), *filter(None, (edge_words(recap),))]
    return [plain(words) for words in told]


def plain(text: str) -> str:
    """Text in which no sign stands for anything but itself."""
    said = SIGNS.sub(r"\\\1", " ".join(text.split()))
    return AT_THE_START.sub(r"\1\\", said)
