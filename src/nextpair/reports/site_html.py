"""The folder with the phone's page that anybody may put on a host: what it opens with."""

from __future__ import annotations

from nextpair.reports.markup import element, listed
from nextpair.reports.sheet_html import page_head, section


def render_site_index() -> str:
    """The page that a folder with the phone's page opens with: what it is, and how to use it."""
    link = element("a", "Open the phone's page", href="lanes/")
    body = element(
        "body",
        element("header", element("h1", "nextpair at the lanes")),
        element(
            "main",
            section(
                "use",
                "On your phone",
                element(
                    "p", link, ", and add it to the home screen. From then on it needs no network."
                ),
                listed(
                    (
                        "At home: nextpair pocket EVENT.toml --out open.pocket.json, or the web "
                        "app's button for it.",
                        "Bring that file to the phone, as you bring any file.",
                        "Start the page from the home screen, and open the file inside it. On an "
                        "iPhone, what was opened in the browser is not in the page of the home "
                        "screen.",
                        "After the event, save the log or show it as codes, and bring it home.",
                    )
                ),
            ),
            section(
                "own",
                "What is here and what is not",
                element(
                    "p",
                    "These files are the same for everybody and hold no event. What you log stays "
                    "on your phone until you take it home.",
                ),
            ),
        ),
    )
    head = page_head("nextpair at the lanes")
    return f"<!doctype html>\n{element('html', head, body, lang='en')}\n"
