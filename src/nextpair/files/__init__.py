"""The files of an event, read and checked: whole, or refused with every problem told."""

from nextpair.files.event_file import load_event, load_pattern

__all__ = ["load_event", "load_pattern"]
