"""What a database's errors say: the statement, and nothing of what somebody keeps."""

from __future__ import annotations

from uuid import uuid4

import pytest
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError

from nextpair.store.engine import database_url, open_engine
from nextpair.store.opening import open_store

MARK = "left knee, taped since spring"


def test_a_statement_that_fails_is_told_without_its_values(place):
    open_store(place).close()
    engine = open_engine(database_url(place))
    # No account has this id, so the row of its ticket is refused by both databases.
    words = "INSERT INTO ticket VALUES (:digest, :account, '2026-01-01', '0', :device)"
    told = {"digest": MARK, "account": uuid4().hex, "device": MARK}
    with pytest.raises(DBAPIError) as refused, engine.begin() as connection:
        connection.execute(text(words), told)
    engine.dispose()
    assert "INSERT INTO ticket" in str(refused.value)
    assert MARK not in str(refused.value)
