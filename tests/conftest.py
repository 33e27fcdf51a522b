"""Settings of every test run: how hard hypothesis searches, and where compiled code is kept."""

from __future__ import annotations

import os

from hypothesis import settings

from nextpair.application.settings import Settings
from nextpair.bootstrap import prepare_compiler

settings.register_profile("dev", max_examples=50, deadline=None)
settings.register_profile("ci", max_examples=200, deadline=None, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "dev")

# As the program does it, before anything compiled is imported: edits of the model must count.
prepare_compiler(Settings())
