"""Events over HTTP: in and out as files, at a glance, scored, and one shot tried."""

from __future__ import annotations

import base64
import io
import zipfile
from functools import cache
from uuid import uuid4

import numpy as np
import pytest
import segno

from event_folder import DEMO
from nextpair.application.accounts import add_account
from nextpair.application.jobs import Order
from nextpair.application.settings import Settings
from nextpair.bootstrap import Program
from nextpair.domain.sheet import Sheet
from nextpair.files import FilePapers, load_event
from nextpair.files.results import result_document, result_of
from nextpair.reports.sheet_html import render_sheet_html
from nextpair.web.address import Address
from nextpair.web.orders import fulfil
from served import PASSWORD, client_of, home_at
from small_event import LOCKER, PAIRS, small_sheet

API = "/api/v1"
BALL = "Slate Weir"
SHOT = {"ball": BALL, "laydown_board": 24.5, "launch_angle_deg": 2.4}


@cache
def small_folder():
    """The small event of the tests as files."""
    files = {file.name: file.read_text("utf-8") for file in DEMO.glob("*.*")}
    del files["shots.csv"], files["scores.csv"]
    files["event.toml"] = (
        files["event.toml"]
        .replace("games = 6", "games = 2")
        .replace("ball_limit = 6", "ball_limit = 3")
        .replace("Samphire", "Small", 1)
    )
    for name, kept in (("locker.csv", LOCKER), ("squad.csv", tuple(map(str, PAIRS)))):
        header, *rows = files[name].splitlines()
        files[name] = "\n".join([header, *(row for row in rows if row.startswith(kept)), ""])
    return files


class Sheets:
    """Stands in for the process that computes: it has the sheet of the small event."""

    def work(self, _order: Order, progress):
        progress("planning", 1, 2)
        return {"sheet": result_document(small_sheet())}

    def stop(self):
        """Nothing is under way."""

    def close(self):
        """Nothing is held."""


@pytest.fixture(scope="module")
def client():
    with client_of(home_at(hands=Sheets())) as client:
        yield client


@pytest.fixture(scope="module")
def event(client):
    made = client.post(f"{API}/import", json={"files": small_folder()})
    assert made.status_code == 201, made.text
    return f"{API}/events/{made.json()['event']['id']}"


@pytest.fixture(scope="module")
def sheet(client, event):
    job = client.post(f"{event}/jobs", json={"kind": "sheet"}).json()["id"]
    with client.stream("GET", f"{API}/jobs/{job}/progress") as stream:
        list(stream.iter_lines())
    kept = client.get(f"{event}/sheet")
    assert kept.status_code == 200, kept.text
    return kept.json()


def test_a_folder_comes_out_as_it_went_in(client, event, tmp_path):
    files = client.get(f"{event}/files").json()["files"]
    for name, text in files.items():
        (tmp_path / name).write_text(text, "utf-8")
    taken_in = FilePapers().event(FilePapers().bundle(small_folder()))
    given_out = load_event(tmp_path / "event.toml")
    assert given_out.squad == taken_in.squad
    assert given_out.locker == taken_in.locker
    assert given_out.left_pattern == taken_in.left_pattern


def test_money_and_care_are_given_out_only_to_who_asks_for_them(client, event):
    for path in (f"{event}/files", f"{event}/folder.zip"):
        for query, told in (("", False), ("?private=true", True)):
            answer = client.get(path + query)
            text = answer.text
            if path.endswith("zip"):
                packed = zipfile.ZipFile(io.BytesIO(answer.content))
                text = "".join(packed.read(name).decode() for name in packed.namelist())
            assert ("entry_fee" in text) is told
            assert ("[care]" in text) is told


def test_a_folder_that_is_not_in_order_is_refused_whole(client):
    before = len(client.get(f"{API}/records/house").json()["items"])
    files = small_folder() | {"locker.csv": "name\n"}
    refused = client.post(f"{API}/import", json={"files": files})
    assert refused.status_code == 422
    assert refused.json()["problems"][0]["file"] == "locker.csv"
    assert len(client.get(f"{API}/records/house").json()["items"]) == before


def test_the_bundled_event_is_kept_once(client):
    first, second = (client.post(f"{API}/demo").json()["event"] for _ in range(2))
    assert first["id"] == second["id"]
    assert client.get(f"{API}/events/{first['id']}/log").json()["items"] == []


def test_an_event_at_a_glance(client, event, sheet):
    told = client.get(f"{event}/summary").json()
    assert [pair["pair"] for pair in told["pairs"]] == ["13-14", "17-18"]
    assert told["pairs"][1]["lanes"] == [17, 18]
    assert told["problems"] == []
    assert told["sheet"] == {key: sheet[key] for key in told["sheet"]}
    assert told["read"] is None
    assert told["log"] == {"seq": 0, "shots": 0}


def test_an_event_whose_records_do_not_fit_says_what_is_wrong(client):
    files = small_folder()
    name = {"event.toml": files["event.toml"].replace("Small", "Spoilt", 1)}
    made = client.post(f"{API}/import", json={"files": files | name}).json()["event"]
    document = made["document"] | {"bowler_name": "Nobody Here"}
    client.put(f"{API}/records/event/{made['id']}", json={"document": document, "revision": 1})
    told = client.get(f"{API}/events/{made['id']}/summary").json()
    assert told["problems"][0]["place"] == "bowler_name"
    job = client.post(f"{API}/events/{made['id']}/jobs", json={"kind": "sheet"})
    assert job.status_code == 422


def test_a_sheet_is_told_with_its_films_and_is_not_stale(sheet):
    assert not sheet["stale"]
    lane = sheet["sheet"]["games"][1]["lanes"][0]
    assert lane["lane"] == 17
    assert len(lane["path_boards"]) == len(lane["band_boards"]) == 60
    assert [len(row) for row in lane["film_units"]] == [39] * 60


def test_what_is_kept_of_a_sheet_makes_the_same_page(client, sheet):
    assert result_of(Sheet, result_document(small_sheet())) == small_sheet()
    page = client.get(f"{API}/sheets/{sheet['id']}.html")
    assert page.text == render_sheet_html(small_sheet())
    assert "default-src 'none'" in page.headers["Content-Security-Policy"]
    paper = client.get(f"{API}/sheets/{sheet['id']}.pdf")
    assert paper.content.startswith(b"%PDF")
    assert client.get(f"{API}/sheets/{uuid4()}.html").status_code == 404


def test_a_sheet_is_stale_once_the_event_is_another_one(client, event, sheet):
    bowler = client.get(f"{event}/summary").json()["event"]["document"]["bowler"]
    path = f"{API}/records/bowler/{bowler}"
    kept = client.get(path).json()

    def save(**changes):
        newest = client.get(path).json()
        document = kept["document"] | changes
        client.put(path, json={"document": document, "revision": newest["revision"]})
        return client.get(f"{event}/sheet").json()["stale"]

    assert not save(care={"watch": ["left knee"]})
    assert save(average=kept["document"]["average"] - 10)
    assert not save()


def test_a_shot_is_tried_on_the_film_as_laid(client, event):
    told = client.post(f"{event}/try", json=SHOT).json()
    assert told["lane"] == 13
    assert told["ball"] == BALL
    assert len(told["path_boards"]) == 60
    assert [len(row) for row in told["film_units"]] == [39] * 60
    assert told["what_moves_it"] == []
    moved = client.post(f"{event}/try?moves=true", json=SHOT).json()
    assert moved["what_moves_it"]
    assert moved["path_boards"] == told["path_boards"]


def test_a_shot_is_tried_on_the_film_of_a_later_game(client, event, sheet):
    lane = sheet["sheet"]["games"][1]["lanes"][1]
    worn = client.post(f"{event}/try", json=SHOT | {"game": 2, "lane": 18}).json()
    assert worn["film_units"] == lane["film_units"]
    fresh = client.post(f"{event}/try", json=SHOT | {"lane": 18}).json()
    assert fresh["film_units"] != worn["film_units"]
    assert fresh["path_boards"] != worn["path_boards"]


@pytest.mark.parametrize(
    ("change", "place"),
    [
        ({"ball": "Nobody's"}, "ball"),
        ({"lane": 999}, "lane"),
        ({"game": 9}, "game"),
        ({"game": 2, "lane": 13}, "lane"),
        ({"laydown_board": 99}, "laydown"),
        ({"laydown_board": "24"}, "laydown_board"),
        ({"launch_angle_deg": None}, "launch_angle_deg"),
        ({"surface_grit": True}, "surface_grit"),
    ],
)
def test_a_shot_that_cannot_be_says_why(client, event, sheet, change, place):
    refused = client.post(f"{event}/try", json=SHOT | change)
    assert refused.status_code == 422
    assert refused.json()["problems"][0]["place"].startswith(place)


def test_scores_and_shots_go_in_and_out_by_file(client, event):
    scores = "name\tgame\tscore\nAda Quill\t1\t201\nBo Farr\t1\t188\n"
    assert client.post(f"{event}/scores", json={"text": scores}).status_code == 200
    again = client.post(f"{event}/scores", json={"text": scores}).json()
    assert again["receipts"] == []
    field = client.get(f"{event}/scores").json()["field"]
    assert [(row["name"], row["total"]) for row in field] == [("Ada Quill", 201), ("Bo Farr", 188)]
    shots = (DEMO / "shots.csv").read_text("utf-8")
    refused = client.post(f"{event}/shots", json={"text": "id,game\n"})
    assert refused.status_code == 422
    demo = f"{API}/events/{client.post(f'{API}/demo').json()['event']['id']}"
    taken = client.post(f"{demo}/shots", json={"text": shots}).json()["receipts"]
    assert {one["answer"] for one in taken} == {"stored"}
    given = client.get(f"{demo}/shots.csv").text
    assert len(given.splitlines()) == len(shots.splitlines())


def test_a_pasted_squad_is_read_with_a_header_or_without(client):
    rows = "13-14\tAda Quill\tright\tone-handed\t380\t17.6\n13-14\tBo Farr\tleft\n\n"
    header = "Pair\tName\tHand\tStyle\tRev rate rpm\tSpeed mph\n"
    plain, named = (
        client.post(f"{API}/squads/paste", json={"text": text}).json()
        for text in (rows, header + rows)
    )
    assert plain == named
    assert plain["rows"][0]["rev_rate_rpm"] == 380
    assert [row["name"] for row in plain["rows"]] == ["Ada Quill", "Bo Farr"]
    mixed = client.post(f"{API}/squads/paste", json={"text": "13-14;Ada;both\n13-14;Bo;left"})
    assert [row["name"] for row in mixed.json()["rows"]] == ["Bo"]
    assert mixed.json()["problems"][0]["place"] == "row 1: hand"


def test_the_library_and_films(client):
    listed = client.get(f"{API}/library").json()["items"]
    assert len(listed) > 10
    assert sorted(one["length_ft"] for one in listed) == [one["length_ft"] for one in listed]
    one = listed[3]
    by_name = client.post(f"{API}/patterns/film", json={"name": one["name"]}).json()
    by_document = client.post(f"{API}/patterns/film", json={"document": one["document"]}).json()
    assert by_name == by_document
    assert [len(row) for row in by_name["film_units"]] == [39] * 60
    assert client.post(f"{API}/patterns/film", json={}).status_code == 422
    assert client.post(f"{API}/patterns/film", json={"name": "library: None"}).status_code == 422


def test_codes_in_a_picture_are_read(client):
    texts = ["first of two", "second of two"]
    pictures = [
        np.array([bytearray(row) for row in segno.make(text).matrix_iter(scale=4, border=4)])
        for text in texts
    ]
    side = max(picture.shape[0] for picture in pictures)
    page = np.full((side, 2 * side), 255, np.uint8)
    for place, picture in enumerate(pictures):
        page[: picture.shape[0], place * side : place * side + picture.shape[1]] = np.where(
            picture, 0, 255
        )
    body = {
        "width": page.shape[1],
        "height": page.shape[0],
        "grey": base64.b64encode(page.tobytes()).decode(),
    }
    assert set(client.post(f"{API}/codes", json=body).json()["texts"]) == set(texts)
    assert client.post(f"{API}/codes", json=body | {"height": 20}).status_code == 422
    assert client.post(f"{API}/codes", json=body | {"grey": "?"}).status_code == 422


def test_an_order_that_is_none_is_refused():
    home = home_at()
    bundle = FilePapers().bundle(small_folder())
    with pytest.raises(ValueError, match="kind"):
        fulfil(home.program, Order("gossip", uuid4(), bundle, 7), lambda *_: None)


def test_an_archive_brings_everything_into_an_empty_account(client, event):
    archive = client.get(f"{API}/archive").json()
    with client_of(home_at()) as other:
        first = other.post(f"{API}/archive", json=archive).json()
        again = other.post(f"{API}/archive", json=archive).json()
        assert other.get(f"{API}/archive").json() == archive
        assert other.post(f"{API}/archive", json={"app": "other"}).status_code == 422
    assert first["stored"] > 10
    assert again == {"stored": 0, "same": first["stored"], "conflicts": 0}


def test_a_backup_is_a_whole_store_and_only_given_at_home(tmp_path):
    home = home_at()
    settings = Settings(threads=1, store=str(tmp_path / "kept.sqlite3"))
    home.program = Program(settings)
    home.program.store().close()
    with client_of(home) as client:
        answer = client.get(f"{API}/backup")
    assert answer.headers["Content-Type"] == "application/vnd.sqlite3"
    assert answer.content.startswith(b"SQLite format 3")
    home = home_at(Address(asks_sign_in=True))
    owner = add_account(home.store, "Owner", PASSWORD, home.hasher)
    with client_of(home) as client:
        client.post(f"{API}/sign-in", json={"name": owner.name, "password": PASSWORD})
        assert client.get(f"{API}/backup").status_code == 403
