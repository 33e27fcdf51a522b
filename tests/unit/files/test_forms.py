"""Every form stands by itself: its stand-ins are allowed, and the guide lists its keys."""

from __future__ import annotations

import re

import pytest

from nextpair.files import score_sheet
from nextpair.files.board_csv import COLUMNS as BOARD_COLUMNS
from nextpair.files.board_csv import DistanceForm
from nextpair.files.bowler_file import BowlerForm, CareForm, RangeForm, ScatterForm
from nextpair.files.event_file import EarlierSquadForm, EventForm
from nextpair.files.film_csv import FilmRow
from nextpair.files.format_table import HandicapForm, StageForm
from nextpair.files.forms import Form, fill, keys_of, make, ordinary
from nextpair.files.goal_form import GoalForm
from nextpair.files.heights_csv import HeightRow
from nextpair.files.house_file import HouseForm, LaneForm
from nextpair.files.intake import Intake, Source
from nextpair.files.kit_form import KitForm, KitItemForm, StockForm
from nextpair.files.layout import FilmTable, HeightsTable
from nextpair.files.locker_file import BallRow
from nextpair.files.money_table import BracketsForm, MoneyForm, SidePotForm
from nextpair.files.pattern_file import FilmForm, PassForm, PatternForm
from nextpair.files.record_check import BallKeeping, LayoutChange, SquadRecord, SurfaceChange
from nextpair.files.scores_file import ScoreRow
from nextpair.files.shared_house import SharedHouseForm, VisitId
from nextpair.files.shots_file import ShotRow
from nextpair.files.squad_file import EntrantRow
from source_tree import DOCS, ROOT

GUIDE = DOCS / "guide" / "files.md"
SECTIONS = {
    "event.toml": EventForm,
    "[[earlier_squad]]": EarlierSquadForm,
    "[handicap]": HandicapForm,
    "[[stage]]": StageForm,
    "[money]": MoneyForm,
    "side_pots": SidePotForm,
    "brackets": BracketsForm,
    "house.toml": HouseForm,
    "[[lane]]": LaneForm,
    "pattern.toml": PatternForm,
    "[[pass]]": PassForm,
    "[film]": FilmForm,
    "bowler.toml": BowlerForm,
    "[scatter]": ScatterForm,
    "[range]": RangeForm,
    "[care]": CareForm,
    "locker.csv": BallRow,
    "squad.csv": EntrantRow,
    "shots.csv": ShotRow,
    "scores.csv": ScoreRow,
    "game": score_sheet.WrittenGameRow,
    "delivery": score_sheet.DeliveryRow,
    "film": FilmTable,
    "heights": HeightsTable,
    "ball": BallKeeping,
    "surface_history": SurfaceChange,
    "layout_history": LayoutChange,
    "squad": SquadRecord,
    "kit": KitForm,
    "items": KitItemForm,
    "stock": StockForm,
    "goal": GoalForm,
}


def subclasses(form):
    return {below for kind in form.__subclasses__() for below in {kind, *subclasses(kind)}}


def documented(title):
    """Keys of the table below a heading of the guide."""
    sections = re.split(r"^#+ ", GUIDE.read_text("utf-8"), flags=re.MULTILINE)
    matching = [text for text in sections if text.split("\n")[0].startswith(f"`{title}`")]
    assert len(matching) == 1, title
    return re.findall(r"^\| `([^`]+)` \|", matching[0], re.MULTILINE)


def test_every_form_has_its_section_in_the_guide():
    of_columns = {FilmRow, HeightRow, DistanceForm, score_sheet.GameRow}
    of_two_tables = {SharedHouseForm, VisitId}
    assert {*SECTIONS.values(), *of_columns, *of_two_tables} == subclasses(Form)


@pytest.mark.parametrize(("title", "form"), SECTIONS.items(), ids=SECTIONS)
def test_the_guide_lists_the_keys_of_a_table_in_their_order(title, form):
    assert documented(title) == list(keys_of(form))


@pytest.mark.parametrize("form", SECTIONS.values(), ids=lambda form: form.__name__)
def test_every_key_says_what_it_is(form):
    assert [name for name, field in form.model_fields.items() if not field.description] == []


@pytest.mark.parametrize(
    "form", [*SECTIONS.values(), FilmRow, HeightRow], ids=lambda form: form.__name__
)
def test_a_form_of_stand_ins_is_a_form(form):
    assert isinstance(ordinary(form), form)


def test_the_columns_of_csv_files_are_those_of_the_guide_and_the_readme_examples():
    assert ("distance_ft", *(str(board) for board in range(1, 40))) == BOARD_COLUMNS
    for name, form in (("locker.csv", BallRow), ("squad.csv", EntrantRow)):
        header = (ROOT / "src/nextpair/demo" / name).read_text("utf-8").splitlines()[0]
        assert tuple(header.split(",")) == keys_of(form)


def test_one_wrong_field_does_not_hide_the_next():
    raw = {"number": "nine", "tilt_in": True, "colour": "red"}
    intake = Intake()
    form = fill(LaneForm, raw, Source.first(ROOT), intake)
    assert [problem.place for problem in intake.problems] == ["number", "tilt_in", "colour"]
    assert (form.number, form.tilt_in) == (1, 0.0)


def test_what_the_domain_refuses_gives_way_field_by_field():
    from nextpair.files.locker_file import _ball

    form = BallRow(name="x", cover="solid", weight_lb=99.0, pin_to_pap_in=-1.0)
    intake = Intake()
    ball = make(_ball, form, Source.first(ROOT), intake)
    assert [problem.place for problem in intake.problems] == ["pin_to_pap_in", "weight_lb"]
    assert ball.name == "x"
