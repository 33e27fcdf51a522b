"""Passwords by Argon2id, with the settings that RFC 9106 (section 4) recommends second: 64 MB."""

from __future__ import annotations

from functools import cached_property
from threading import BoundedSemaphore

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError
from argon2.profiles import RFC_9106_LOW_MEMORY

AT_ONCE = 2
"""Each check takes 64 MB: so many are made at the same time, and the others wait."""


class Argon2Hasher:
    """What is kept of a password, and whether one is the one that it was made of."""

    def __init__(self) -> None:
        self._hasher = PasswordHasher.from_parameters(RFC_9106_LOW_MEMORY)
        self._slots = BoundedSemaphore(AT_ONCE)

    def hash(self, password: str) -> str:
        """What is kept of a password."""
        with self._slots:
            return self._hasher.hash(password)

    def matches(self, kept: str | None, password: str) -> bool:
        """Whether it is the password. Where nothing is kept it takes as long to say no, so that
        nobody learns which names there are."""
        nobodys = self._nobodys  # made whoever is asked for: else the first stranger waits longer
        try:
            with self._slots:
                self._hasher.verify(kept or nobodys, password)
        except (VerificationError, InvalidHashError):
            return False
        return kept is not None

    @cached_property
    def _nobodys(self) -> str:
        return self._hasher.hash("nobody's")
