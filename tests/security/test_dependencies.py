"""What others wrote and we pass on: pinned, of allowed licences, and asked about."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tomllib
from importlib import metadata, util
from pathlib import Path

import pytest
from packaging.requirements import Requirement

from source_tree import ROOT

LOCKS = [ROOT / "requirements.lock", ROOT / "tools" / "audit.lock"]
PINNED = re.compile(r"^[a-z0-9][a-z0-9.-]*==[^\s;\\]+", re.MULTILINE)
ALLOWED = ("MIT", "BSD", "Apache", "ISC", "PSF", "Python Software Foundation", "Unlicense", "0BSD",
           "MPL", "Mozilla Public", "MIT-0", "Zlib", "CC0")  # fmt: skip
"""Permissive, or weak copyleft by file, as the Open Source Initiative lists them: all may be used
by a program under Apache-2.0."""
FORBIDDEN = re.compile(r"\b(A?GPL|SSPL|BUSL|Commercial|Proprietary)", re.IGNORECASE)


def audit_tool():
    spec = util.spec_from_file_location("audit_tool", ROOT / "tools" / "audit.py")
    tool = util.module_from_spec(spec)
    sys.modules[spec.name] = tool
    spec.loader.exec_module(tool)
    return tool


audit = audit_tool()


def runtime_packages():
    """Everything that an installed nextpair brings along, from what is installed here."""
    found, todo = set(), ["nextpair"]
    while todo:
        name = todo.pop()
        for line in metadata.requires(name) or []:
            needed = Requirement(line)
            key = re.sub(r"[-_.]+", "-", needed.name).lower()
            wanted = needed.marker is None or needed.marker.evaluate({"extra": ""})
            if wanted and key not in found:
                found.add(key)
                todo.append(key)
    return found


def licence_of(name):
    """By the expression (PEP 639), else by classifiers, else by the older free field."""
    told = metadata.metadata(name)
    classified = [
        one.rpartition(":: ")[2]
        for one in told.get_all("Classifier") or []
        if one.startswith("License ::")
    ]
    return told.get("License-Expression") or ", ".join(classified) or told.get("License") or ""


def test_every_package_that_ships_is_of_an_allowed_licence():
    names = runtime_packages()
    assert {"fastapi", "starlette", "numpy", "argon2-cffi"} <= names
    licences = {name: licence_of(name) for name in sorted(names)}
    refused = {
        name: licence
        for name, licence in licences.items()
        if FORBIDDEN.search(licence) or not any(one in licence for one in ALLOWED)
    }
    assert refused == {}


@pytest.mark.parametrize("lock", LOCKS, ids=lambda path: path.name)
def test_every_package_is_pinned_by_hash_and_from_nowhere_in_particular(lock):
    text = lock.read_text("utf-8")
    blocks = re.split(r"\n(?=\S)", text.strip())
    for block in blocks:
        assert PINNED.match(block), block[:60]
        assert "--hash=sha256:" in block, block[:60]
    assert not re.search(r"https?://|file:|@ |^-", text, re.MULTILINE)


def test_the_pages_packages_are_pinned_by_hash():
    locked = json.loads((ROOT / "frontend" / "package-lock.json").read_text("utf-8"))["packages"]
    fetched = {name: one for name, one in locked.items() if name and not one.get("link")}
    assert len(fetched) > 20
    unpinned = [name for name, one in fetched.items() if "integrity" not in one]
    assert unpinned == []


def test_the_installed_program_needs_what_the_project_says_and_nothing_else():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    told = [Requirement(line) for line in metadata.requires("nextpair") or []]
    always = {str(one) for one in told if "extra" not in str(one.marker or "")}
    assert always == {str(Requirement(line)) for line in project["dependencies"]}
    assert not any(one.url for one in told)


def pip_audit_says(*packages):
    """As pip-audit 2.10 writes it with --format json."""
    return json.dumps({"dependencies": list(packages), "fixes": []})


SOUND = {"name": "rich", "version": "15.0.0", "vulns": []}
FLAWED = {
    "name": "rich",
    "version": "15.0.0",
    "vulns": [{"id": "GHSA-demo", "fix_versions": [], "aliases": ["CVE-2099-1"]}],
}
SKIPPED = {"name": "numpy", "skip_reason": "Dependency not found on PyPI and could not be audited"}


def test_a_service_that_knows_no_package_was_not_reached():
    """pip-audit itself says "No known vulnerabilities found" then, and ends with 0."""
    assert audit.python_verdict(pip_audit_says(SKIPPED, SKIPPED)).words == audit.NOT_ASKED
    for silence in ("", "Traceback (most recent call last)", "[]", "{}"):
        assert audit.python_verdict(silence).words == audit.NOT_ASKED
        assert audit.pages_verdict(silence).words == audit.NOT_ASKED


def test_a_package_that_was_not_asked_about_is_told():
    words = audit.python_verdict(pip_audit_says(SOUND, SKIPPED)).words
    assert words == "1 packages, no known vulnerability, 1 not asked"


def test_npms_two_answers_are_told_apart():
    refused = {"message": "405 Method Not Allowed", "statusCode": 405, "error": {"summary": ""}}
    assert audit.pages_verdict(json.dumps(refused)).words == audit.NOT_ASKED
    report = {"vulnerabilities": {}, "metadata": {"dependencies": {"total": 90}}}
    assert audit.pages_verdict(json.dumps(report)).words == "90 packages, no known vulnerability"
    report["vulnerabilities"] = {"vite": {"severity": "high"}}
    assert "vite (high)" in audit.pages_verdict(json.dumps(report)).words


@pytest.fixture
def said_by(tmp_path):
    """A program that stands in for pip-audit and says the same whatever it is asked."""

    def program(text: str) -> Path:
        made = tmp_path / "pip-audit"
        made.write_text(f"#!{sys.executable}\nprint({text!r})\nraise SystemExit(1)\n", "utf-8")
        made.chmod(0o755)
        return made

    return program


@pytest.mark.parametrize(
    ("said", "status", "words"),
    [
        (pip_audit_says(FLAWED), 1, "rich 15.0.0 GHSA-demo CVE-2099-1"),
        (pip_audit_says(SOUND), 0, "1 packages, no known vulnerability"),
        (pip_audit_says(SKIPPED), 0, audit.NOT_ASKED),
        ("", 0, audit.NOT_ASKED),
    ],
    ids=["known", "none known", "nobody answers so", "nobody answers"],
)
def test_the_audit_fails_by_name_and_for_nothing_else(
    said, status, words, said_by, monkeypatch, capsys
):
    monkeypatch.setattr(audit, "auditor", lambda: said_by(said))
    monkeypatch.setattr(audit.shutil, "which", lambda _name: None)
    assert audit.main() == status
    assert words in capsys.readouterr().out.splitlines()[0]


def test_the_audit_says_so_where_nothing_can_be_installed(monkeypatch, capsys):
    monkeypatch.setattr(audit, "auditor", lambda: None)
    monkeypatch.setattr(audit.shutil, "which", lambda _name: None)
    assert audit.main() == 0
    assert capsys.readouterr().out.count(audit.NOT_ASKED) == 2


@pytest.mark.skipif(
    not (audit.HOME / "bin" / "pip-audit").exists(), reason="`make audit` installs pip-audit"
)
def test_pip_audit_itself_names_what_a_service_on_loopback_knows(tmp_path):
    service = tmp_path / "service.py"
    service.write_text(SERVICE, "utf-8")
    with subprocess.Popen([sys.executable, service], stdout=subprocess.PIPE, text=True) as served:
        try:
            url = f"http://127.0.0.1:{served.stdout.readline().strip()}/v1/query"
            program = audit.HOME / "bin" / "pip-audit"
            told = audit.ask_for_python(program, ["--osv-url", url])
        finally:
            served.terminate()
    assert told.known > 20
    assert [words.split()[0] for words in told.warnings] == ["rich"]


SERVICE = '''
import http.server, json

class Service(http.server.BaseHTTPRequestHandler):
    """Answers as the OSV API (its documentation, POST /v1/query): rich alone has a flaw."""
    def do_POST(self):
        asked = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
        name = asked["package"]["name"]
        day = "2026-01-01T00:00:00Z"
        package = {"name": name, "ecosystem": "PyPI"}
        affected = [{"package": package,
                     "ranges": [{"type": "ECOSYSTEM", "events": [{"introduced": "0"}]}]}]
        flaw = {"id": "GHSA-demo", "modified": day, "published": day, "summary": "a flaw",
                "details": "a flaw", "affected": affected}
        body = json.dumps({"vulns": [flaw]} if name == "rich" else {}).encode()
        self.send_response(200)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)
    def log_message(self, *_):
        pass

server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Service)
print(server.server_port, flush=True)
server.serve_forever()
'''
