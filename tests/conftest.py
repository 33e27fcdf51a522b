"""Settings of every test run: how hard to search for counter-examples."""

from __future__ import annotations

import os

from hypothesis import settings

settings.register_profile("dev", max_examples=50, deadline=None)
settings.register_profile("ci", max_examples=200, deadline=None, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "dev")
