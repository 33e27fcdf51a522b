"""The document of a goal."""

from __future__ import annotations

from pydantic import Field

from nextpair.domain.errors import require
from nextpair.domain.goal import Goal, Measure
from nextpair.domain.record import Document
from nextpair.files.fields import IsoDay, Number, Text
from nextpair.files.forms import Form, fill, make
from nextpair.files.intake import Intake, Source

COUNTED = (Measure.CASHES, Measure.EVENTS)
"""Measures of events that are counted one by one."""


class GoalForm(Form):
    """The keys of a goal."""

    name: Text = Field(description="name of the goal", examples=["a goal"])
    measure: Measure = Field(description="what is counted", examples=[Measure.EVENTS])
    target: Number = Field(description="what is to be reached", examples=[1.0])
    first_day: IsoDay = Field(description="first day that counts", examples=["2026-01-01"])
    last_day: IsoDay = Field(description="last day that counts", examples=["9999-12-31"])


def goal_of(document: Document, source: Source, intake: Intake) -> Goal:
    """The goal of a document."""
    form = fill(GoalForm, dict(document), source, intake)
    return make(_goal, form, source, intake)


def _goal(form: GoalForm) -> Goal:
    if form.measure in COUNTED:
        require(form.target.is_integer(), "target", form.target, "a whole number of events")
    return Goal(form.name, form.measure, form.target, form.first_day, form.last_day)
