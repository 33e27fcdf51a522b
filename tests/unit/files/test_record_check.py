"""Documents of records that are refused at their key."""

from __future__ import annotations

import pytest

from nextpair.domain.errors import InputRefusedError
from nextpair.domain.record import Kind
from nextpair.files import FilePapers

TAPE = {"item": "Tape", "have": 1, "use": 1}
GOAL = {"name": "More", "first_day": "2026-01-01", "last_day": "2026-12-31"}


@pytest.mark.parametrize(
    ("kind", "document", "place"),
    [
        (Kind.KIT, {"name": "Away", "items": [{"item": "a"}, {"item": "A"}]}, "items 2: item"),
        (
            Kind.KIT,
            {"name": "Away", "stock": [TAPE, TAPE | {"item": "TAPE"}]},
            "stock 2: item",
        ),
        (Kind.GOAL, GOAL | {"measure": "cashes", "target": 2.5}, "target"),
        (Kind.GOAL, GOAL | {"measure": "events", "target": 0.1}, "target"),
    ],
)
def test_what_cannot_be_kept_is_refused_at_its_key(kind, document, place):
    with pytest.raises(InputRefusedError) as refused:
        FilePapers().check(kind, document)
    assert [problem.place for problem in refused.value.problems] == [place]


def test_a_goal_of_whole_cashes_and_one_of_a_part_of_a_pin_are_taken():
    for measure, target in (("cashes", 2), ("average", 201.5)):
        assert FilePapers().check(Kind.GOAL, GOAL | {"measure": measure, "target": target}) == ()


@pytest.mark.parametrize("kind", [Kind.PATTERN, Kind.HOUSE, Kind.KIT])
def test_a_key_that_is_half_a_character_is_refused(kind):
    with pytest.raises(InputRefusedError) as refused:
        FilePapers().check(kind, {"name": "A", "\ud800": 1})
    assert "a broken key" in [problem.found for problem in refused.value.problems]
