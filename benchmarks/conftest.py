"""Compiled code is kept where the program keeps it."""

from __future__ import annotations

from nextpair.application.settings import Settings
from nextpair.bootstrap import prepare_compiler

prepare_compiler(Settings())
