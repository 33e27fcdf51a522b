"""Write docs/validation.md: what outside authorities say beside what the code gives.

Runs every test of tests/reference and tests/kernel that asks for the fixture `record` and makes a
row of each number it checked, so that the table cannot say anything the tests do not.

    python tools/validation.py              write the table
    python tools/validation.py --check      fail if the table is stale
    python tools/validation.py --check --from build/findings.json
                                            the same, by what `pytest --findings` wrote down
"""

from __future__ import annotations

import argparse
import json
import math
import sys
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[1]
FOLDERS = (ROOT / "tests" / "reference", ROOT / "tests" / "kernel")
TABLE = ROOT / "docs" / "validation.md"
HEADING = """# Validation

What outside authorities say beside what the code gives. `make docs` fails if this table is stale;
`python tools/validation.py` writes it from the tests in tests/reference and tests/kernel that use
`record`. Keys in brackets stand in docs/sources.toml. READ = seen in the source named, CALC =
calculated by other means than this program, MEM = from memory. Numbers are rounded to a tenth of
their tolerance.
"""


class Findings:
    """Keeps only the tests that record findings, and what they recorded."""

    def __init__(self) -> None:
        self.found: list[dict[str, Any]] = []

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        items[:] = [item for item in items if "record" in getattr(item, "fixturenames", ())]

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.when == "call":
            self.found += [
                finding for name, finding in report.user_properties if name == "finding"
            ]


def rounded(value: float, tolerance: float) -> str:
    """A number to a tenth of its tolerance, or as it is if it must be exact."""
    if tolerance == 0:
        return f"{value:.10g}"
    digits = max(0, 1 - math.floor(math.log10(tolerance)))
    return f"{round(value, digits) + 0.0:.{digits}f}"


def render_table(findings: list[dict[str, Any]]) -> str:
    """The document, one section an authority, rows in the order of the tests."""
    sections: dict[str, list[str]] = {}
    for finding in findings:
        cells = (
            finding["about"],
            finding["quantity"],
            rounded(finding["expected"], finding["tolerance"]),
            f"{finding['tolerance']:g}",
            rounded(finding["achieved"], finding["tolerance"]),
            finding["source"],
        )
        rows = sections.setdefault(finding["authority"], [])
        rows.append("| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |")
    text = HEADING
    for authority in sorted(sections):
        text += f"\n## {authority}\n\n"
        text += "| what | quantity | expected | tolerance | achieved | source |\n"
        text += "|---|---|---|---|---|---|\n"
        text += "\n".join(sections[authority]) + "\n"
    return text


def same_table(old: str, new: str) -> bool:
    """Whether two tables say the same, as far as two processors do.

    Another processor rounds differently, and a table that holds on one must hold on all.
    """
    old_lines, new_lines = old.splitlines(), new.splitlines()
    return len(old_lines) == len(new_lines) and all(map(same_line, old_lines, new_lines))


def same_line(old: str, new: str) -> bool:
    """Whether two lines agree in everything but rounding: "achieved" may differ by a fifth of the
    tolerance, and a tolerance that is calculated by a ten-thousandth of itself."""
    if old == new:
        return True
    old_cells, new_cells = old.split(" | "), new.split(" | ")
    if old_cells[:3] + old_cells[5:] != new_cells[:3] + new_cells[5:] or len(old_cells) != 6:
        return False
    tolerances = [float(cells[3]) for cells in (old_cells, new_cells)]
    return math.isclose(*tolerances, rel_tol=1e-4) and math.isclose(
        float(old_cells[4]), float(new_cells[4]), rel_tol=0, abs_tol=0.2 * tolerances[0]
    )


def found_by_testing() -> list[dict[str, Any]] | None:
    """What the tests record now; None where one of them does not hold."""
    findings = Findings()
    folders = [str(folder) for folder in FOLDERS if folder.exists()]
    options = ["-q", "--no-header", "-p", "no:cacheprovider"]
    held = pytest.main([*folders, *options], plugins=[findings]) == pytest.ExitCode.OK
    return findings.found if held else None


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="fail if docs/validation.md is stale")
    parser.add_argument("--from", dest="written", type=Path, help="what a run of pytest found")
    asked = parser.parse_args()
    found = json.loads(asked.written.read_text("utf-8")) if asked.written else found_by_testing()
    if found is None:
        print("validation: a test does not hold; see above", file=sys.stderr)
        return 1
    table = render_table(found)
    if not asked.check:
        TABLE.write_text(table, encoding="utf-8")
    elif not TABLE.exists() or not same_table(TABLE.read_text(encoding="utf-8"), table):
        print(f"validation: {TABLE.relative_to(ROOT)} is stale; run python tools/validation.py")
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
