"""The files of an event, read and checked: whole, or refused with every problem told."""

from nextpair.files.event_file import load_event, load_pattern
from nextpair.files.pattern_library import load_library

__all__ = ["load_event", "load_library", "load_pattern"]
