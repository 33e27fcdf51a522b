"""Build the wheel and the sdist into dist/ with their SHA-256 sums, and prove that they are what
anybody else would build: `make release`.

Everything comes from the commit, nothing from the folder: the sources are checked out anew,
and every file's time is the commit's (SOURCE_DATE_EPOCH of reproducible-builds.org). Built again
from another folder, with another umask, time zone, file times and things lying about, and from the
sdist alone, the bytes must be the same.
"""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys
import tarfile
import tempfile
import zipfile
from pathlib import Path

ROOT = Path(__file__).parents[1]
DIST = ROOT / "dist"
LEFT_OUT = (".ci/", ".gitignore")
"""Of the commit, what is not in the sdist: it is of no use without the rest of the history."""
UNWANTED = re.compile(
    r"(^|/)(\.ci|\.git|\.venv|build|dist|node_modules|__pycache__|\.hypothesis|[^/]*_cache)(/|$)"
    r"|\.(pyc|sqlite3|log|pem|key)$"
)
PAGES = ("home/index.html", "lanes/index.html", "single/single.js")
UMASKS = ("022", "077")
OTHER_ZONE = "Pacific/Kiritimati"
OLD_S = 86400 * 365 * 5


def main() -> None:
    """Build twice and from the sdist, compare, and write dist/."""
    commit = _git("rev-parse", "HEAD")
    if changed := _git("status", "--porcelain", "--untracked-files=no"):
        sys.exit(f"release: commit these first, a release is of a commit:\n{changed}")
    epoch = _git("log", "-1", "--format=%ct")
    with tempfile.TemporaryDirectory() as where:
        work = Path(where)
        first = _built(_sources(work / "one"), work / "first", epoch, UMASKS[0], "UTC")
        tree = _sources(work / "some where else")
        _litter(tree)
        second = _built(tree, work / "second", epoch, UMASKS[1], OTHER_ZONE)
        _require_same(first, second, "built again from another folder")
        with tarfile.open(first["sdist"]) as archive:
            archive.extractall(work / "unpacked", filter="data")
        [unpacked] = (work / "unpacked").iterdir()
        again = _built(unpacked, work / "third", epoch, UMASKS[0], "UTC")
        _require_same(first, again, "built from the sdist")
        _require_contents(first)
        DIST.mkdir(exist_ok=True)
        for old in DIST.glob("nextpair-*"):
            old.unlink()
        for file in first.values():
            (DIST / file.name).write_bytes(file.read_bytes())
    sums = "".join(f"{_sum(DIST / file.name)}  {file.name}\n" for file in first.values())
    (DIST / "SHA256SUMS").write_text(sums)
    print(f"{sums}dist/ is of commit {commit}; built three times to the same bytes")


def _git(*words: str) -> str:
    told = subprocess.run(["git", *words], cwd=ROOT, check=True, capture_output=True, text=True)
    return told.stdout.strip()


def _sources(where: Path) -> Path:
    """The files of the commit, in a folder of their own."""
    where.mkdir()
    archive = subprocess.run(
        ["git", "archive", "HEAD"], cwd=ROOT, check=True, capture_output=True
    ).stdout
    subprocess.run(["tar", "x"], cwd=where, input=archive, check=True)
    return where


def _litter(tree: Path) -> None:
    """What lies about in a folder that somebody works in, and file times of years ago."""
    for name in ("build/secret.key", "src/nextpair/__pycache__/a.pyc", ".venv/x", ".ci/token"):
        path = tree / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text("litter")
    for path in tree.rglob("*"):
        os.utime(path, (OLD_S, OLD_S))


def _built(tree: Path, target: Path, epoch: str, umask: str, zone: str) -> dict[str, Path]:
    """Wheel and sdist of a folder."""
    environment = os.environ | {
        "SOURCE_DATE_EPOCH": epoch, "TZ": zone, "PYTHONHASHSEED": umask, "LC_ALL": "C.UTF-8",
    }  # fmt: skip
    environment.pop("PYTHONPATH", None)
    words = 'umask "$0"; exec "$@"'
    build = [sys.executable, "-m", "hatchling", "build", "--directory", str(target)]
    subprocess.run(
        ["sh", "-c", words, umask, *build], cwd=tree, env=environment, check=True,
        stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
    )  # fmt: skip
    [wheel], [sdist] = target.glob("*.whl"), target.glob("*.tar.gz")
    return {"wheel": wheel, "sdist": sdist}


def _require_same(one: dict[str, Path], other: dict[str, Path], how: str) -> None:
    for kind, file in one.items():
        if file.name != other[kind].name or _sum(file) != _sum(other[kind]):
            sys.exit(f"release: {how}, the {kind} is not the same")


def _require_contents(built: dict[str, Path]) -> None:
    with tarfile.open(built["sdist"]) as archive:
        sdist = [name.partition("/")[2] for name in archive.getnames()]
    with zipfile.ZipFile(built["wheel"]) as archive:
        wheel = archive.namelist()
    tracked = [name for name in _git("ls-files").splitlines() if not name.startswith(LEFT_OUT)]
    missing = [name for name in tracked if name not in sdist]
    missing += [one for one in PAGES if f"nextpair/web/static/{one}" not in wheel]
    missing += [
        name for name in _git("ls-files", "src/nextpair").splitlines()
        if name.removeprefix("src/") not in wheel
    ]  # fmt: skip
    if not any(name.endswith("licenses/LICENSE") for name in wheel):
        missing.append("LICENSE in the wheel")
    if missing:
        sys.exit(f"release: missing: {', '.join(missing)}")
    if unwanted := [name for name in (*sdist, *wheel) if UNWANTED.search(name)]:
        sys.exit(f"release: should not be in it: {', '.join(unwanted)}")


def _sum(file: Path) -> str:
    return hashlib.sha256(file.read_bytes()).hexdigest()


if __name__ == "__main__":
    main()
