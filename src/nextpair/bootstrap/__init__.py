"""The one place that picks adapters: files, the store, the compiler's cache, and which use case
answers what."""

from nextpair.bootstrap.at_home import STORE_FILE
from nextpair.bootstrap.compiler import prepare_compiler
from nextpair.bootstrap.folders import user_cache_folder, user_data_folder
from nextpair.bootstrap.program import Program

__all__ = [
    "STORE_FILE",
    "Program",
    "prepare_compiler",
    "user_cache_folder",
    "user_data_folder",
]
