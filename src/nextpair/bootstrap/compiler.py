"""The compiler, pointed at the cache of this model before anything compiled is imported."""

from __future__ import annotations

import atexit
import os
import shutil
import sys
import tempfile
from pathlib import Path

from nextpair.application.model_version import compiled_version
from nextpair.application.settings import Settings
from nextpair.bootstrap.folders import user_cache_folder


def prepare_compiler(settings: Settings) -> Path:
    """Point the compiler at this model's own cache folder; returns the folder.

    Must run before compiled modules are imported: the compiler's cache notices edits in the file
    of a function, not in the files it calls. The folder's name changes with the model instead.
    """
    folder = _writable_cache(settings)
    os.environ["NUMBA_CACHE_DIR"] = str(folder)
    # Its threads wait for each other longer than our small products take; read as numpy is loaded.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    if features := _cpu_features():
        os.environ.setdefault("NUMBA_CPU_FEATURES", features)
    compiler = sys.modules.get("numba")
    if compiler is None:
        if settings.threads:
            os.environ["NUMBA_NUM_THREADS"] = str(settings.threads)
    else:
        # Already loaded by somebody else's program: it read the environment long ago.
        compiler.config.CACHE_DIR = str(folder)
        if settings.threads:
            compiler.set_num_threads(min(settings.threads, compiler.config.NUMBA_NUM_THREADS))
    return folder


def _cpu_features() -> str | None:
    """What the CPU can do, told to the compiler where its own opinion is of harm.

    It holds most CPUs with AVX2 for slow at gathering numbers from a table. It then also reckons a
    shot at a time all that leads to a place on the film: half of the kernel's arithmetic.
    """
    from llvmlite import binding

    features = binding.get_host_cpu_features()
    if features.get("avx2") and not features.get("avx512f"):
        return f"{features.flatten()},+fast-gather"
    return None


def _writable_cache(settings: Settings) -> Path:
    try:
        root = settings.cache_dir or user_cache_folder()
        folder = root / "compiled" / compiled_version()
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        with tempfile.TemporaryFile(dir=folder):
            return folder
    except (OSError, RuntimeError):  # RuntimeError: this user has no home folder
        return _temporary_cache()


def _temporary_cache() -> Path:
    """A private folder for this run: a shared name would let others plant compiled code."""
    folder = Path(tempfile.mkdtemp(prefix="nextpair-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return folder
