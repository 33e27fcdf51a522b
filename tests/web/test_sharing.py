"""Sharing over HTTP: what a coach reads, what a guest opens, and when both end."""

from __future__ import annotations

from contextlib import ExitStack
from datetime import timedelta
from uuid import UUID, uuid4

import pytest

from event_folder import DEMO
from nextpair.application.accounts import add_account
from nextpair.application.sharing import PAGE
from nextpair.application.store import Account, Computed
from nextpair.domain.record import Draft, Kind
from nextpair.domain.sharing import Share
from nextpair.files.results import result_document
from nextpair.reports.sheet_html import SAFETY
from nextpair.web.tries import PLACE_TRIES, TRIES
from served import ON_THE_NETWORK, PASSWORD, Clock, browser_of, client_of, home_at
from unit.reports.sheet_factory import a_sheet

API = "/api/v1"
FILES = {path.name: path.read_text("utf-8") for path in DEMO.iterdir() if path.is_file()}


class Team:
    """An athlete with an event and its sheet, a coach, and somebody else, each signed in."""

    def __init__(self, stack: ExitStack) -> None:
        self.clock = Clock()
        self.home = home_at(ON_THE_NETWORK, self.clock)
        names = ("Ada Quill", "Coach Brannock", "Other")
        self.ids = [add_account(self.home.store, name, PASSWORD, self.home.hasher).id
                    for name in names]  # fmt: skip
        clients = [client_of(self.home), browser_of(self.home), browser_of(self.home)]
        self.athlete, self.coach, self.other = (stack.enter_context(one) for one in clients)
        for client, name in zip((self.athlete, self.coach, self.other), names, strict=True):
            sign_in(client, name)
        made = self.athlete.post(f"{API}/import", json={"files": FILES}).json()
        self.event = made["event"]["id"]
        self.home.store.keep_computed(self.ids[0], a_kept_sheet(self.event, self.clock()))

    @property
    def path(self) -> str:
        return f"{API}/shared/{self.ids[0]}/events/{self.event}"

    def share(self, **body):
        return self.athlete.post(f"{API}/shares", json={"reader": "coach brannock"} | body)

    def link(self, **body):
        made = self.athlete.post(f"{API}/events/{self.event}/guest-links", json=body)
        assert made.status_code == 201, made.text
        return made.json()

    def open(self, link):
        """A stranger's look at a link."""
        with browser_of(self.home) as stranger:
            return stranger.get(path_of(link["url"]))


def sign_in(client, name, password=PASSWORD):
    answer = client.post(f"{API}/sign-in", json={"name": name, "password": password})
    assert answer.status_code == 200


def a_kept_sheet(event, now):
    document = result_document(a_sheet())
    return Computed(uuid4(), UUID(event), "sheet", "model", 7, "inputs", None, now, document)


def path_of(url):
    return url.removeprefix(ON_THE_NETWORK.url(""))


@pytest.fixture
def team():
    with ExitStack() as stack:
        yield Team(stack)


def test_a_coach_reads_what_was_shared_and_nothing_before(team):
    assert team.coach.get(team.path).status_code == 404
    assert team.share(event=team.event).status_code == 201
    told = team.coach.get(team.path).json()
    assert (told["name"], told["owner"]["name"]) == ("Samphire Scratch Singles", "Ada Quill")
    assert told["sheet"]["seed"] == 7
    assert "document" not in told
    assert team.coach.get(f"{team.path}/sheet").json()["sheet"]["games"]
    assert a_sheet().event in team.coach.get(f"{team.path}/sheet.html").text
    assert team.coach.get(f"{team.path}/sheet.pdf").content.startswith(b"%PDF")
    assert team.coach.get(f"{team.path}/scores").json()["bowler"]["games"]
    assert team.coach.get(f"{team.path}/standing").json()["field"]
    assert team.coach.get(f"{team.path}/statistics").json()["games"] > 0
    assert team.coach.get(f"{team.path}/shots.csv").text.count("\n") == 13
    missing = team.coach.get(f"{team.path}/debrief")
    assert (missing.status_code, missing.json()["problems"][0]["place"]) == (404, "debrief")
    assert team.other.get(team.path).status_code == 404


def test_a_coach_writes_nothing(team):
    team.share()
    for path in ("", "/sheet", "/scores", "/debrief", "/standing"):
        for method in ("POST", "PUT", "DELETE", "PATCH"):
            refused = team.coach.request(method, team.path + path, json={})
            assert refused.status_code in (404, 405)
    assert team.coach.get(f"{API}/events/{team.event}/summary").status_code == 404
    stop = team.coach.delete(f"{API}/shares/{team.ids[1]}")
    assert stop.status_code == 404
    assert team.coach.get(team.path).status_code == 200


def test_stopping_counts_from_the_next_request_on(team):
    team.share(event=team.event)
    team.share()
    path = f"{API}/shares/{team.ids[1]}"
    assert team.athlete.delete(path, params={"event": team.event}).status_code == 204
    assert team.coach.get(team.path).status_code == 200, "all events are shared still"
    assert team.athlete.delete(path).status_code == 204
    assert team.coach.get(team.path).status_code == 404
    assert team.athlete.delete(path).status_code == 404


def test_deleting_an_event_ends_what_was_shared_of_it(team):
    team.share(event=team.event)
    link = team.link()
    record = f"{API}/records/event/{team.event}"
    assert team.athlete.delete(record).status_code == 200
    assert team.athlete.post(f"{record}/restore").status_code == 200
    assert team.coach.get(team.path).status_code == 404
    assert team.open(link).status_code == 404
    assert team.athlete.get(f"{API}/shares").json()["items"] == []


def test_another_password_ends_nothing_that_is_shared(team):
    team.share(event=team.event)
    link = team.link()
    change = {"old": PASSWORD, "new": "a spare in every frame"}
    assert team.athlete.put(f"{API}/password", json=change).status_code == 204
    assert team.coach.get(team.path).status_code == 200
    assert team.open(link).status_code == 200


def test_what_is_refused_is_refused_alike_whatever_is_in_the_way(team):
    """Not shared, no such event, no such account: a coach cannot tell one from another."""
    told = [
        team.coach.get(f"{API}/shared/{owner}/events/{team.event}")
        for owner in (team.ids[0], team.ids[2], uuid4())
    ]
    assert {(one.status_code, one.text) for one in told} == {(404, told[0].text)}
    owners = [team.ids[0], uuid4()]
    lists = [team.coach.get(f"{API}/shared/{owner}/events") for owner in owners]
    said = {one.text.replace(str(owner), "") for one, owner in zip(lists, owners, strict=True)}
    assert [one.status_code for one in lists] == [404, 404]
    assert len(said) == 1


def test_names_cannot_be_guessed_at_will(team):
    told = [team.share(reader=f"Guess {number}") for number in range(TRIES + 1)]
    assert [one.status_code for one in told] == [*[422] * TRIES, 429]
    assert "Other" not in told[0].text
    assert team.share().status_code == 429


def test_sharing_with_those_who_are_there_costs_no_patience(team):
    for _ in range(TRIES + 3):
        assert team.share().status_code == 201
    assert len(team.athlete.get(f"{API}/shares").json()["items"]) == 1


@pytest.mark.parametrize(
    ("body", "status"),
    [
        ({"reader": "Ada Quill"}, 422),
        ({"reader": ""}, 422),
        ({"event": str(uuid4())}, 404),
        ({"event": str(UUID(int=0))}, 422),
        ({"event": "all"}, 422),
    ],
)
def test_what_cannot_be_shared_is_said_so(team, body, status):
    refused = team.share(**body)
    assert refused.status_code == status
    assert refused.json()["problems"]


def test_a_list_of_hundreds_is_told_page_by_page_and_searched(team):
    store = team.home.store
    day = team.clock().date()
    for number in range(3 * PAGE):
        owner = Account(uuid4(), f"Athlete {number:03d}", "kept")
        store.add_account(owner)
        for name, days in (("Past", -9), ("Soon", 2), ("Later", 30)):
            document = {"name": name, "date": (day + timedelta(days=days)).isoformat()}
            store.save(owner.id, Draft(uuid4(), Kind.EVENT, name, document), None)
        store.keep_share(Share(owner.id, team.ids[1], None, team.clock()))
    team.share()
    first = team.coach.get(f"{API}/shared").json()
    assert (first["total"], first["pages"]) == (3 * PAGE + 1, 4)
    assert first["items"][0]["owner"]["name"] == "Ada Quill"
    assert (first["items"][1]["next"]["name"], first["items"][1]["events"]) == ("Soon", 3)
    last = team.coach.get(f"{API}/shared", params={"page": 9}).json()
    assert [one["owner"]["name"] for one in last["items"]] == ["Athlete 074"]
    found = team.coach.get(f"{API}/shared", params={"search": "ATHLETE 07"}).json()
    assert [one["owner"]["name"][-3:] for one in found["items"]] == [
        "070", "071", "072", "073", "074",
    ]  # fmt: skip
    assert team.other.get(f"{API}/shared").json()["total"] == 0


def test_the_events_of_an_athlete_are_those_that_are_shared(team):
    path = f"{API}/shared/{team.ids[0]}/events"
    team.share(event=team.event)
    second = FILES | {"event.toml": FILES["event.toml"].replace("Samphire", "Winter", 1)}
    assert team.athlete.post(f"{API}/import", json={"files": second}).status_code == 201
    names = [one["name"] for one in team.coach.get(path).json()["items"]]
    assert names == ["Samphire Scratch Singles"]
    team.share()
    assert len(team.coach.get(path).json()["items"]) == 2


def test_a_guest_opens_one_sheet_without_signing_in(team):
    link = team.link(days=3)
    answer = team.open(link)
    assert answer.status_code == 200
    assert a_sheet().event in answer.text
    assert answer.headers["Cache-Control"] == "no-store"
    assert answer.headers["Referrer-Policy"] == "no-referrer"
    assert "noindex" in answer.headers["X-Robots-Tag"]
    assert answer.headers["Content-Security-Policy"].startswith(SAFETY)
    assert "Set-Cookie" not in answer.headers
    assert "<script" not in answer.text
    with browser_of(team.home) as stranger:
        stranger.get(path_of(link["url"]))
        assert stranger.get(team.path).status_code == 401


def test_of_a_link_its_secret_is_told_once_and_kept_nowhere(team):
    secret = team.link()["url"].rpartition("/")[2]
    assert len(secret) >= 43  # 256 bits in base64
    assert secret not in team.athlete.get(f"{API}/guest-links").text
    assert secret not in repr(team.home.store.guest_links(team.ids[0], team.clock()))


def test_a_wrong_link_an_old_one_and_one_that_was_ended_look_the_same(team):
    old, ended = team.link(days=1), team.link(days=30)
    assert team.athlete.delete(f"{API}/guest-links/{ended['digest']}").status_code == 204
    assert team.athlete.delete(f"{API}/guest-links/{ended['digest']}").status_code == 404
    team.clock.advance(days=1)
    wrong = {"url": ON_THE_NETWORK.url(f"/guest/{'x' * 43}")}
    told = [team.open(link) for link in (old, ended, wrong)]
    assert {(one.status_code, one.text) for one in told} == {(404, told[0].text)}
    kinds = [{key: one.headers[key] for key in one.headers if key != "date"} for one in told]
    assert kinds[0] == kinds[1] == kinds[2]
    assert kinds[0]["cache-control"] == "no-store"
    assert "noindex" in kinds[0]["x-robots-tag"]


def test_a_link_is_not_guessed_at_and_one_that_is_right_costs_nothing(team):
    link = team.link()
    for _ in range(2 * TRIES):
        assert team.open(link).status_code == 200
    wrong = {"url": ON_THE_NETWORK.url("/guest/guess")}
    told = [team.open(wrong) for _ in range(PLACE_TRIES + 1)]
    assert [one.status_code for one in told] == [*[404] * PLACE_TRIES, 429]
    assert int(told[-1].headers["Retry-After"]) > 0
    assert team.open(link).status_code == 429, "a guess that is right waits as well"


def test_links_are_listed_with_when_they_were_made_and_when_they_end(team):
    made = team.link()
    [listed] = team.athlete.get(f"{API}/guest-links").json()["items"]
    assert listed == {key: made[key] for key in ("digest", "event", "made_at", "expires_at")}
    assert team.other.get(f"{API}/guest-links").json()["items"] == []
    assert team.other.delete(f"{API}/guest-links/{made['digest']}").status_code == 404
    assert team.open(made).status_code == 200


@pytest.mark.parametrize("days", [0, 31, 2.5, True, "7"])
def test_a_link_lasts_a_day_to_thirty(team, days):
    path = f"{API}/events/{team.event}/guest-links"
    assert team.athlete.post(path, json={"days": days}).status_code == 422


def test_there_is_no_link_to_a_sheet_that_is_not_made(team):
    second = FILES | {"event.toml": FILES["event.toml"].replace("Samphire", "Winter", 1)}
    event = team.athlete.post(f"{API}/import", json={"files": second}).json()["event"]["id"]
    assert team.athlete.post(f"{API}/events/{event}/guest-links", json={}).status_code == 404


def test_a_link_makes_no_sense_where_only_this_machine_can_ask():
    with client_of(home_at()) as client:
        event = client.post(f"{API}/import", json={"files": FILES}).json()["event"]["id"]
        assert client.post(f"{API}/events/{event}/guest-links", json={}).status_code == 403
