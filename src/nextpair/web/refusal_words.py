"""What is allowed where a request is of another form, in this program's words.

The validation library has its own; they speak of parsing and of its types.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

LONGEST_WORDS = 200
YES_OR_NO = "true or false"
WHOLE = "a whole number"
WORDS = {
    "missing": "something (needed)",
    "extra_forbidden": "no such key",
    "bool_parsing": YES_OR_NO,
    "bool_type": YES_OR_NO,
    "int_parsing": WHOLE,
    "int_parsing_size": WHOLE,
    "int_type": WHOLE,
    "int_from_float": WHOLE,
    "float_parsing": "a number",
    "float_type": "a number",
    "finite_number": "a finite number",
    "string_type": "text",
    "string_unicode": "text",
    "uuid_parsing": "an id: 32 hexadecimal digits",
    "uuid_type": "an id: 32 hexadecimal digits",
    "list_type": "a list",
    "dict_type": "an object",
    "model_type": "an object",
    "model_attributes_type": "an object",
}
"""By the kind of error, as pydantic 2 lists them (docs.pydantic.dev, "Validation Errors")."""
WITH_LIMITS = {
    "greater_than_equal": "{ge} or more",
    "greater_than": "more than {gt}",
    "less_than_equal": "{le} or less",
    "less_than": "less than {lt}",
    "string_too_long": "at most {max_length} characters",
    "string_too_short": "at least {min_length} characters",
    "too_long": "at most {max_length} of them",
    "too_short": "at least {min_length} of them",
    "string_pattern_mismatch": "text like {pattern}",
}


def allowed_words(error: Mapping[str, Any]) -> str:
    """What an error of the validation allows, on one line."""
    kind, limits = str(error["type"]), error.get("ctx") or {}
    if kind in WORDS:
        return WORDS[kind]
    if kind in WITH_LIMITS:
        return WITH_LIMITS[kind].format(**limits)
    if kind in ("enum", "literal_error"):
        return str(limits.get("expected", "")).replace("'", "")
    told = str(error["msg"]).removeprefix("Value error, ")
    return " ".join(told.split())[:LONGEST_WORDS]
