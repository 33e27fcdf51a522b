"""Cases made by a fuzzer that watches which lines of the parsers run (atheris, over libFuzzer).

It starts from the sound files, in a process a target: `python -m fuzz.guided TARGET RUNS SEED
OUT`. Where atheris is not installed (it is for Linux on x86-64) there are none of these, and that
is said.
"""

from __future__ import annotations

import importlib.util
import json
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import asdict
from pathlib import Path

from fuzz.cases import text_of
from fuzz.judge import judged
from fuzz.runner import Tally, targets

LONGEST_CASE_BYTES = 4096
LEAST_RUNS = 150
GUIDED = "guided: "


def run_guided(cases: int, number: int, processes: int) -> dict[str, Tally]:
    """So many cases over the parsers, and a tally of each; few cases are of few parsers, by the
    seed, since each process takes seconds to begin."""
    if importlib.util.find_spec("atheris") is None:
        print("guided: atheris is not installed; no such cases")
        return {}
    parsers = [name for name, target in targets().items() if target.is_parser]
    many = min(len(parsers), max(1, cases // LEAST_RUNS))
    names = [parsers[(number + place) % len(parsers)] for place in range(many)]
    runs = -(-cases // len(names))
    with ThreadPoolExecutor(processes) as pool:
        found = pool.map(lambda name: _in_a_process(name, runs, number), names)
        return {tally.target: tally for tally in found}


def _in_a_process(name: str, runs: int, number: int) -> Tally:
    with tempfile.TemporaryDirectory() as place:
        out = Path(place) / "tally.json"
        words = [sys.executable, "-m", "fuzz.guided", name, str(runs), str(number), str(out)]
        done = subprocess.run(words, capture_output=True, text=True, check=False)
        if not out.exists():
            fault = f"the fuzzer itself: exit {done.returncode}\n{done.stderr[-1500:]}"
            return Tally(GUIDED + name, failures=1, faults={fault: text_of(b"")})
        return Tally(**json.loads(out.read_text("utf-8")))


def drive(name: str, runs: int, number: int, out: Path) -> None:
    """Fuzz one target. Does not come back: the library ends the process."""
    import atheris

    with atheris.instrument_imports(include=["nextpair.files", "tomllib", "csv"]):
        target = targets()[name]
    tally = Tally(GUIDED + name)

    def one(content: bytes) -> None:
        verdict = judged(target.run, content)
        tally.cases += 1
        tally.refused += verdict.refused
        tally.slowest_s = max(tally.slowest_s, verdict.seconds)
        if verdict.fault:
            tally.failures += 1
            tally.note(verdict.fault, text_of(content))
        if verdict.fault or tally.cases % 100 == 0 or tally.cases >= runs:
            out.write_text(json.dumps(asdict(tally)), "utf-8")

    with tempfile.TemporaryDirectory() as corpus:
        for place, content in enumerate(_sound(name)):
            (Path(corpus) / str(place)).write_bytes(content)
        flags = [
            f"-runs={runs}",
            f"-seed={number}",
            f"-max_len={LONGEST_CASE_BYTES}",
            "-timeout=0",
        ]
        atheris.Setup([sys.argv[0], *flags, "-verbosity=0", corpus], one)
        atheris.Fuzz()


def _sound(name: str) -> Iterator[bytes]:
    """The files that a target's damage starts from."""
    from fuzz import originals

    texts = {
        **{key: [text] for key, text in originals.FILES.items()},
        "film.csv": [originals.FILM],
        "shots.csv": [originals.SHOTS],
        "scores.csv": [originals.SCORES, originals.WIDE],
        "score sheet": [originals.SHEET, originals.BALLS],
        "shared house": [originals.SHARED_HOUSE],
    }
    return (text.encode() for text in texts[name])


if __name__ == "__main__":
    drive(sys.argv[1], int(sys.argv[2]), int(sys.argv[3]), Path(sys.argv[4]))
