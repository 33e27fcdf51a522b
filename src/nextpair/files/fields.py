"""Types of the fields of raw files: what is taken as a number, a text, an amount, a day.

TOML has numbers of its own, so a number in quotes is refused there; every cell of a CSV file is
text, so numbers are parsed here, strictly: a decimal point, no separators, no `nan`.
"""

from __future__ import annotations

import math
import re
import unicodedata
from contextlib import suppress
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, Literal
from uuid import UUID

from pydantic import BeforeValidator
from pydantic_core import PydanticCustomError

from nextpair.domain.pattern import LONGEST_DESCRIPTION
from nextpair.files.spreadsheet import DECIMAL_COMMA, CommaCell, plain_spaces

LONGEST_TEXT = 200
LONGEST_FILE_NAME = 1000
LARGEST_WHOLE = 1_000_000_000
LARGEST_AMOUNT = Decimal(1_000_000_000)
SMALLEST_AMOUNT_STEP = Decimal("0.001")
LARGEST_RATE, SMALLEST_RATE_STEP = Decimal(1_000_000), Decimal("0.000000001")
NOT_ALLOWED = "not_allowed"
"""Type of every error raised here; its context holds what is allowed."""

_CSV_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d{1,3})?", re.ASCII)
"""Tried once at each character: digits could be shared out in one way only."""
_ISO_DAY = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
_UNSAFE_CATEGORIES = frozenset({"Cc", "Cs", "Zl", "Zp"})


def _refused(allowed: str) -> PydanticCustomError:
    return PydanticCustomError(NOT_ALLOWED, "{allowed}", {"allowed": allowed})


def _number(value: object, kind: str = "number") -> float:
    if isinstance(value, str):
        raise _refused(f"a {kind} without quotes, and any decimals after a point")
    if isinstance(value, bool) or not isinstance(value, int | float | Decimal):
        raise _refused(f"a {kind}")
    try:
        number = float(value)
    except (OverflowError, ValueError):
        number = math.inf
    if not math.isfinite(number):
        raise _refused("a number that is not infinite")
    return number


def _whole(value: object) -> int:
    number = _number(value, "whole number")
    if not number.is_integer():
        raise _refused("a whole number")
    if abs(number) > LARGEST_WHOLE:
        raise _refused(f"a whole number, at most {LARGEST_WHOLE:,}")
    return int(number)


def _csv_number(value: object) -> float:
    if not isinstance(value, str):
        return _number(value)
    if isinstance(value, CommaCell):
        value = value.with_point
    if DECIMAL_COMMA.fullmatch(value):
        raise _refused(f"a number with a decimal point, not a comma: {value.replace(',', '.')}")
    if not _CSV_NUMBER.fullmatch(value):
        raise _refused("a number with a decimal point, such as 17.6, or nothing")
    return _number(float(value))


def _csv_whole(value: object) -> int:
    return _whole(_csv_number(value))


def _grit(value: object) -> int | Literal["polished"]:
    if value == "polished":
        return "polished"
    plain = value.with_point if isinstance(value, CommaCell) else value
    if isinstance(plain, str) and not _CSV_NUMBER.fullmatch(plain):
        raise _refused("a grit number such as 2000, or polished")
    return _whole(_csv_number(value))


def _text(value: object, longest: int = LONGEST_TEXT) -> str:
    """One line; in Unicode's composed form, with ordinary spaces: a name typed on another
    keyboard, or copied from a page, is the same.

    Source: UAX #15, form C.
    """
    told = plain_spaces(value) if isinstance(value, str) else value
    return unicodedata.normalize("NFC", _line(told, longest))


def _line(value: object, longest: int) -> str:
    if not isinstance(value, str):
        raise _refused("a text in quotes")
    text = value.strip()
    if len(text) > longest:
        raise _refused(f"a text of at most {longest} characters")
    if any(unicodedata.category(character) in _UNSAFE_CATEGORIES for character in text):
        raise _refused("a text on one line, without control characters")
    return text


def _file_name(value: object) -> str:
    return _line(value, LONGEST_FILE_NAME)


def _prose(value: object) -> str:
    joined = " ".join(value.split()) if isinstance(value, str) else value
    return _text(joined, LONGEST_DESCRIPTION)


def _amount(value: object) -> Decimal:
    if isinstance(value, str):
        raise _refused("an amount without quotes, such as 12.50")
    _number(value)
    amount = Decimal(str(value))
    if abs(amount) > LARGEST_AMOUNT:
        raise _refused(f"an amount, at most {LARGEST_AMOUNT:,}")
    if amount != amount.quantize(SMALLEST_AMOUNT_STEP):
        raise _refused("an amount with at most three decimals")
    return amount


def _rate(value: object) -> Decimal:
    if isinstance(value, str):
        raise _refused("a rate without quotes, such as 0.0897")
    _number(value)
    rate = Decimal(str(value))
    if not SMALLEST_RATE_STEP <= rate <= LARGEST_RATE:
        raise _refused(f"a rate of more than 0 and at most {LARGEST_RATE:,}")
    if rate != rate.quantize(SMALLEST_RATE_STEP):
        raise _refused("a rate with at most nine decimals")
    return rate


def _day(value: object) -> date:
    if not isinstance(value, date) or isinstance(value, datetime):
        raise _refused("a date without quotes, such as 2026-06-13")
    return value


def _iso_day(value: object) -> date:
    if isinstance(value, str) and _ISO_DAY.fullmatch(value):
        with suppress(ValueError):
            return date.fromisoformat(value)
    raise _refused("a day such as 2026-06-13")


def _flag(value: object) -> bool:
    if not isinstance(value, bool):
        raise _refused("true or false")
    return value


def _moment(value: object) -> str:
    text = _text(value)
    try:
        datetime.fromisoformat(text)
    except ValueError:
        raise _refused("a day and time such as 2026-06-13T09:41, or nothing") from None
    return text


def _id(value: object) -> UUID:
    text = _text(value)
    try:
        return UUID(text)
    except ValueError:
        raise _refused(
            "a UUID, 32 hexadecimal digits such as 8f14e45f-ceea-467f-a0e6-c4b1f9d3a2b7"
        ) from None


def is_id(text: str) -> bool:
    """Whether a text is a UUID."""
    with suppress(ValueError):
        return bool(UUID(text))
    return False


def _span(value: object) -> tuple[float, float]:
    if not isinstance(value, list | tuple) or len(value) != 2:
        raise _refused("two numbers, lowest first, such as [10, 33]")
    low, high = value
    return _number(low), _number(high)


Number = Annotated[float, BeforeValidator(_number)]
Whole = Annotated[int, BeforeValidator(_whole)]
CsvNumber = Annotated[float, BeforeValidator(_csv_number)]
CsvWhole = Annotated[int, BeforeValidator(_csv_whole)]
Grit = Annotated[int | Literal["polished"], BeforeValidator(_grit)]
Text = Annotated[str, BeforeValidator(_text)]
Prose = Annotated[str, BeforeValidator(_prose)]
"""Some sentences, on as many lines as the writer likes."""
FileName = Annotated[str, BeforeValidator(_file_name)]
Amount = Annotated[Decimal, BeforeValidator(_amount)]
Rate = Annotated[Decimal, BeforeValidator(_rate)]
"""What one unit of a currency is worth in another."""
Day = Annotated[date, BeforeValidator(_day)]
IsoDay = Annotated[date, BeforeValidator(_iso_day)]
"""A day of a document, where it is text."""
Flag = Annotated[bool, BeforeValidator(_flag)]
Moment = Annotated[str, BeforeValidator(_moment)]
"""A day and time in ISO 8601, kept as it is written."""
Id = Annotated[UUID, BeforeValidator(_id)]
Span = Annotated[tuple[float, float], BeforeValidator(_span)]
