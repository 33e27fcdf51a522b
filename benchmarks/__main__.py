"""Measure every figure and write build/bench.json: `make bench`, on an idle machine."""

from __future__ import annotations

import sys
from pathlib import Path

from nextpair.application.settings import Settings
from nextpair.bootstrap import prepare_compiler


def main(target: Path) -> None:
    """Measure, write, and show the table."""
    # As the program does it, before anything compiled is imported: edits of the model must count.
    prepare_compiler(Settings())
    from benchmarks.bars import render_table
    from benchmarks.figures import THOROUGH, measured
    from benchmarks.written import write_figures

    figures = measured(THOROUGH)
    write_figures(figures, target)
    print(render_table(figures))
    print(f"{target}: load average {figures['machine.load_average'][0]} as it began")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
