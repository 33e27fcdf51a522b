"""Ask the public services whether a pinned dependency has a known vulnerability: `make audit`.

pip-audit lives in an environment of its own, made from tools/audit.lock; npm asks for the pages'.
What was not asked is said, never passed over: a service that knows none of the packages was not
reached, whatever the tool makes of its silence. 1 where something is known, else 0.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
HOME = ROOT / "build" / "audit"
TIMEOUT_S = 5
LONGEST_S = 60
SERVICES = ("osv", "pypi")
"""Asked one after the other, until one answers."""
NOT_ASKED = "not asked: no service reached"


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a service said: how many packages it was asked for and knows, and what it warns of."""

    asked: int
    known: int
    warnings: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """One line."""
        if self.warnings:
            return f"{len(self.warnings)} known vulnerabilities: {'; '.join(self.warnings)}"
        if not self.known:
            return NOT_ASKED
        beside = "" if self.known == self.asked else f", {self.asked - self.known} not asked"
        return f"{self.known} packages, no known vulnerability{beside}"


NOBODY = Verdict(0, 0)


def python_verdict(told: str) -> Verdict:
    """What pip-audit's JSON says. A package that it skipped was not asked about."""
    try:
        packages = json.loads(told)["dependencies"]
    except (ValueError, KeyError, TypeError):
        return NOBODY
    warnings = tuple(
        f"{one['name']} {one['version']} {' '.join([flaw['id'], *flaw.get('aliases', ())])}"
        for one in packages
        for flaw in one.get("vulns", ())
    )
    known = sum("skip_reason" not in one for one in packages)
    return Verdict(len(packages), known, warnings)


def pages_verdict(told: str) -> Verdict:
    """What npm's JSON says (version 2 of its audit report)."""
    try:
        report = json.loads(told)
        asked = report["metadata"]["dependencies"]["total"]
        found = report["vulnerabilities"]
    except (ValueError, KeyError, TypeError):
        return NOBODY
    warnings = tuple(f"{name} ({one['severity']})" for name, one in sorted(found.items()))
    return Verdict(asked, asked, warnings)


def ask_for_python(program: Path, more: Sequence[str] = ()) -> Verdict:
    """Ask for every package of requirements.lock; `more` are further arguments of pip-audit."""
    lock = ["--requirement", str(ROOT / "requirements.lock"), "--disable-pip", "--require-hashes"]
    quiet = ["--format", "json", "--progress-spinner", "off", "--timeout", str(TIMEOUT_S)]
    for service in SERVICES:
        told = _told([str(program), *lock, *quiet, "--vulnerability-service", service, *more])
        verdict = python_verdict(told)
        if verdict.known:
            return verdict
    return NOBODY


def ask_for_pages(npm: str | None) -> Verdict:
    """Ask for every package of the pages' lock."""
    if npm is None:
        return NOBODY
    return pages_verdict(
        _told([npm, "--prefix", str(ROOT / "frontend"), "audit", "--json", "--package-lock-only"])
    )


def auditor() -> Path | None:
    """pip-audit in an environment of its own; None where it cannot be installed."""
    program = HOME / "bin" / "pip-audit"
    lock = ROOT / "tools" / "audit.lock"
    mark = HOME / "audit.lock"
    if program.exists() and mark.is_file() and mark.read_text("utf-8") == lock.read_text("utf-8"):
        return program
    subprocess.run([sys.executable, "-m", "venv", "--clear", str(HOME)], check=True)
    pip = [str(HOME / "bin" / "python"), "-m", "pip", "--disable-pip-version-check", "--quiet"]
    install = [*pip, "install", "--require-hashes", "--only-binary", ":all:", "-r", str(lock)]
    if subprocess.run(install, capture_output=True, check=False).returncode != 0:
        return None
    shutil.copyfile(lock, mark)
    return program


def _told(command: list[str]) -> str:
    try:
        ran = subprocess.run(
            command, capture_output=True, text=True, check=False, timeout=LONGEST_S
        )
    except (OSError, subprocess.TimeoutExpired):
        return ""
    return ran.stdout


def main() -> int:
    """Ask, say a line for each, and fail where something is known."""
    program = auditor()
    verdicts = {
        "Python": NOBODY if program is None else ask_for_python(program),
        "pages": ask_for_pages(shutil.which("npm")),
    }
    for name, verdict in verdicts.items():
        print(f"audit of {name}: {verdict.words}")
    return 1 if any(verdict.warnings for verdict in verdicts.values()) else 0


if __name__ == "__main__":
    raise SystemExit(main())
