"""The files of an event, read and checked: whole, or refused with every problem told."""

from nextpair.files.documents import load_folder
from nextpair.files.event_file import load_event, load_pattern
from nextpair.files.papers import FilePapers
from nextpair.files.pattern_library import load_library
from nextpair.files.score_sheet import load_score_sheet
from nextpair.files.scores_file import load_scores, scores_text
from nextpair.files.shared_house import load_shared_house
from nextpair.files.shots_file import load_shots, shots_text

__all__ = [
    "FilePapers",
    "load_event",
    "load_folder",
    "load_library",
    "load_pattern",
    "load_score_sheet",
    "load_scores",
    "load_shared_house",
    "load_shots",
    "scores_text",
    "shots_text",
]
