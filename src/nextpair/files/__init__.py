"""The files of an event, read and checked."""
