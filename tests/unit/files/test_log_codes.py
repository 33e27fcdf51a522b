"""QR codes of a log: the phone's texts read on the laptop."""

from __future__ import annotations

import json
import random
import zlib
from uuid import UUID

import pytest

from nextpair.application.sync import jotting_of
from nextpair.domain.errors import InvalidValueError
from nextpair.files.log_codes import (
    ALPHABET,
    LARGEST_LOG_BYTES,
    bytes_of_base45,
    jottings_of_codes,
)
from source_tree import ROOT

SNAPSHOT = json.loads((ROOT / "tests" / "log_codes_snapshot.json").read_text("utf-8"))
TEXTS, JOTTINGS = SNAPSHOT["texts"], SNAPSHOT["jottings"]


@pytest.mark.parametrize(
    ("text", "coded"),
    [("AB", "BB8"), ("Hello!!", "%69 VD92EX0"), ("base-45", "UJCLQE7W581"), ("ietf!", "QED8WEX0")],
)
def test_base_45_is_read_as_in_the_examples_of_rfc_9285(text, coded):
    assert bytes_of_base45(coded) == text.encode()


@pytest.mark.parametrize("coded", ["a", "A", "GGW0", ":::", "é00"])
def test_what_is_not_base_45_is_refused(coded):
    with pytest.raises(InvalidValueError):
        bytes_of_base45(coded)


def test_a_phones_codes_give_its_log():
    assert jottings_of_codes(TEXTS) == JOTTINGS
    assert all(UUID(jotting["id"]) for jotting in JOTTINGS)


def test_what_a_newer_program_wrote_comes_through_codes_as_it_is():
    """Fields that are not as this program writes them stand beside the rows."""
    newer = {"kind": "hologram", "schema_version": 9, "mood": "fine"}
    (told,) = jottings_of_codes([_code(_rest(odd={"0": newer}))])
    assert {key: told[key] for key in newer} == newer


@pytest.mark.parametrize("odd", [[], 0, "x", None])
def test_a_log_that_is_packed_otherwise_is_refused(odd):
    with pytest.raises(InvalidValueError, match="as the phone packs it"):
        jottings_of_codes([_code(_rest(odd=odd))])


@pytest.mark.parametrize("since_ms", ["9" * 30, "9" * 4000, "9" * 5000, "-1", "1e400", "NaN"])
def test_a_time_that_no_clock_shows_is_refused(since_ms):
    """Source: RFC 9562, section 5.7: an id's clock has 48 bits; RFC 8259, section 6: a number of
    JSON has no largest."""
    with pytest.raises(InvalidValueError, match="as the phone packs it"):
        jottings_of_codes([_code(_rest().replace("5000", since_ms))])


@pytest.mark.parametrize("column", [0, 2, 3, 4, 5])
def test_a_number_beyond_any_place_is_refused(column):
    row = [0, 1, 1, 5000, 0, 0]
    row[column] = int("9" * 4000)
    with pytest.raises(InvalidValueError, match="as the phone packs it"):
        jottings_of_codes([_code(_rest(rows=[row]))])


def test_a_count_beyond_any_is_refused_where_jottings_are_taken_in():
    (jotting,) = jottings_of_codes([_code(_rest(rows=[[0, int("9" * 4000), 1, 5000, 0, 0]]))])
    with pytest.raises(InvalidValueError):
        jotting_of(jotting)


@pytest.mark.parametrize(("opened", "closed"), ["[]", ('{"a":', "}")])
def test_lists_within_lists_are_refused(opened, closed):
    rest = opened * 100_000 + "1" + closed * 100_000
    with pytest.raises(InvalidValueError, match="as the phone packs it"):
        jottings_of_codes([_code(rest)])


def test_what_unpacks_to_more_than_any_log_is_refused():
    assert jottings_of_codes([_code(_rest().ljust(LARGEST_LOG_BYTES - 1))])
    with pytest.raises(InvalidValueError, match="longer than any"):
        jottings_of_codes([_code(_rest().ljust(LARGEST_LOG_BYTES + 1))])


@pytest.mark.parametrize("parts", ["1:1000", "1:100000", "1000:1", "١:١"])
def test_a_code_of_more_parts_than_any_log_has_is_none_of_ours(parts):
    with pytest.raises(InvalidValueError, match="as the phone shows it"):
        jottings_of_codes([_code(_rest()).replace(":1:1:", f":{parts}:", 1)])


def _rest(**changed):
    """A log of one jotting as it is packed, without its ids."""
    rest = {"event": "", "devices": ["phone"], "keys": [[]], "odd": {}}
    return json.dumps(rest | {"rows": [[0, 1, 1, 5000, 0, 0]]} | changed)


def _code(rest):
    content = b"\0\1" + bytes(10) + _deflated(rest.encode())
    content += bytes(len(content) % 2)
    return f"NP1:{zlib.crc32(content):08X}:1:1:{_base45(content)}:"


def _deflated(content: bytes) -> bytes:
    deflater = zlib.compressobj(wbits=-zlib.MAX_WBITS)
    return deflater.compress(content) + deflater.flush()


def _base45(content: bytes) -> str:
    """Source: RFC 9285, section 4; an even number of bytes."""
    values = [int.from_bytes(content[at : at + 2], "big") for at in range(0, len(content), 2)]
    return "".join(ALPHABET[value // 45**place % 45] for value in values for place in range(3))


def test_order_and_repeats_of_codes_do_not_matter():
    again = TEXTS * 3
    random.Random(7).shuffle(again)
    assert jottings_of_codes(again) == JOTTINGS


def test_while_a_code_is_missing_it_is_named():
    with pytest.raises(InvalidValueError, match="code 2 too"):
        jottings_of_codes(TEXTS[:1])


def test_a_code_read_wrongly_is_refused():
    first = TEXTS[0]
    other = "1" if first[60] == "0" else "0"
    with pytest.raises(InvalidValueError, match="without a fault"):
        jottings_of_codes([first[:60] + other + first[61:], *TEXTS[1:]])


@pytest.mark.parametrize("texts", [[], ["https://example.com/"], ["NP1:00000000:1:1::"]])
def test_what_is_no_log_is_refused(texts):
    with pytest.raises(InvalidValueError):
        jottings_of_codes(texts)
