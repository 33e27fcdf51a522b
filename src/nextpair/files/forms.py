"""From raw tables to domain objects, with every problem of a table told at once.

A form is the schema of one table of a file. Each of its needed fields has an example, an allowed
value that stands in for a refused one, so that one wrong field does not hide the next. What was
made with stand-ins is never used: the intake refuses the whole event at its end.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import PurePath
from typing import TypeVar, get_args

from pydantic import BaseModel, ConfigDict, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from nextpair.domain.errors import UNSOUND, InvalidValueError
from nextpair.files.fields import NOT_ALLOWED
from nextpair.files.folder import Table
from nextpair.files.intake import NOTHING, Intake, Source, Words, did_you_mean, key_shown


class Form(BaseModel):
    """Schema of one table: keys it does not know are refused."""

    model_config = ConfigDict(extra="forbid", frozen=True)


F = TypeVar("F", bound=Form)
T = TypeVar("T")
Location = tuple[int | str, ...]

PRIVATE = "care"
"""Table whose values are never repeated, not even in a refusal."""
_ITEM_WORDS = {"lane": "lane table"}
"""What an item of a list is called, where its number could be taken for something else."""


def fill(form: type[F], raw: Table, source: Source, intake: Intake, at: str = "") -> F:
    """The filled form of a raw table. Refused fields are noted, and hold their stand-ins."""
    for key in [key for key in raw if UNSOUND.search(key)]:
        allowed = "text without nulls and broken characters"
        intake.refuse(source, at + key_shown(key), Words("a broken key"), allowed)
        del raw[key]
    try:
        return form.model_validate(raw)
    except ValidationError as refused:
        errors = refused.errors(include_url=False)
    places = [_Place(form, raw, error["loc"]) for error in errors]
    for error, place in zip(errors, places, strict=True):
        found, allowed = _sentence(error, place)
        intake.refuse(source, at + _place_shown(error["loc"]), found, allowed)
    for place in places:
        place.mend()
    return fill(form, raw, source, intake, at)


def ordinary(form: type[F]) -> F:
    """A form that holds nothing but stand-ins, in place of a file that could not be read."""
    return fill(form, {}, Source.first(PurePath()), Intake())


def make(
    build: Callable[[F], T], form: F, source: Source, intake: Intake, at: str = "", strip: str = ""
) -> T:
    """What `build` makes of a form. The domain's refusals are noted one after the other.

    `at` comes before each key in the place that is told; `strip` is what the domain writes
    before the names of this form's fields. Refused fields, and the whole form where the domain
    refuses several fields together, give way to stand-ins.
    """
    fields = _fields(type(form))
    replaced: set[str] = set()
    while True:
        try:
            return build(form)
        except InvalidValueError as refused:
            key = refused.field.removeprefix(strip)
            if key in fields:
                intake.refuse(source, at + key, getattr(form, key), refused.allowed)
            elif not replaced:  # a check across fields says nothing of a stand-in
                intake.refuse(source, at + key, refused.found, refused.allowed)
            if key not in fields or key in replaced:
                return build(ordinary(type(form)))
            replaced.add(key)
            form = form.model_copy(update={key: getattr(ordinary(type(form)), key)})


def note_guesses(
    form: Form, keys: tuple[str, ...], source: Source, intake: Intake, at: str = "", of: str = ""
) -> None:
    """Note as guessed each of the keys that the file leaves out."""
    for key in keys:
        if key not in form.model_fields_set:
            intake.guess(source, f"{at}{key}" + (f" of {of}" if of else ""))


def keys_of(form: type[Form]) -> tuple[str, ...]:
    """The keys or columns of a table, in the order of its form."""
    return tuple(_fields(form))


class _Place:
    """Where an error is: the innermost table that is a form's, and the key in it."""

    def __init__(self, form: type[Form], raw: Table, location: Location) -> None:
        self.form, self.table = form, raw
        self.key, *rest = location
        while rest:
            inner_form = _inner_form(_fields(self.form).get(str(self.key)))
            inner = self.table.get(str(self.key))
            if isinstance(inner, list) and isinstance(rest[0], int):
                inner, rest = inner[rest[0]], rest[1:]
            if inner_form is None or not isinstance(inner, dict) or not rest:
                return
            self.form, self.table = inner_form, inner
            self.key, *rest = rest

    @property
    def field(self) -> FieldInfo | None:
        return _fields(self.form).get(str(self.key))

    def mend(self) -> None:
        """Put the stand-in where the error is; leave out what may be left out."""
        if self.field is not None and self.field.is_required():
            self.table[str(self.key)] = _stand_in(self.field)
        else:
            self.table.pop(str(self.key), None)


def _sentence(error: ErrorDetails, place: _Place) -> tuple[object, str]:
    """What was found and what is allowed, from an error of the schema."""
    kind = error["type"]
    found = Words("a value of another kind") if error["loc"][0] == PRIVATE else error["input"]
    if kind == NOT_ALLOWED:
        return found, error["ctx"]["allowed"]
    if kind == "missing":
        description = place.field.description if place.field is not None else None
        return NOTHING, f"{description} (needed)"
    if kind == "extra_forbidden":
        keys = keys_of(place.form)
        hint = did_you_mean(str(place.key), keys)
        return Words("an unknown key"), f"{hint}the keys {', '.join(keys)}"
    if kind in ("enum", "literal_error"):
        return found, error["ctx"]["expected"].replace("'", "")
    if kind == "string_unicode":
        return found, "text without broken characters"
    if kind in ("list_type", "tuple_type"):
        return found, "a list in square brackets"
    if kind in ("dict_type", "model_type"):
        return found, "a table"
    return found, error["msg"].lower()


def _place_shown(location: Location) -> str:
    """A place as a reader of the file finds it: 'scatter.speed_mph', 'pass 2: end_ft'."""
    text = ""
    after_item = False
    for step, following in zip(location, (*location[1:], None), strict=True):
        if isinstance(step, int):
            text += f" {step + 1}"
        else:
            name = _ITEM_WORDS.get(step, step) if isinstance(following, int) else key_shown(step)
            text += (": " if after_item else "." if text else "") + name
        after_item = isinstance(step, int)
    return text


def _fields(form: type[Form]) -> dict[str, FieldInfo]:
    """Fields by the key that files use."""
    return {field.alias or name: field for name, field in form.model_fields.items()}


def _stand_in(field: FieldInfo) -> object:
    return field.examples[0] if field.examples else field.get_default(call_default_factory=True)


def _inner_form(field: FieldInfo | None) -> type[Form] | None:
    """The form of the tables that a field holds, if it holds tables."""
    waiting = [field.annotation] if field is not None else []
    while waiting:
        annotation = waiting.pop()
        if isinstance(annotation, type) and issubclass(annotation, Form):
            return annotation
        waiting.extend(get_args(annotation))
    return None
