"""QR codes of a log: the phone's texts read on the laptop."""

from __future__ import annotations

import json
import random
import zlib
from uuid import UUID

import pytest

from nextpair.domain.errors import InvalidValueError
from nextpair.files.log_codes import ALPHABET, bytes_of_base45, jottings_of_codes
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


@pytest.mark.parametrize("odd", [[], 0, "x", None])
def test_a_log_that_is_packed_otherwise_is_refused(odd):
    rest = {"event": "", "devices": ["phone"], "keys": [[]], "odd": odd}
    rest["rows"] = [[0, 1, 1, 5000, 0, 0]]
    content = b"\0\1" + bytes(10) + _deflated(json.dumps(rest).encode())
    content += bytes(len(content) % 2)
    code = f"NP1:{zlib.crc32(content):08X}:1:1:{_base45(content)}:"
    with pytest.raises(InvalidValueError, match="as the phone packs it"):
        jottings_of_codes([code])


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
