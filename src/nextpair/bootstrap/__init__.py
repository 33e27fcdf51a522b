"""The one place that picks adapters: files, the store, the compiler's cache, and which use case
answers what."""

from nextpair.bootstrap.compiler import prepare_compiler
from nextpair.bootstrap.folders import user_cache_folder, user_data_folder
from nextpair.bootstrap.program import STORE_FILE, Program

__all__ = [
    "STORE_FILE",
    "Program",
    "prepare_compiler",
    "user_cache_folder",
    "user_data_folder",
]
