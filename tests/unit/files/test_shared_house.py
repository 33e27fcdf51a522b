"""A shared house's file, refused at the key of a visit that is wrong."""

from __future__ import annotations

import pytest

from nextpair.domain.errors import InputRefusedError
from nextpair.files import load_shared_house

HOUSE = """\
[house]
name = "Copperfield Lanes"
lanes = 24
[[visit]]
id = "3f2a6c1e-0b7d-4d15-9a44-52c8e1d7b903"
date = 2026-05-02
games = 6
"""


def refusal(tmp_path, line: str) -> str:
    """What is said of a visit with one line more."""
    path = tmp_path / "shared.toml"
    path.write_text(HOUSE + line + "\n", "utf-8")
    with pytest.raises(InputRefusedError) as refused:
        load_shared_house(path)
    (problem,) = refused.value.problems
    return str(problem).removeprefix(f"{path}: ")


def test_a_visit_is_refused_at_its_number_and_key(tmp_path):
    assert refusal(tmp_path, "gams = 6").startswith(
        "visit 1: gams: found 'an unknown key', allowed:"
    )
    assert refusal(tmp_path, "length_ft = -3").startswith("visit 1: length_ft: found")


@pytest.mark.parametrize("key", ["x" * 3000, '"\\u0007\\u202e"', '"a.b\\n"'], ids=len)
def test_a_key_is_told_on_one_short_line_whatever_it_is(key, tmp_path):
    told = refusal(tmp_path, f"{key} = 6")
    assert told.startswith("visit 1: ")
    assert "an unknown key" in told
    assert len(told) < 600
    assert told.isprintable()
