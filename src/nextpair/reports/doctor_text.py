"""What `nextpair doctor` found: a line for each check, and the same as JSON."""

from __future__ import annotations

import json
from collections.abc import Sequence

from nextpair.application.doctor import Check, exit_code

FIRST_COLUMN = 14


def render_doctor_text(checks: Sequence[Check]) -> str:
    """A line for each check, and below it what to do where there is something."""
    lines = []
    for check in checks:
        lines.append(f"{check.verdict.value:<{FIRST_COLUMN}}{check.name}: {check.found}")
        if check.advice:
            lines.append(f"{'':<{FIRST_COLUMN}}→ {check.advice}")
    return "\n".join(lines) + "\n"


def render_doctor_json(checks: Sequence[Check]) -> str:
    """One JSON document of all checks."""
    told = {
        "exit_code": exit_code(checks),
        "checks": [
            {
                "name": check.name,
                "verdict": check.verdict.value,
                "found": check.found,
                "advice": check.advice,
                "facts": dict(check.facts),
            }
            for check in checks
        ],
    }
    return json.dumps(told, indent=1, ensure_ascii=False) + "\n"
