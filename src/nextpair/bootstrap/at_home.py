"""What is kept for whoever uses the program at home: where it is, opened, copied and looked at."""

from __future__ import annotations

from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from nextpair.application.settings import Settings
from nextpair.bootstrap.folders import user_data_folder

if TYPE_CHECKING:
    from nextpair.application.store import Store
    from nextpair.domain.event import Event
    from nextpair.domain.lesson import Lesson
    from nextpair.domain.sheet import Sheet

STORE_FILE = "nextpair.sqlite3"


@dataclass(frozen=True, slots=True)
class AtHome:
    """The store and its folder, by the settings."""

    settings: Settings

    def store(self) -> Store:
        """What is kept, opened to be written to; the caller closes it. The first time in a day
        it is copied before. Raises InvalidValueError."""
        from nextpair.store.opening import open_store

        self.keep_daily()
        return open_store(self.store_place())

    def kept_store(self, writes: bool = False) -> Store | None:
        """What is kept, opened; None where nothing ever was, and then no file is made. One that
        is only read is not copied before."""
        from nextpair.store.opening import is_there, open_store

        if not is_there(self.store_place()):
            return None
        return self.store() if writes else open_store(self.store_place())

    def keep_daily(self) -> None:
        """Copy the store if that was not done today (UTC), and let old copies go. Raises
        DamagedStoreError."""
        from nextpair.application.clock import now_utc
        from nextpair.store.daily import keep_daily

        keep_daily(self.store_place(), now_utc().date())

    def require_sound(self) -> None:
        """Refuse a store that is damaged, by a quick check of every page. Raises
        DamagedStoreError."""
        from nextpair.store.opening import require_sound

        require_sound(self.store_place())

    def last_backup(self) -> Path:
        """The newest sound daily copy of the store. Raises InvalidValueError."""
        from nextpair.store.backup import last_backup

        return last_backup(self.store_place())

    def with_lessons(self, sheet: Sheet, event: Event) -> Sheet:
        """A sheet with what earlier events of whoever uses the program at home taught. Raises
        InvalidValueError where a store is there but does not open."""
        from nextpair.application.lessons import with_lessons

        return with_lessons(sheet, event, self.kept_lessons())

    def kept_lessons(self, with_done: bool = False) -> tuple[Lesson, ...]:
        """What was accepted at home, newest first. Raises InvalidValueError of the store."""
        from nextpair.application.accounts import home_account
        from nextpair.application.lessons import accepted_lessons

        store = self.kept_store()
        if store is None:
            return ()
        with closing(store):
            return accepted_lessons(store, home_account(store).id, with_done)

    def back_up(self, target: Path) -> None:
        """Write a copy of the store. Raises InvalidValueError."""
        from nextpair.store.backup import back_up

        back_up(self.store_place(), target)

    def restore(self, source: Path) -> Path | None:
        """Put a backup in the store's place; returns where the old store is now. Raises
        InvalidValueError."""
        from nextpair.store.backup import restore

        return restore(source, self.store_place())

    def store_place(self) -> str:
        """The file or URL of the store."""
        return self.settings.store or str(self.data_folder() / STORE_FILE)

    def data_folder(self) -> Path:
        """The folder of what must not be lost: the store, and what belongs beside it."""
        return self.settings.data_dir or user_data_folder()
