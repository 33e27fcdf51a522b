"""A recap as one page in one file: nothing to run, nothing from elsewhere, light or dark, and good
to print."""

from __future__ import annotations

from nextpair.domain.recap import Recap, RecapBall
from nextpair.reports.markup import Markup, element, joined, listed
from nextpair.reports.recap_figures import score_figure, strip_figure, use_figure
from nextpair.reports.recap_words import (
    FIELD_KEY,
    ball_name,
    change_words,
    counts_words,
    edge_words,
    figures_told,
    handicap_words,
    in_short,
    money_told,
    pattern_told,
    strip_key,
    surface_words,
    use_words,
    where_words,
)
from nextpair.reports.sheet_html import page_head, section
from nextpair.reports.wording import sentence

STYLE = "recap.css"


def render_recap_html(recap: Recap) -> str:
    """The recap as one self-contained HTML document."""
    body = element(
        "body",
        element(
            "header",
            element("p", where_words(recap), class_="soft"),
            element("h1", recap.event),
            element("p", recap.bowler),
            element("p", in_short(recap), class_="short"),
        ),
        element(
            "main", _scores(recap), _lanes(recap), _bag(recap), _learned(recap), _money(recap)
        ),
        element("footer", element("p", "Made with nextpair.")),
    )
    head = page_head(f"{recap.event}: {recap.bowler}", style=STYLE)
    return f"<!doctype html>\n{element('html', head, body, lang='en')}\n"


def _scores(recap: Recap) -> Markup:
    told = (
        element("div", element("dt", label), element("dd", number))
        for number, label in figures_told(recap)
    )
    said = (words for words in (counts_words(recap), handicap_words(recap)) if words)
    return section(
        "scores",
        "Scores",
        element("dl", *told, class_="figures"),
        _figure(score_figure(recap), FIELD_KEY if _has_field(recap) else ""),
        *(element("p", words) for words in said),
    )


def _has_field(recap: Recap) -> bool:
    return any(game.field_pins is not None for game in recap.games)


def _figure(picture: str, caption: str) -> Markup:
    said = (element("figcaption", caption),) if caption else ()
    return element("figure", Markup(picture), *said)


def _lanes(recap: Recap) -> Markup:
    key = strip_key(recap)
    films = (
        _figure(strip_figure(one, recap), f"{pattern_told(one)}. {key}".strip())
        for one in recap.patterns
    )
    said = (*change_words(recap), *filter(None, (edge_words(recap),)))
    return section(
        "lanes",
        "Lanes",
        element("p", f"{recap.house}, {surface_words(recap)}."),
        *films,
        *(element("p", words) for words in said),
    )


def _bag(recap: Recap) -> Markup:
    if not recap.bag:
        return Markup()
    balls = (_ball(ball, recap) for ball in recap.bag)
    return section("bag", "Bag", element("ul", *balls, class_="bag"))


def _ball(ball: RecapBall, recap: Recap) -> Markup:
    return element(
        "li",
        element("strong", ball_name(ball)),
        Markup(use_figure(ball, recap)),
        element("span", sentence(use_words(ball, recap.games)), class_="use soft"),
    )


def _learned(recap: Recap) -> Markup:
    if not recap.learned:
        return Markup()
    said = joined(listed(tuple(sentence(words) for words in recap.learned)))
    return section("learned", "Learned", element("div", said, class_="learned"))


def _money(recap: Recap) -> Markup:
    if recap.money is None:
        return Markup()
    return section("money", "Money", element("p", money_told(recap.money)))
