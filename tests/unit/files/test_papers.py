"""Documents, files and events, one for the other: the same rules, and nothing lost on the way."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from event_folder import DEMO
from nextpair.application.bundle import EarlierSquad, EventBundle
from nextpair.domain.errors import InputRefusedError, Problem
from nextpair.domain.record import Kind
from nextpair.files import FilePapers, load_event

PAPERS = FilePapers()
AN_ID = "8f14e45f-ceea-467f-a0e6-c4b1f9d3a2b7"
LEVEL = [[0] * 39, [0] * 39]
RECORD_OF_EVENT = {
    "name": "Two Lanes Cup",
    "date": "2026-06-13",
    "games": 4,
    "practice_minutes": 10,
    "surface_changes": "any",
    "house": AN_ID,
    "pattern": "library: Mill Race 35",
    "bowler": AN_ID,
    "squad": AN_ID,
    "bowler_name": "Ada Quill",
    "move_pairs": 1,
}


def texts_of(folder: Path) -> dict[str, str]:
    return {path.name: path.read_text("utf-8") for path in folder.glob("*.[tc][os][mv]*")}


@pytest.fixture(scope="module")
def bundle() -> EventBundle:
    return PAPERS.bundle(texts_of(DEMO))


def written(folder: Path, texts: dict[str, str]) -> Path:
    for name, text in texts.items():
        (folder / name).write_text(text, "utf-8")
    return folder / "event.toml"


def problems(kind: Kind, document: dict[str, object]) -> dict[str, Problem]:
    """What is wrong with a record, by place."""
    with pytest.raises(InputRefusedError) as refused:
        PAPERS.check(kind, document)
    return {problem.place: problem for problem in refused.value.problems}


def wrong_with(bundle: EventBundle) -> list[tuple[str, str]]:
    with pytest.raises(InputRefusedError) as refused:
        PAPERS.event(bundle)
    return [(problem.file, problem.place) for problem in refused.value.problems]


def test_the_bundled_event_stays_what_it_is(bundle, tmp_path):
    event = load_event(DEMO / "event.toml")
    assert PAPERS.event(bundle) == event
    texts = PAPERS.folder(bundle)
    assert load_event(written(tmp_path, texts)) == event
    assert PAPERS.bundle(texts) == bundle


def test_documents_are_plain_json(bundle):
    parts = (bundle.event, bundle.house, bundle.left_pattern, bundle.bowler, bundle.squad)
    assert json.loads(json.dumps(parts)) == [*parts[:-1], list(bundle.squad)]
    assert bundle.event["date"] == "2026-10-17"
    assert bundle.event["money"]["expenses"]["food"] == 31.5
    assert bundle.squad[0]["rev_rate_rpm"] == 365


def test_a_folder_within_a_folder(bundle):
    texts = {f"2026/{name}": text for name, text in texts_of(DEMO).items()}
    house = texts.pop("2026/house.toml")
    texts["2026/event.toml"] = texts["2026/event.toml"].replace("house.toml", "../houses/q.toml")
    found = PAPERS.bundle(texts | {"houses/q.toml": house}, "2026/event.toml")
    assert found == bundle


def test_a_folder_in_memory_reaches_nothing_on_disk():
    texts = texts_of(DEMO)
    texts["event.toml"] = texts["event.toml"].replace('"house.toml"', f'"{DEMO}/house.toml"')
    with pytest.raises(InputRefusedError, match=r"house: found .*no such file"):
        PAPERS.bundle(texts)


def test_text_that_is_no_text_is_refused():
    with pytest.raises(InputRefusedError, match="UTF-8"):
        PAPERS.bundle(texts_of(DEMO) | {"house.toml": 'name = "\ud800"'})


def test_numbers_may_be_written_either_way(bundle):
    floats = json.loads(json.dumps(bundle.house), parse_int=float)
    assert PAPERS.event(replace(bundle, house=floats)) == PAPERS.event(bundle)


def test_what_holds_nothing_is_left_out(bundle):
    squad = tuple({"style": None, "cover": "", **row} for row in bundle.squad)
    bowler = {"loft_in": None, **bundle.bowler}
    other = replace(bundle, squad=squad, bowler=bowler, event=bundle.event | {"cut": None})
    assert PAPERS.event(other) == PAPERS.event(bundle)
    assert PAPERS.folder(other) == PAPERS.folder(bundle)


def test_problems_are_told_where_they_are(bundle):
    squad = (bundle.squad[0] | {"speed_mph": 90}, bundle.squad[1] | {"hand": "both"})
    passes = [*bundle.left_pattern["pass"]]
    passes[1] = passes[1] | {"oil_ul": 900}
    other = replace(
        bundle,
        squad=squad,
        left_pattern=bundle.left_pattern | {"pass": passes},
        event=bundle.event | {"date": "17.10.2026", "colour": "green"},
    )
    assert wrong_with(other) == [
        ("event.toml", "date"),
        ("event.toml", "colour"),
        ("pattern.toml", "pass 2: oil_ul"),
        ("squad.csv", "row 1: speed_mph"),
        ("squad.csv", "row 2: hand"),
    ]


def test_a_squad_that_bowls_twice_is_the_same_people(bundle):
    row = {"pair": "13-14"}
    squad = (*bundle.squad, row)
    again = EarlierSquad({"games": 3}, squad, "squad")
    others = EarlierSquad({}, squad, "early")
    event = PAPERS.event(replace(bundle, squad=squad, earlier=(again, others)))
    assert event.earlier[0].entrants == event.squad
    assert event.earlier[1].entrants[-1].name != event.squad[-1].name
    texts = PAPERS.folder(replace(bundle, squad=squad, earlier=(again, others)))
    assert PAPERS.event(PAPERS.bundle(texts)) == event


@pytest.mark.parametrize(
    ("kind", "document", "guessed"),
    [
        (Kind.HOUSE, {"name": "Quay", "lanes": 8}, "house.toml: surface"),
        (Kind.BOWLER, {"name": "Ada", "hand": "left", "average": 190}, "bowler.toml: speed_mph"),
        (Kind.BALL, {"name": "Kestrel", "cover": "solid"}, "locker.csv: rg_in of Kestrel"),
        (Kind.SQUAD, {"name": "A", "rows": [{"pair": "1-2"}]}, "squad.csv: hand of somebody"),
        (Kind.EVENT, RECORD_OF_EVENT | {"money": {}}, "event.toml: money.entries"),
        (
            Kind.PATTERN,
            {"name": "P", "length_ft": 40, "film": {"distance_ft": [0, 40], "units": LEVEL}},
            "pattern.toml: viscosity_cp",
        ),
    ],
)
def test_a_record_by_itself_says_what_is_guessed(kind, document, guessed):
    assert any(line.startswith(guessed) for line in PAPERS.check(kind, document))


def test_an_event_by_itself_guesses_nothing_of_its_neighbours():
    assert PAPERS.check(Kind.EVENT, RECORD_OF_EVENT) == ()
    with_cut = RECORD_OF_EVENT | {"money": {"cut_to": 20, "entries": 80}}
    assert PAPERS.check(Kind.EVENT, with_cut) == ()


@pytest.mark.parametrize(
    ("changed", "place"),
    [
        ({"house": "house.toml"}, "house"),
        ({"pattern": "pattern.toml"}, "pattern"),
        ({"pattern": "library: Nowhere 12"}, "pattern"),
        ({"left_pattern": AN_ID}, "pattern"),
        ({"locker": "locker.csv"}, "locker"),
        ({"games": 99}, "games"),
        ({"games": 2.5}, "games"),
        ({"date": "2026-02-30"}, "date"),
        ({"date": 20260613}, "date"),
        ({"earlier_squad": [{"squad": AN_ID, "games": 0}]}, "earlier_squad 1: games"),
        ({"earlier_squad": [{"squad": "x"}]}, "earlier_squad 1: squad"),
        ({"money": {"entry_fee": -1}}, "money.entry_fee"),
        ({"money": {"prizes": [5, 10]}}, "money.prizes"),
    ],
)
def test_an_event_by_itself_is_refused_at_its_place(changed, place):
    assert list(problems(Kind.EVENT, RECORD_OF_EVENT | changed)) == [place]


@pytest.mark.parametrize(
    ("changed", "place"),
    [
        ({"weight_lb": 20}, "weight_lb"),
        ({"colour": "red"}, "colour"),
        ({"retired": "no"}, "retired"),
        ({"bowler": "me"}, "bowler"),
        ({"surface_history": [{"date": "2026-01-02", "surface_grit": 50}]},
         "surface_history 1: surface_grit"),
        ({"surface_history": [{"date": "soon", "surface_grit": 500}]}, "surface_history 1: date"),
        ({"layout_history": [{"date": "2026-01-02", "pin_to_pap_in": 9,
                              "drilling_angle_deg": 40, "val_angle_deg": 20}]},
         "layout_history 1: pin_to_pap_in"),
    ],
)  # fmt: skip
def test_a_ball_by_itself_is_refused_at_its_place(changed, place):
    ball = {"name": "Kestrel", "cover": "solid", "bowler": AN_ID, "retired": True}
    PAPERS.check(Kind.BALL, ball)
    assert list(problems(Kind.BALL, ball | changed)) == [place]


@pytest.mark.parametrize(
    ("rows", "place"),
    [
        ([], "rows"),
        ("13-14", "rows"),
        ([3], "rows 1"),
        ([{"pair": "13-14"}, {"pair": "14-15"}], "row 2: pair"),
        ([{"pair": "1-2", "name": "Bo"}, {"pair": "1-2", "name": " Bo "}], "row 2: name"),
        ([{"pair": "1-2", "rev_rate_rpm": [3]}], "row 1: rev_rate_rpm"),
    ],
)
def test_a_squad_by_itself_is_refused_at_its_place(rows, place):
    assert list(problems(Kind.SQUAD, {"name": "A", "rows": rows})) == [place]


@pytest.mark.parametrize(
    ("film", "place"),
    [
        (5, "film"),
        ({"csv": "film.csv"}, "film.csv"),
        ({"distance_ft": [0, 40], "units": [[0] * 39]}, "film.units"),
        ({"distance_ft": [0, 40], "units": [[0] * 39, [0] * 38]}, "film.units"),
        ({"distance_ft": [40, 0], "units": LEVEL}, "row 2: distance_ft"),
        ({"distance_ft": [0, 40], "units": [[0] * 39, [0] * 38 + [-1]]}, "row 2: board 39"),
    ],
)
def test_a_film_within_a_pattern_is_refused_at_its_place(film, place):
    document = {"name": "P", "length_ft": 40, "film": film}
    assert place in problems(Kind.PATTERN, document)


@pytest.mark.parametrize("heights", ["map.csv", {"distance_ft": [1, 2], "height_in": [[1]]}])
def test_heights_within_a_house_are_refused_at_their_lane(heights):
    document = {"name": "Quay", "lanes": 8, "lane": [{"number": 3, "heights": heights}]}
    (place,) = problems(Kind.HOUSE, document)
    assert place.startswith("lane table 1: heights")


def test_a_page_is_not_told_of_quotes():
    told = problems(Kind.HOUSE, {"name": 5, "lanes": "8", "notes": "dark"})
    assert "quotes" not in "".join(problem.allowed for problem in told.values())
    assert "bracket" not in told["notes"].allowed


def test_what_is_private_is_never_repeated(bundle):
    with pytest.raises(InputRefusedError) as refused:
        PAPERS.check(Kind.BOWLER, bundle.bowler | {"care": {"watch": [["left knee"]]}})
    assert "knee" not in str(refused.value)
