"""The diary: written, corrected and taken back, by phone or at home, and for nobody else."""

from __future__ import annotations

from uuid import UUID, uuid4

import pytest

from event_folder import DEMO
from nextpair.application.diary import (
    LONGEST_TEXT,
    PROMPTS,
    diary_of,
    take_back,
    write_entry,
)
from nextpair.application.events import folder_of, take_in_event
from nextpair.application.store import Account, NotKeptError
from nextpair.domain.errors import InvalidValueError
from nextpair.domain.jotting import Jotting, JottingKind
from nextpair.files import FilePapers
from nextpair.store.memory import MemoryStore

FILES = {path.name: path.read_text("utf-8") for path in DEMO.iterdir() if path.is_file()}


@pytest.fixture
def kept() -> tuple[MemoryStore, UUID, UUID]:
    """A store with the bundled event: store, account, event."""
    store, account = MemoryStore(), Account(uuid4(), "home", None)
    store.add_account(account)
    return store, account.id, take_in_event(store, FilePapers(), account.id, FILES).id


def told(kept) -> list[tuple[str, str]]:
    return [(entry.prompt, entry.text) for entry in diary_of(kept[0].log(*kept[1:]))]


def from_the_phone(kept, seq: int, **payload: object) -> None:
    note = {"about": "diary", **payload}
    kept[0].append(kept[1], [Jotting(uuid4(), kept[2], "phone", seq, JottingKind.NOTE, note)])


def test_entries_stand_in_the_order_in_which_they_were_written(kept):
    write_entry(*kept, "went_well", " Stayed with the line. ")
    from_the_phone(kept, 1, prompt="lane", text="15 dried up late.")
    write_entry(*kept, "free", "Slept well.")
    assert told(kept) == [
        ("went_well", "Stayed with the line."),
        ("lane", "15 dried up late."),
        ("free", "Slept well."),
    ]


def test_an_entry_is_written_anew_in_its_place_and_keeps_its_id(kept):
    first = write_entry(*kept, "went_well", "One.")
    write_entry(*kept, "lane", "Two.")
    again = write_entry(*kept, "went_well", "One, put better.", first.id)
    assert again.id == first.id
    write_entry(*kept, "went_well", "One, put best.", first.id)
    assert told(kept) == [("went_well", "One, put best."), ("lane", "Two.")]


def test_an_entry_that_is_taken_back_is_gone(kept):
    first = write_entry(*kept, "went_well", "One.")
    take_back(*kept, first.id)
    assert told(kept) == []
    with pytest.raises(NotKeptError):
        take_back(*kept, first.id)
    with pytest.raises(NotKeptError):
        write_entry(*kept, "went_well", "Again.", first.id)


def test_other_notes_are_no_diary_and_unknown_prompts_are_free(kept):
    store, account, event = kept
    other = {"about": "missing", "text": "towel"}
    store.append(account, [Jotting(uuid4(), event, "phone", 1, JottingKind.NOTE, other)])
    from_the_phone(kept, 2, prompt="mood", text="Calm.")
    from_the_phone(kept, 3, prompt="lane", text="  ")
    from_the_phone(kept, 4, prompt="lane")
    assert told(kept) == [("free", "Calm.")]


@pytest.mark.parametrize(
    ("prompt", "text"),
    [("mood", "Calm."), ("free", " "), ("free", "x" * (LONGEST_TEXT + 1)), ("free", "a\0b")],
)
def test_what_is_no_entry_is_refused(kept, prompt, text):
    with pytest.raises(InvalidValueError):
        write_entry(*kept, prompt, text)
    assert told(kept) == []


def test_the_longest_entry_fits_in_any_writing(kept):
    write_entry(*kept, "free", "\U0001f3b3" * LONGEST_TEXT)
    assert len(told(kept)) == 1


def test_every_prompt_asks_something_and_what_went_well_comes_first():
    assert list(PROMPTS) == ["went_well", "kept_faith", "lane", "change_next", "free"]
    assert all(words.endswith((".", "?")) for words in PROMPTS.values())


@pytest.mark.parametrize("others", [False, True])
def test_no_event_folder_has_the_diary(kept, others):
    store, account, event = kept
    write_entry(*kept, "free", "Quince marmalade.")
    texts = folder_of(store, FilePapers(), account, event, others=others)
    assert "Quince" not in "".join(texts.values())
