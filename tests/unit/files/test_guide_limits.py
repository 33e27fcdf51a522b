"""The limits that the guide gives are those that the program keeps."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import partial

import pytest

from event_folder import DEMO
from nextpair.domain import typical
from nextpair.domain.bowler import Hand, Style
from nextpair.domain.errors import InvalidValueError
from nextpair.files import (
    bowler_file,
    event_file,
    format_table,
    house_file,
    kit_form,
    load_event,
    locker_file,
    money_table,
    pattern_file,
    record_check,
    score_sheet,
    scores_file,
    shots_file,
    squad_file,
)
from nextpair.files.fields import Span
from nextpair.files.forms import ordinary
from source_tree import DOCS

LIMITS = re.compile(r"(-?[\d.,]+) to (-?[\d.,]+)(?![\d `])")
RELEASE = typical.release_of(Style.ONE_HANDED)
BUILDERS = {
    "`[money]`": (
        money_table.MoneyForm,
        partial(money_table._money, squad_size=4, expenses=(), side_pots=(), brackets=None),
    ),
    "`side_pots`": (money_table.SidePotForm, money_table._side_pot),
    "`brackets`": (money_table.BracketsForm, money_table._brackets),
    "`[handicap]`": (format_table.HandicapForm, format_table._handicap),
    "`[[stage]]`": (format_table.StageForm, format_table._stage),
    "`house.toml`": (house_file.HouseForm, house_file._house),
    "`[[lane]]`": (house_file.LaneForm, partial(house_file._trait, lanes=200)),
    "`pattern.toml`": (pattern_file.PatternForm, pattern_file._unoiled),
    "`[[pass]]`": (pattern_file.PassForm, pattern_file._pass),
    "`bowler.toml`": (bowler_file.BowlerForm, bowler_file._bowler),
    "`[scatter]`": (
        bowler_file.ScatterForm,
        partial(bowler_file._scatter, typical_scatter=typical.scatter_of(200, RELEASE)),
    ),
    "`[range]`": (
        bowler_file.RangeForm,
        partial(bowler_file._reach, typical_reach=typical.reach_of(Hand.RIGHT, 6.5)),
    ),
    "`locker.csv`": (locker_file.BallRow, locker_file._ball),
    "`squad.csv`": (
        squad_file.EntrantRow,
        partial(squad_file._entrant, own=None, somebody="somebody"),
    ),
    "`shots.csv`": (shots_file.ShotRow, shots_file._shot),
    "`scores.csv`": (scores_file.ScoreRow, scores_file._score),
    "`game`,": (score_sheet.WrittenGameRow, score_sheet._game_number),
    "`delivery`,": (score_sheet.DeliveryRow, score_sheet._seen),
    "`surface_history`": (record_check.SurfaceChange, record_check._surface),
    "`layout_history`": (record_check.LayoutChange, record_check._layout),
    "`kit`": (kit_form.KitForm, partial(kit_form._kit, items=(), stock=())),
    "`items`": (kit_form.KitItemForm, kit_form._item),
    "`stock`": (kit_form.StockForm, kit_form._stock),
    "`[[earlier_squad]]`": (
        event_file.EarlierSquadForm,
        partial(event_file._block, entrants=(), event=ordinary(event_file.EventForm)),
    ),
}


def documented_limits():
    """Section, key, lowest and highest of every row of the guide that gives both as numbers."""
    section = ""
    for line in (DOCS / "guide" / "files.md").read_text("utf-8").splitlines():
        if line.startswith("#"):
            section = line.lstrip("# ").split(" ")[0]
        cells = [cell.strip() for cell in line.split("|")]
        match = LIMITS.match(cells[4]) if len(cells) == 7 else None
        if match and cells[1].startswith("`") and section.startswith("`"):
            low, high = (float(number.replace(",", "")) for number in match.groups())
            yield section, cells[1].strip("`"), low, high


ROWS = list(documented_limits())


def is_whole(form, key):
    return "int" in str(type(form).model_fields[key].annotation)


def refused_field(build, form, key, value):
    """Last word of the field that is refused, '' if none is."""
    is_span = type(form).model_fields[key].annotation == Span | None
    if is_span:
        value = (value, value)
    elif is_whole(form, key):
        value = int(value)
    try:
        build(form.model_copy(update={key: value}))
    except InvalidValueError as refused:
        return refused.field.rpartition(".")[2]
    return ""


def test_the_guide_gives_many_limits():
    assert len(ROWS) > 40
    assert {section for section, *_ in ROWS} == {*BUILDERS, "`event.toml`"}


@pytest.mark.parametrize(
    ("section", "key", "low", "high"),
    [row for row in ROWS if row[0] in BUILDERS],
    ids=lambda value: str(value).strip("`"),
)
def test_a_limit_of_the_guide_is_the_domains(section, key, low, high):
    kind, build = BUILDERS[section]
    form = ordinary(kind)
    step = 1.0 if is_whole(form, key) else (high - low) / 50
    assert refused_field(build, form, key, low) != key
    assert refused_field(build, form, key, high) != key
    assert refused_field(build, form, key, low - step) == key
    assert refused_field(build, form, key, high + step) == key


EVENT_LIMITS = {
    "games": ("games", 1),
    "practice_minutes": ("practice_s", 60),
    "spare_balls": ("spare_balls", 1),
    "ball_limit": ("ball_limit", 1),
    "move_pairs": ("move_pairs", 1),
}


@pytest.mark.parametrize(
    ("key", "low", "high"), [row[1:] for row in ROWS if row[0] == "`event.toml`"]
)
def test_a_limit_of_an_event_is_the_domains(key, low, high):
    event = load_event(DEMO / "event.toml")
    field, factor = EVENT_LIMITS[key]
    for value in (low, high):
        replace(event, **{field: int(value) * factor})
    for value in (low - 1, high + 1):
        with pytest.raises(InvalidValueError, match=key):
            replace(event, **{field: int(value) * factor})
