"""QR codes of a log: the phone's texts read on the laptop."""

from __future__ import annotations

import json
import random
from uuid import UUID

import pytest

from nextpair.domain.errors import InvalidValueError
from nextpair.files.log_codes import bytes_of_base45, jottings_of_codes
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
