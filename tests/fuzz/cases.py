"""Cases on disk: what was put in, so that it can be put in again."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from pathlib import Path
from typing import Any

BYTES, TARGET, CASE, FAULT = "bytes in base 64", "target", "case", "fault"


def as_json(value: Any) -> Any:
    """A case as JSON: bytes under a key of their own."""
    if isinstance(value, bytes):
        return {BYTES: base64.b64encode(value).decode("ascii")}
    if isinstance(value, dict):
        return {key: as_json(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [as_json(item) for item in value]
    return value


def of_json(value: Any) -> Any:
    """The case of its JSON."""
    if isinstance(value, dict):
        if set(value) == {BYTES}:
            return base64.b64decode(value[BYTES])
        return {key: of_json(item) for key, item in value.items()}
    return [of_json(item) for item in value] if isinstance(value, list) else value


def text_of(case: Any) -> str:
    """A case as text, the same for the same case."""
    return json.dumps(as_json(case), sort_keys=True)


def keep(folder: Path, target: str, case: str, fault: str) -> Path:
    """Write a case that failed; the name tells the target, and differs for another case."""
    folder.mkdir(parents=True, exist_ok=True)
    digest = hashlib.sha256(case.encode()).hexdigest()[:8]
    path = folder / f"{re.sub(r'[^a-z]+', '-', target)}-{digest}.json"
    path.write_text(json.dumps({TARGET: target, FAULT: fault, CASE: json.loads(case)}, indent=1))
    return path


def kept(path: Path) -> tuple[str, Any]:
    """The target and the case of a file."""
    told = json.loads(path.read_text("utf-8"))
    return told[TARGET], of_json(told[CASE])
