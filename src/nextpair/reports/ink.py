"""A page of text: its width, its weight and colour on a terminal, and how lines wrap on it."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass

NARROWEST = 80
WIDEST = 100


@dataclass(frozen=True, slots=True)
class Ink:
    """How to write: so many columns (80 to 100), with or without the terminal's own colours."""

    columns: int
    colour: bool
    label_columns: int = 12

    def __post_init__(self) -> None:
        object.__setattr__(self, "columns", min(max(self.columns, NARROWEST), WIDEST))

    def strong(self, text: str) -> str:
        """Headings and names."""
        return self._escaped("1", text)

    def faint(self, text: str) -> str:
        """What may be passed over."""
        return self._escaped("2", text)

    def accent(self, text: str) -> str:
        """What to do: found at a glance."""
        return self._escaped("1;36", text)

    def section(self, title: str) -> list[str]:
        """A blank line, then a heading ruled out to the edge."""
        rule = "-" * max(self.columns - len(title) - 1, 0)
        return ["", f"{self.strong(title)} {self.faint(rule)}".rstrip()]

    def labelled(self, label: str, text: str) -> list[str]:
        """Text beside its label, wrapped under itself."""
        start = f"  {self.faint(fitted(label, self.label_columns - 2))}"
        return self.indented(start, self.label_columns, text)

    def indented(self, start: str, indent: int, text: str, *, faint: bool = False) -> list[str]:
        """Text wrapped under itself after a start that takes `indent` columns on the screen."""
        wrapped = textwrap.wrap(text, self.columns - indent, break_on_hyphens=False) or [""]
        said = [self.faint(line) for line in wrapped] if faint else wrapped
        return [start + said[0], *(" " * indent + line for line in said[1:])]

    def _escaped(self, code: str, text: str) -> str:
        return f"\x1b[{code}m{text}\x1b[0m" if self.colour and text.strip() else text


def fitted(text: str, columns: int) -> str:
    """Text filled up to a width; longer text is cut and ends in '...'."""
    return text.ljust(columns) if len(text) <= columns else text[: columns - 3] + "..."
