"""docs/guide/season.md shows what the program tells of its example."""

from __future__ import annotations

import re
from datetime import date

from nextpair.application.ball_usage import OwnedBall
from nextpair.application.season import season_of
from nextpair.application.season_events import Tally
from nextpair.domain.ball import Cover
from nextpair.domain.goal import Goal, Measure
from nextpair.reports.season_text import render_season_text
from seasons import TODAY, facts, to_come
from source_tree import DOCS

GUIDE = (DOCS / "guide" / "season.md").read_text("utf-8")
GOAL = Goal("More strikes", Measure.STRIKES, 45, date(2026, 1, 1), date(2026, 12, 31))


def the_example():
    events = [facts(number, strikes=Tally(20 + 3 * number, 66)) for number in range(8)]
    coming = to_come(date(2026, 12, 5), entry_deadline=date(2026, 11, 29))
    return season_of(
        [*events, coming], [OwnedBall("Slate Weir", Cover.SOLID, 2000)], (GOAL,), TODAY
    )


def test_the_guide_shows_the_example_as_it_is_told():
    [shown] = re.findall(r"```text\n(.*?)```", GUIDE, re.DOTALL)
    assert render_season_text(the_example(), columns=80).startswith(shown)
