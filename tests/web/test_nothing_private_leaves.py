"""What is private never leaves the owner's account: not by an export, a recap, a pocket or a log.

Marked words and amounts are planted in every private place, and looked for in everything that may
be passed on. That they are there to be found, the owner's own archive shows.
"""

from __future__ import annotations

import io
import json
import logging
import re
import zipfile
from dataclasses import replace
from datetime import date
from decimal import Decimal
from uuid import UUID, uuid4

import pytest
import typst

from debriefs import a_debrief
from event_folder import DEMO
from nextpair.application.accounts import home_account
from nextpair.application.diary import PROMPTS, write_entry
from nextpair.application.events import bundle_of
from nextpair.application.house_book import add_visit
from nextpair.application.house_sharing import shared_house
from nextpair.application.lessons import decide
from nextpair.application.packing_at_home import packed_by
from nextpair.application.pocket import pocket_of
from nextpair.application.sharing import make_guest_link
from nextpair.application.sheets import plan
from nextpair.application.spare_plan import shoot_spares
from nextpair.application.store import Computed
from nextpair.bootstrap import Program
from nextpair.cli.main import exit_code
from nextpair.domain.debrief import DebriefFinding
from nextpair.domain.house_book import Visit
from nextpair.domain.jotting import JottingKind
from nextpair.domain.lesson import Change, ChangeKind
from nextpair.files.results import result_document
from nextpair.reports.packing_json import packing_parts, render_packing_json
from nextpair.reports.packing_text import render_packing_text
from nextpair.reports.pocket_html import render_pocket_html
from nextpair.reports.pocket_json import pocket_document, render_pocket_json
from nextpair.reports.pocket_text import render_pocket_text
from nextpair.reports.sheet_json import render_sheet_json
from nextpair.reports.sheet_pdf import render_sheet_pdf
from nextpair.reports.sheet_text import render_bag_text, render_sheet_text
from nextpair.web.app import api_of
from served import client_of, home_at
from small_event import LOCKER, PAIRS, SEED
from unit.reports.sheet_factory import a_sheet

API = "/api/v1"
MADE_AT = "2026-10-16T20:00:00+00:00"
WORD = "zwqx"
"""Begins every planted word."""
WORDS = tuple(
    f"{WORD}{where}"
    for where in ("care", "straps", "house", "visit", "diary", "release", "packing", "missing")
)
CARE, STRAPS, HOUSE, VISIT, DIARY, RELEASE, PACKING, MISSING = WORDS
PINS = "7319364"
"""Begins every planted amount: nothing else has seven such digits in a row."""
CURRENCY = "XTS"
"""By which an amount worked out of planted ones is told. The code that is set aside for tests by
[iso-4217]."""
STILL_TO_COME = "2099-10-17"
"""A day on which something is due, whenever this is read."""
PLANTED_MONEY = f"""[money]
currency = "{CURRENCY}"
entry_fee = {PINS}.01
expenses = {{ travel = {PINS}.02, lodging = {PINS}.03 }}
spent = {{ travel = {PINS}.04 }}
winnings = {{ prize = {PINS}.05, brackets = {PINS}.06 }}
entries = 84
cut_to = 20
prizes = [{PINS}.09, {PINS}.08, {PINS}.07]
side_pots = [{{ kind = "high_game", fee = {PINS}.13, entries = 46, pays = [0.5], per = "game" }}]
brackets = {{ fee = {PINS}.11, size = 8, pays = [{PINS}.12], count = 3 }}
"""
OWN = re.compile(
    r"/(archive|backup|records|houses|ledger|money|tickets|jobs|season$|packing|kit)"
    r"|/events/\{id\}/(log|money|summary|standing|debrief|diary|lessons|visit|packing|pack)"
)
"""Screens and documents that are the owner's own; whatever else answers may be passed on."""


def planted_folder() -> dict[str, str]:
    """The bundled event with something private wherever there is a place for it."""
    files = {file.name: file.read_text("utf-8") for file in DEMO.glob("*.*")}
    head = files["event.toml"].partition("[money]")[0]
    files["event.toml"] = head + PLANTED_MONEY
    head = files["bowler.toml"].partition("[care]")[0]
    care = f'[care]\nwatch = ["{CARE} knee"]\nstraps = ["{STRAPS} brace"]\n'
    files["bowler.toml"] = f'home_currency = "{CURRENCY}"\n{head}{care}'
    files["house.toml"] = f'private_notes = ["{HOUSE}"]\n{files["house.toml"]}'
    return files


def coming_folder() -> dict[str, str]:
    """The same as an event that nobody has bowled, on a day that is still to come."""
    files = planted_folder()
    del files["shots.csv"], files["scores.csv"]
    named = files["event.toml"].replace("Samphire Scratch Singles", "Samphire Again", 1)
    return files | {"event.toml": named.replace("2026-10-17", STILL_TO_COME, 1)}


class Account:
    """An account with private things of every kind, and a sheet, a pocket and spares."""

    def __init__(self, home, client) -> None:
        self.home, self.client = home, client
        self.store, self.papers = home.store, home.papers
        assert client.post(f"{API}/import", json={"files": coming_folder()}).status_code == 201
        made = client.post(f"{API}/import", json={"files": planted_folder()})
        assert made.status_code == 201, made.text
        event = made.json()["event"]
        self.event, self.house = UUID(event["id"]), UUID(event["document"]["house"])
        self.id = home_account(home.store).id
        self._write_down()
        self._compute()

    def _write_down(self) -> None:
        day = date(2026, 10, 17)
        visit = Visit(uuid4(), day, notes=VISIT, played=VISIT, changed=VISIT, private=True)
        add_visit(self.store, self.id, self.house, visit)
        add_visit(self.store, self.id, self.house, Visit(uuid4(), day, notes="A public visit."))
        for prompt in PROMPTS:
            write_entry(self.store, self.id, self.event, prompt, DIARY)
        for kind, words in ((ChangeKind.RELEASE, RELEASE), (ChangeKind.PACKING, PACKING)):
            item = PACKING if kind is ChangeKind.PACKING else None
            finding = DebriefFinding(
                kind.value, words, (words,), None, 0.9, Change(kind, words, item=item)
            )
            decide(self.store, self.id, self.event, finding, accepted=True)
        note = {
            "id": str(uuid4()), "event": str(self.event), "device": "phone", "device_seq": 1,
            "kind": JottingKind.NOTE.value, "payload": {"about": "missing", "text": MISSING},
            "supersedes": None, "schema_version": 1, "client_time": "",
        }  # fmt: skip
        sent = self.client.post(f"{API}/sync", json={"jottings": [note]})
        assert sent.json()["receipts"][0]["answer"] == "stored"

    def _compute(self) -> None:
        event = self.papers.event(bundle_of(self.store, self.id, self.event))
        small = replace(
            event,
            games=2,
            ball_limit=3,
            squad=tuple(one for one in event.squad if one.pair in PAIRS),
            locker=tuple(ball for ball in event.locker if ball.name in LOCKER),
        )
        self.sheet = plan(small, SEED)
        self.spares = shoot_spares(small, None, SEED)
        self.pocket = pocket_of(
            small, SEED, MADE_AT, self.event, sheet=self.sheet, spares=self.spares
        )
        told = a_debrief()
        ledger = replace(told.money, currency=CURRENCY, cost=Decimal(PINS))
        results = {
            "debrief": result_document(replace(told, money=ledger)),
            "sheet": result_document(self.sheet),
            "spares": result_document(self.spares),
            "pocket": pocket_document(self.pocket),
        }
        self.results = {}
        for kind, document in results.items():
            computed = Computed(
                uuid4(), self.event, kind, "model", SEED, "inputs", None, self.home.now(), document
            )
            self.store.keep_computed(self.id, computed)
            self.results[kind] = computed.id


@pytest.fixture(scope="module")
def account():
    home = home_at()
    with client_of(home) as client:
        yield Account(home, client)


def private_in(text: str) -> list[str]:
    """What is private in a text, with what stands around it; amounts in whatever form."""
    plain = text.casefold().replace(",", "").replace(" ", "")
    planted = [match.start() for mark in (WORD, PINS) for match in re.finditer(mark, plain)]
    found = [plain[max(0, place - 60) : place + 60] for place in planted]
    return found + re.findall(rf".{{0,40}}\b{CURRENCY}\b.{{0,40}}", text)


def words_of(answer) -> str:
    """An answer as text: a packed folder as its files."""
    if answer.headers["content-type"] == "application/zip":
        with zipfile.ZipFile(io.BytesIO(answer.content)) as packed:
            return "\n".join(packed.read(name).decode() for name in packed.namelist())
    return answer.content.decode("utf-8", errors="replace")


GETS = sorted(
    path
    for path, operations in api_of(home_at()).openapi()["paths"].items()
    if "get" in operations
)
SHARED = [path for path in GETS if not OWN.match(path)]
READ_BY_A_COACH = (
    "", "/sheet", "/sheet.html", "/sheet.pdf", "/folder.zip", "/shots.csv", "/scores",
    "/standing", "/statistics", "/debrief",
)  # fmt: skip
"""By a coach, whom an owner stands for who looks at his own event as a coach does."""


def test_what_may_be_passed_on_is_among_what_is_looked_at():
    assert {
        "/events/{id}/files", "/events/{id}/folder.zip", "/events/{id}/sheet",
        "/events/{id}/pocket", "/events/{id}/recap", "/events/{id}/recap.md",
        "/events/{id}/recap.html", "/events/{id}/recap.png", "/events/{id}/scores",
        "/events/{id}/shots.csv", "/sheets/{id}.html", "/sheets/{id}.pdf", "/season.ics",
        *(f"/shared/{{owner}}/events/{{id}}{part}" for part in READ_BY_A_COACH),
    } <= set(SHARED)  # fmt: skip


@pytest.mark.parametrize("path", SHARED)
def test_no_answer_that_may_be_passed_on_tells_anything_private(account, caplog, path):
    caplog.set_level(logging.DEBUG)
    id = account.results["sheet"] if path.startswith("/sheets") else account.event
    asked = path.replace("{id}", str(id)).replace("{owner}", str(account.id))
    answer = account.client.get(API + asked)
    if path.startswith(("/events", "/sheets", "/season", "/shared")) and not path.endswith(
        "/read"
    ):
        assert answer.status_code == 200, answer.text
    assert private_in(words_of(answer)) == []
    assert private_in(caplog.text) == []


def test_a_guests_link_shows_nothing_private(account):
    store, now = account.store, account.home.now()
    secret, _ = make_guest_link(store, account.id, account.event, 7, now)
    page = account.client.get(f"/guest/{secret}")
    assert page.status_code == 200
    assert "Samphire Scratch Singles" in page.text
    assert private_in(page.text) == []


def test_a_coach_is_told_the_cut_and_no_prize(account):
    path = f"{API}/shared/{account.id}/events/{account.event}/standing"
    told = account.client.get(path).json()
    assert told["cut"]["to"] == 20
    assert told["prospects"] is None


def test_the_owners_own_archive_holds_every_planted_thing(account):
    text = account.client.get(f"{API}/archive").text
    assert [word for word in WORDS if word not in text] == []
    amounts = re.findall(rf"{PINS}\.\d\d", PLANTED_MONEY)
    assert len(amounts) == 12
    assert [amount for amount in amounts if amount not in text] == []
    own = account.client.get(f"{API}/events/{account.event}/files?private=true").text
    assert all(word in own for word in (CARE, STRAPS, HOUSE, CURRENCY))
    assert len(private_in(own)) > 12


def test_a_recap_tells_money_to_who_asks_and_nothing_else_that_is_private(account):
    told = account.client.get(f"{API}/events/{account.event}/recap?money=true").json()
    assert CURRENCY in told["markdown"]
    assert told["money"]["won"] == f"{2 * int(PINS)}.11"
    assert WORD not in json.dumps(told)


def test_pictures_and_paper_are_set_from_words_without_anything_private(account, monkeypatch):
    """Of what is drawn or packed the words are looked at before they are: those that the
    typesetter is given."""
    given = []
    real = typst.compile

    def watched(source, **options):
        given.append(json.dumps([source.decode(), options["sys_inputs"]]))
        return real(source, **options)

    monkeypatch.setattr(typst, "compile", watched)
    assert account.client.get(f"{API}/events/{account.event}/recap.png").content[1:4] == b"PNG"
    assert render_sheet_pdf(account.sheet).startswith(b"%PDF")
    assert len(given) == 2
    assert [private_in(text) for text in given] == [[], []]
    account.client.get(f"{API}/events/{account.event}/recap.png?money=true")
    assert private_in(given[-1]) != []


def test_no_form_of_a_sheet_or_a_pocket_tells_anything_private(account):
    sheet, pocket = account.sheet, account.pocket
    for text in (
        render_sheet_text(sheet), render_bag_text(sheet), render_sheet_json(sheet),
        render_pocket_json(pocket), render_pocket_html(pocket, None),
        render_pocket_text(pocket, 1000, 500),
    ):  # fmt: skip
        assert len(text) > 500
        assert private_in(text) == []


def test_no_list_to_pack_by_tells_anything_private(account):
    event = account.papers.event(bundle_of(account.store, account.id, account.event))
    packed = packed_by(account.store, account.papers, account.id, event)
    whole = packed.list_of(event, account.sheet.bag)
    assert {CARE, STRAPS} <= set(re.findall(rf"{WORD}[a-z]+", render_packing_json(whole)))
    for text in (
        render_packing_text(whole.for_others), render_packing_json(whole.for_others),
        json.dumps(packing_parts(whole)),
        render_pocket_json(replace(account.pocket, packing=whole.for_others)),
    ):  # fmt: skip
        assert "Towel" in text
        assert private_in(text) == []


def test_no_log_holds_care_money_or_what_is_private_of_a_house(account):
    """A phone has it all, and hands it on as a file or as codes."""
    for item in (f"{CARE} knee", f"{STRAPS} brace", f"What you use for: {CARE} knee"):
        path = f"{API}/events/{account.event}/packing/missing"
        refused = account.client.post(path, json={"item": item})
        assert refused.status_code == 422
        assert private_in(refused.text) == []
    text = account.client.get(f"{API}/events/{account.event}/log").text
    assert DIARY in text
    found = set(re.findall(rf"{WORD}[a-z]+", text))
    assert not found & {CARE, STRAPS, HOUSE, VISIT}
    assert PINS not in text
    assert CURRENCY not in text


def test_a_shared_house_tells_its_public_visits_alone(account):
    text = shared_house(account.store, account.papers, account.id, account.house)
    assert "A public visit." in text
    assert private_in(text) == []


def test_a_fault_is_logged_and_answered_without_what_it_happened_to(account, caplog, monkeypatch):
    caplog.set_level(logging.DEBUG)

    def broken(*_, **__):
        raise RuntimeError(f"{CARE} {PINS} {CURRENCY}")

    monkeypatch.setattr("nextpair.web.routes.recap.recap_of", broken)
    answer = account.client.get(f"{API}/events/{account.event}/recap")
    assert answer.status_code == 500
    assert "RuntimeError" in caplog.text
    assert private_in(answer.text + caplog.text) == []


def test_no_command_that_makes_something_to_pass_on_tells_anything_private(
    tmp_path, capsys, monkeypatch
):
    monkeypatch.setattr(Program, "plan", lambda *_: a_sheet())
    folder, coming = tmp_path / "event", tmp_path / "coming"
    for place, files in ((folder, planted_folder()), (coming, coming_folder())):
        place.mkdir()
        for name, text in files.items():
            (place / name).write_text(text, "utf-8")
    event, own = str(folder / "event.toml"), ["--data-dir", str(tmp_path / "data")]
    out = tmp_path / "out"
    forms = [word for form in ("md", "html") for word in (f"--{form}", str(out / f"a.{form}"))]
    scores = ["--scores", str(folder / "scores.csv"), "--shots", str(folder / "shots.csv")]
    for words in (
        ["import", event],
        ["import", str(coming / "event.toml")],
        ["export", "Samphire Scratch Singles", "--out", str(out / "folder"), "--for-others"],
        ["recap", event, *scores, *forms],
        ["recap", event, *scores],
        ["recap", event, *scores, "--json"],
        ["house", "Quernstone Lanes", "--share", str(out / "house.toml")],
        ["season", "--calendar", str(out / "season.ics"), "--json"],
        ["pack", event],
        ["pack", event, "--json"],
        ["sheet", event, "--html", str(out / "sheet.html"), "--json"],
        ["conditions", "--json"],
    ):
        assert exit_code([*words, *own]) == 0, capsys.readouterr().err
        said = capsys.readouterr()
        assert private_in(said.out + said.err) == []
    written = [path for path in out.rglob("*") if path.is_file()]
    assert len(written) > 10
    assert [path.name for path in written if private_in(path.read_text("utf-8"))] == []
    assert exit_code(["export", "Samphire Scratch Singles", "--out", str(out / "own"), *own]) == 0
    assert private_in((out / "own" / "event.toml").read_text("utf-8")) != []
