"""Arrays that are made anew again and again take the pages that they had; told by page faults."""

from __future__ import annotations

import json
import os
import platform
import subprocess
import sys

import pytest

PAGES_OF_ALL = 100 * (1 << 20) // 4096
"""A hundred arrays of a mebibyte."""
TOLD = """
import json, resource
from contextlib import nullcontext
import numpy as np
from nextpair.crew.kept_memory import kept_memory

def faults(within):
    with within:
        for _ in range(2):  # the first round takes the pages
            before = resource.getrusage(resource.RUSAGE_SELF).ru_minflt
            for _ in range(100):
                np.full(1 << 17, 1.0)
            after = resource.getrusage(resource.RUSAGE_SELF).ru_minflt
    return after - before

with kept_memory():
    two_deep = faults(kept_memory())
    still = faults(nullcontext())
print(json.dumps([two_deep, still, faults(nullcontext())]))
"""


@pytest.mark.skipif(platform.libc_ver()[0] != "glibc", reason="a matter of glibc")
def test_freed_memory_stays_within_and_goes_back_afterwards():
    trimmed = os.environ | {"MALLOC_TRIM_THRESHOLD_": "65536"}
    words = [sys.executable, "-c", TOLD]
    ran = subprocess.run(words, env=trimmed, capture_output=True, text=True, check=True)
    two_deep, still, afterwards = json.loads(ran.stdout)
    assert two_deep < PAGES_OF_ALL / 100
    assert still < PAGES_OF_ALL / 100, "an inner one that ended gave it all back"
    assert afterwards > PAGES_OF_ALL / 2
