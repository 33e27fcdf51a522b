"""Whatever an event is: as documents, as files and in memory it is the same one."""

from __future__ import annotations

import copy
import json
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from event_documents import bundles
from event_folder import DEMO
from nextpair.application.bundle import EventBundle
from nextpair.domain.errors import InputRefusedError
from nextpair.files import FilePapers, load_event

PAPERS = FilePapers()
FILES = {p.name: p.read_text("utf-8") for p in DEMO.iterdir() if p.suffix in (".toml", ".csv")}
DEMO_BUNDLE = PAPERS.bundle(FILES)
PARTS = ("event", "house", "left_pattern", "bowler", "locker", "squad")
ODD = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.floats(),
    st.text(max_size=6),
    st.lists(st.integers(), max_size=3),
    st.dictionaries(st.text(max_size=4), st.integers(), max_size=2),
    st.sampled_from([[[]], {}, [None], 10**400, "\ud800", "library: x", "house.toml", "1-2"]),
)


def loaded(texts: dict[str, str]) -> Any:
    with tempfile.TemporaryDirectory() as folder:
        for name, text in texts.items():
            (Path(folder) / name).write_text(text, "utf-8", newline="")
        return load_event(Path(folder) / "event.toml")


@given(bundles())
def test_an_event_is_the_same_in_every_form(bundle):
    event = PAPERS.event(bundle)
    texts = PAPERS.folder(bundle)
    assert loaded(texts) == event
    again = PAPERS.bundle(texts)
    assert PAPERS.event(again) == event
    assert PAPERS.folder(again) == texts


@given(bundles())
def test_json_changes_nothing(bundle):
    parts = {name: getattr(bundle, name) for name in (*PARTS, "right_pattern")}
    read = json.loads(json.dumps(parts), parse_int=float)
    rows = {name: tuple(read[name]) for name in ("locker", "squad")}
    assert PAPERS.event(replace(bundle, **(read | rows))) == PAPERS.event(bundle)


def places(value: Any) -> Iterator[tuple[Any, Any]]:
    """Every container in a document with each of its keys."""
    for key, item in value.items() if isinstance(value, dict) else enumerate(value):
        yield value, key
        if isinstance(item, dict | list):
            yield from places(item)


def damaged(data: st.DataObject) -> EventBundle:
    part = data.draw(st.sampled_from(PARTS))
    document = copy.deepcopy(getattr(DEMO_BUNDLE, part))
    rows = list(document) if isinstance(document, tuple) else [document]
    inside = [place for row in rows for place in places(row)]
    container, key = inside[data.draw(st.integers(0, len(inside) - 1))]
    container[key] = data.draw(ODD)
    return replace(DEMO_BUNDLE, **{part: tuple(rows) if isinstance(document, tuple) else rows[0]})


@given(st.data())
def test_one_value_of_a_document_is_another(data):
    bundle = damaged(data)
    try:
        event = PAPERS.event(bundle)
    except InputRefusedError as refused:
        for problem in refused.problems:
            assert len(str(problem).splitlines()) == 1
            assert all((problem.file, problem.place, problem.found, problem.allowed))
    else:
        assert loaded(PAPERS.folder(bundle)) == event
