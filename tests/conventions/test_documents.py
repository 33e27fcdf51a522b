"""Documents that cannot fall behind the program: commands, settings, decisions."""

from __future__ import annotations

import re
from collections.abc import Iterator

import click
import pytest
import typer

from nextpair.application.settings import settings_table
from nextpair.cli.main import app
from source_tree import DOCS, ROOT, shown

COMMANDS_PAGE = DOCS / "guide" / "commands.md"
HEADINGS = ["Context", "Decision", "Rejected", "Consequences"]
DECISIONS = sorted((DOCS / "adr").glob("*.md"))
LINK = re.compile(r"\]\((?!https?://|mailto:|#)([^)#\s]+)")


def commands(command: click.Command, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """The words that call every command, each with the command itself at the end."""
    for name, below in getattr(command, "commands", {}).items():
        if not below.hidden:
            yield (*path, name)
            yield from commands(below, (*path, name))


def named(words: tuple[str, ...]) -> click.Command:
    command = typer.main.get_command(app)
    for word in words:
        command = command.commands[word]  # type: ignore[attr-defined]
    return command


COMMANDS = list(commands(typer.main.get_command(app)))


def test_there_are_commands():
    assert ("sheet",) in COMMANDS
    assert ("demo",) in COMMANDS


@pytest.mark.parametrize("words", COMMANDS, ids=" ".join)
def test_every_command_and_option_is_documented(words):
    page = COMMANDS_PAGE.read_text("utf-8")
    assert f"`nextpair {' '.join(words)}" in page
    options = {
        name
        for parameter in named(words).params
        for name in parameter.opts
        if name.startswith("--") and name != "--help"
    }
    assert {option for option in options if f"`{option}" not in page} == set()


@pytest.mark.parametrize("name", settings_table())
def test_every_setting_is_documented(name):
    setting = settings_table()[name]
    page = COMMANDS_PAGE.read_text("utf-8")
    assert setting.environment_name in page
    assert f"`{setting.flag}" in page


def test_every_make_target_says_what_it_does():
    makefile = (ROOT / "Makefile").read_text("utf-8")
    targets = re.findall(r"^([a-z]+):(.*)$", makefile, re.MULTILINE)
    assert len(targets) > 8
    assert [name for name, rest in targets if "## " not in rest] == []


@pytest.mark.parametrize("path", DECISIONS, ids=lambda path: path.stem)
def test_a_decision_says_why_and_what_else_was_thought_of(path):
    text = path.read_text("utf-8")
    assert re.match(rf"# {path.stem[:4]} — \S", text)
    assert re.findall(r"^## (.+)$", text, re.MULTILINE) == HEADINGS


def test_decisions_are_numbered_without_gaps():
    numbers = [int(path.stem[:4]) for path in DECISIONS]
    assert numbers == list(range(1, len(numbers) + 1))


@pytest.mark.parametrize(
    "path", [*ROOT.glob("*.md"), *sorted(DOCS.rglob("*.md"))], ids=lambda path: shown(path)
)
def test_links_between_documents_lead_somewhere(path):
    targets = LINK.findall(path.read_text("utf-8"))
    assert [target for target in targets if not (path.parent / target).exists()] == []
