"""Settings: flag before environment before default, and every wrong value told."""

from __future__ import annotations

from dataclasses import fields
from pathlib import Path

import pytest

from nextpair.application.settings import (
    LARGEST_SEED,
    Colour,
    Settings,
    resolve_settings,
    settings_table,
)
from nextpair.domain.errors import InvalidValueError


def test_without_flags_and_environment_the_table_decides():
    settings = resolve_settings({}, {})
    assert settings == Settings()
    assert {name: getattr(settings, name) for name in settings_table()} == {
        name: row.default for name, row in settings_table().items()
    }


def test_environment_beats_default_and_flag_beats_environment():
    environment = {"NEXTPAIR_SEED": "11", "NEXTPAIR_THREADS": "2"}
    settings = resolve_settings({"seed": "12", "threads": None}, environment)
    assert (settings.seed, settings.threads) == (12, 2)


@pytest.mark.parametrize(
    ("name", "text", "value"),
    [
        ("seed", "0", 0),
        ("seed", str(LARGEST_SEED), LARGEST_SEED),
        ("threads", "4", 4),
        ("cache_dir", "/somewhere", Path("/somewhere")),
        ("data_dir", "/somewhere", Path("/somewhere")),
        ("store", "postgresql://house/season", "postgresql://house/season"),
        ("colour", "never", Colour.NEVER),
        ("debug", "Yes", True),
        ("debug", "0", False),
    ],
)
def test_values_are_read(name, text, value):
    assert getattr(resolve_settings({}, {f"NEXTPAIR_{name.upper()}": text}), name) == value
    assert getattr(resolve_settings({name: text}, {}), name) == value


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("seed", "seven"),
        ("seed", "-1"),
        ("seed", str(LARGEST_SEED + 1)),
        ("seed", "7.0"),
        ("threads", "-1"),
        ("cache_dir", ""),
        ("data_dir", ""),
        ("store", ""),
        ("colour", "blue"),
        ("debug", "maybe"),
    ],
)
def test_a_wrong_value_is_refused_by_the_name_it_came_under(name, text):
    variable, flag = f"NEXTPAIR_{name.upper()}", f"--{name.replace('_', '-')}"
    with pytest.raises(InvalidValueError) as refused:
        resolve_settings({}, {variable: text})
    assert (refused.value.field, refused.value.found) == (variable, text)
    with pytest.raises(InvalidValueError, match=f"^{flag}: found") as refused:
        resolve_settings({name: text}, {})
    assert refused.value.allowed


def test_other_variables_are_none_of_our_business():
    assert resolve_settings({}, {"SEED": "x", "NEXTPAIR_OTHER": "x"}) == Settings()


def test_every_row_can_be_told():
    assert list(settings_table()) == [field.name for field in fields(Settings)]
    for row in settings_table().values():
        assert row.help.endswith(".")
        assert row.flag.startswith("--")
        assert "_" not in row.flag
