"""The one place that picks adapters: files, the store, the compiler's cache, and which use case
answers what."""

from nextpair.bootstrap.at_home import STORE_FILE, AtHome
from nextpair.bootstrap.compiler import prepare_compiler
from nextpair.bootstrap.folders import user_cache_folder, user_data_folder
from nextpair.bootstrap.log_file import log_path, start_log, write_fault
from nextpair.bootstrap.program import Program

__all__ = [
    "STORE_FILE",
    "AtHome",
    "Program",
    "log_path",
    "prepare_compiler",
    "start_log",
    "user_cache_folder",
    "user_data_folder",
    "write_fault",
]
