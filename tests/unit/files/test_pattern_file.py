"""What pattern.toml says of tapers, the brush, shape and description reaches the pattern."""

from __future__ import annotations

import pytest

from nextpair.domain.errors import InputRefusedError
from nextpair.domain.pattern import Shape
from nextpair.domain.units import FOOT_M
from nextpair.files import load_pattern

PASS = """
[[pass]]
direction = "reverse"
from_board = 2
to_board = 38
loads = 3
oil_ul = 50
start_ft = 4
end_ft = 32
"""
FORWARD = PASS.replace("reverse", "forward")


@pytest.fixture
def load(tmp_path):
    def load(*parts: str):
        path = tmp_path / "pattern.toml"
        head = 'name = "Told"\nlength_ft = 40\nviscosity_cp = 35\n'
        path.write_text(head + "\n".join(parts), "utf-8")
        return load_pattern(path)

    return load


def problems_of(load, *parts: str):
    with pytest.raises(InputRefusedError) as refused:
        load(*parts)
    return [(p.place, p.found, p.allowed) for p in refused.value.problems]


def test_what_is_left_out_is_a_plain_pattern(load):
    pattern = load(PASS)
    (laid,) = pattern.passes
    assert (laid.taper_start_m, laid.taper_end_m, pattern.buff_m) == (0.0, 0.0, 0.0)
    assert (pattern.shape, pattern.description) == (None, "")


def test_tapers_and_brush_are_read_in_feet(load):
    pattern = load("buff_ft = 2.5", FORWARD + "taper_start_ft = 1.5\ntaper_end_ft = 6\n")
    (laid,) = pattern.passes
    assert laid.taper_start_m == pytest.approx(1.5 * FOOT_M)
    assert laid.taper_end_m == pytest.approx(6 * FOOT_M)
    assert pattern.buff_m == pytest.approx(2.5 * FOOT_M)


def test_a_description_may_run_over_lines(load):
    said = 'description = """\nStart  outside.\n  Then move in.\n"""\nshape = "crowned"'
    pattern = load(said, PASS)
    assert pattern.description == "Start outside. Then move in."
    assert pattern.shape is Shape.CROWNED


@pytest.mark.parametrize(
    ("parts", "place", "found", "allowed"),
    [
        ((PASS + "taper_end_ft = 29\n",), "pass 1: taper_end_ft", "29", "at most the length of"),
        ((PASS + "taper_start_ft = -1\n",), "pass 1: taper_start_ft", "-1", "0 to 60 ft"),
        (("buff_ft = 3", PASS), "buff_ft", "3", "a forward [[pass]]"),
        (("buff_ft = 21", FORWARD), "buff_ft", "21", "0 to 20 ft"),
        (('shape = "crownd"', PASS), "shape", "'crownd'", "flat, crowned, stepped, house-like"),
        (("description = 7", PASS), "description", "7", "a text in quotes"),
        ((f'description = "{"x" * 601}"', PASS), "description", None, "at most 600 characters"),
        (('description = "\\u001b[2J"', PASS), "description", None, "control characters"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_what_cannot_be_laid_is_refused_at_its_key(load, parts, place, found, allowed):
    ((told_place, told_found, told_allowed),) = problems_of(load, *parts)
    assert told_place == place
    assert found is None or told_found == found
    assert allowed in told_allowed


def test_a_forward_pass_that_is_refused_leaves_the_brush_alone(load):
    too_long = FORWARD.replace("end_ft = 32", "end_ft = 44")
    told = problems_of(load, "buff_ft = 3", too_long, PASS)
    assert [place for place, _, _ in told] == ["pass 1: end_ft"]
