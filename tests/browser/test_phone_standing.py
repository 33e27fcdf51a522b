"""Where the bowler stands, told by the page at the lanes with no network."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import expect

from browser.phone_page import PhonePage, opened_phone
from browser.pictures import breaches, sideways_px
from browser.visitors import NETWORK


def offline_standing(visitors, network, pocket, event) -> PhonePage:
    """The standing of an event on a phone without a network."""
    visitors.foresee(NETWORK)
    phone = opened_phone(visitors, network, pocket, event)
    phone.context.set_offline(True)
    phone.reload()
    phone.go("More")
    phone.page.get_by_role("link", name="Standing").click()
    expect(phone.page.get_by_role("heading", name="Standing", level=1)).to_be_visible()
    return phone


def table_of(pocket: dict[str, Any], games: int) -> str:
    """Scores of the whole squad as a spreadsheet has them: 30 pins apart at the ends."""
    rows = [
        ",".join([one["name"], *(str(180 + place + 3 * game) for game in range(games))])
        for place, one in enumerate(pocket["squad"])
    ]
    return "\n".join(["name," + ",".join(f"game {game + 1}" for game in range(games)), *rows])


def test_scores_of_several_people_go_in_on_one_screen(visitors, network, pocket, event):
    phone = offline_standing(visitors, network, pocket, event)
    pair = next(one["pair"] for one in pocket["squad"] if one["name"] == pocket["event"]["bowler"])
    beside = [
        one["name"]
        for one in pocket["squad"]
        if one["pair"] == pair and one["name"] != pocket["event"]["bowler"]
    ]
    for pins, name in enumerate(beside, start=187):
        phone.page.get_by_label(f"Score of {name}, game 1").fill(str(pins))
    phone.page.keyboard.press("Tab")
    rows = phone.wait_for_rows(len(beside), "unsent")
    assert [
        (row["jotting"]["payload"]["name"], row["jotting"]["payload"]["score"]) for row in rows
    ] == [(name, pins) for pins, name in enumerate(beside, start=187)]
    first = phone.page.get_by_label(f"Score of {beside[0]}, game 1")
    first.fill("345")
    first.blur()
    expect(phone.page.get_by_text("a score is a whole number from 0 to 300")).to_be_visible()
    first.fill("201")
    first.blur()
    corrected = phone.wait_for_rows(len(beside) + 1)[-1]["jotting"]
    assert corrected["supersedes"] == rows[0]["id"]
    phone.reload()
    expect(phone.page.get_by_label(f"Score of {beside[0]}, game 1")).to_have_value("201")


def test_the_cut_is_told_from_a_pasted_table_and_written_down_once(
    visitors, network, pocket, event
):
    phone = offline_standing(visitors, network, pocket, event)
    page = phone.page
    cut = page.get_by_label("The cut takes how many?")
    expect(cut).to_have_value(str(pocket["event"]["cut_to"]))
    page.get_by_text("Paste a whole table").click()
    page.get_by_role("textbox", name="A row a bowler").fill(table_of(pocket, 2))
    page.get_by_role("button", name=f"Keep {2 * len(pocket['squad'])} scores").click()
    many = len(phone.wait_for_rows(2 * len(pocket["squad"]), "unsent"))
    expect(page.get_by_text("to make the cut")).to_be_visible()
    expect(page.get_by_text("Needed a game, over 4 games")).to_be_visible()
    expect(page.get_by_text("The field is at")).to_be_visible()
    cut.fill("")
    cut.press_sequentially("12")
    assert len(phone.rows()) == many
    cut.blur()
    noted = phone.wait_for_rows(many + 1)[-1]["jotting"]
    assert noted["payload"] == {"about": "cut", "text": "12"}
    expect(page.get_by_text("place 12 as it stands")).to_be_visible()
    phone.reload()
    expect(cut).to_have_value("12")
    assert breaches(page) == []
    assert sideways_px(page) == 0
