"""The PDF: two pages for six games, the same bytes each time, safe against any name."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from nextpair.reports.sheet_pdf import _words, render_sheet_pdf
from unit.reports.sheet_factory import a_sheet


def pages_of(pdf: bytes) -> int:
    (count,) = re.findall(rb"/Type\s*/Pages\s*/Count (\d+)", pdf)
    return int(count)


@pytest.fixture(scope="module", params=["right", "left"])
def pdf(request) -> bytes:
    return render_sheet_pdf(a_sheet(request.param))


def test_six_games_take_two_pages(pdf):
    assert pdf.startswith(b"%PDF-")
    assert pages_of(pdf) == 2


def test_lanes_whose_lines_differ_are_both_told():
    (game,) = a_sheet(games=1).games
    right = replace(game.lanes[1].line, slide_board=36.0, target_board=21.0)
    apart = replace(game, lanes=(game.lanes[0], replace(game.lanes[1], line=right)))
    words = _words(replace(a_sheet(), games=(apart,)))
    assert [row[:2] + row[3:5] for row in words["glance"]] == [
        ["1", "13-14", "31", "17"],
        ["", "lane 14", "36", "21"],
    ]
    assert [play[:3] for play in words["games"][0]["plays"]] == [
        ["lane 13", "31", "17"],
        ["lane 14", "36", "21"],
    ]


def test_it_is_small_enough_to_mail(pdf):
    assert len(pdf) < 500_000


def test_the_same_sheet_gives_the_same_bytes():
    assert render_sheet_pdf(a_sheet()) == render_sheet_pdf(a_sheet())


def test_another_sheet_gives_other_bytes():
    assert render_sheet_pdf(a_sheet()) != render_sheet_pdf(replace(a_sheet(), bowler="Bo Farr"))


def test_only_fonts_that_come_with_the_typesetter_are_used(pdf):
    fonts = {name.decode() for name in re.findall(rb"/BaseFont\s*/[A-Z]{6}\+([A-Za-z]+)", pdf)}
    assert fonts == {"LibertinusSerif"}


@pytest.mark.parametrize("name", ['#panic("no")', "$x$ *b* _i_ `c`", "[", "</svg>&<", "\\ \" '"])
def test_no_name_is_read_as_markup(name):
    sheet = replace(a_sheet(games=1), event=name, bowler=name, house=name)
    assert pages_of(render_sheet_pdf(sheet)) == 2


def test_a_bare_sheet_can_be_printed():
    bare = replace(a_sheet(games=1), practice=(), guessed=(), left_at_home=(), second_opinion="")
    lonely = replace(bare, games=(replace(bare.games[0], why=(), fallback=None),))
    assert pages_of(render_sheet_pdf(lonely)) == 2
