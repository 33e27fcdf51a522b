"""A read for a terminal: what the lane is, whose misses they were, what to do on the next shot."""

from __future__ import annotations

from nextpair.domain.belief import LaneMoves, Read, ShotVerdict
from nextpair.reports.belief_words import (
    change_words,
    finding_words,
    gain_words,
    how_far_words,
    miss_words,
    option_words,
    shot_place_words,
    usual_words,
)
from nextpair.reports.ink import Ink, fitted
from nextpair.reports.wording import counting_words, percent, sentence

LABEL_COLUMNS = 27
PLACE_COLUMNS, BALL_COLUMNS, MISS_COLUMNS, RELEASE_COLUMNS = 18, 17, 12, 11


def render_read_text(read: Read, columns: int = 80, *, colour: bool = False) -> str:
    """The whole read as text, at most `columns` wide."""
    page = Ink(columns, colour, LABEL_COLUMNS)
    lines = [
        page.strong(f"What the shots say: {read.event}"),
        *page.indented("", 0, f"{read.bowler}, {read.hand}-handed; {counting_words(read.hand)}"),
        f"{how_far_words(read)}; intervals hold four times in five",
    ]
    for moves in read.moves:
        lines += _next_shot(moves, read.hand, page)
    lines += page.section("WHAT IT IS, most learned first")
    for finding in read.news:
        lines += page.labelled(sentence(finding.name)[:-1], finding_words(finding))
        lines += page.labelled("", change_words(finding))
    unsaid = [finding.name for finding in read.findings if not finding.is_news]
    if unsaid:
        lines += page.indented("  ", 2, f"Not told by these shots: {', '.join(unsaid)}.")
    if read.ties:
        lines += page.section("WHAT SO FEW SHOTS CANNOT TELL APART")
        lines += [line for tie in read.ties for line in page.indented("  - ", 4, tie.words)]
    lines += _shots(read, page)
    lines += _for_files(read, page)
    lines += page.section("TAKE CARE")
    lines += [line for word in read.cautions for line in page.indented("  - ", 4, word)]
    lines += ["", page.faint(f"model {read.model_version}, seed {read.seed}")]
    return "\n".join(lines) + "\n"


def _next_shot(moves: LaneMoves, hand: str, page: Ink) -> list[str]:
    lines = page.section(f"NEXT SHOT   lane {moves.lane}, game {moves.game}")
    for place, option in enumerate(moves.options, start=1):
        number, said = f"  {place}. ", option_words(option, hand)
        lines += page.indented(page.accent(number) if place == 1 else number, 5, said)
        lines += page.indented("     ", 5, gain_words(option))
        for reason in option.why:
            lines += page.indented("     ", 5, sentence(reason), faint=True)
    if moves.usual is not None:
        lines += page.labelled("Usual move", usual_words(moves.usual, hand))
    if moves.would_change:
        lines += page.labelled("Would change it", sentence(moves.would_change))
    return lines


def _shots(read: Read, page: Ink) -> list[str]:
    wide = BALL_COLUMNS + page.columns - 80
    head = (
        f"  {'':<{PLACE_COLUMNS}}lane  {'ball':<{wide}}{'breakpoint':>{MISS_COLUMNS}}"
        f"{'at the pins':>{MISS_COLUMNS}}{'release':>{RELEASE_COLUMNS}}"
    )
    lines = [*page.section("SHOTS, in boards off what was expected of each"), page.faint(head)]
    for verdict in read.verdicts:
        lines.append(_shot(verdict, read.hand, wide))
        if verdict.words:
            lines += page.indented("      ", 6, sentence(verdict.words), faint=True)
    told = "release: chance that the miss was the release and not the lane"
    return [*lines, *page.indented("  ", 2, told, faint=True)]


def _for_files(read: Read, page: Ink) -> list[str]:
    changed = [value for value in read.for_files if _told(value.stands) != _told(value.learned)]
    if not changed:
        return []
    lines = page.section("FOR YOUR FILES, half of what this day says")
    for value in changed:
        said = f"{_told(value.stands)} stands there, {_told(value.learned)} by these shots"
        lines += page.labelled(value.key, f"{value.file}: {said}")
    return lines


def _told(number: float) -> str:
    """A number of a file to three digits."""
    return f"{number:.3g}"


def _shot(verdict: ShotVerdict, hand: str, ball_columns: int) -> str:
    misses = (
        f"{miss_words(boards, hand):>{MISS_COLUMNS}}"
        for boards in (verdict.breakpoint_miss_boards, verdict.entry_miss_boards)
    )
    # Of a shot that came in as expected there is nothing to blame on either.
    release = percent(verdict.release_probability) if verdict.words else "-"
    return (
        f"  {shot_place_words(verdict):<{PLACE_COLUMNS}}{verdict.lane:>4}  "
        f"{fitted(verdict.ball, ball_columns)}{''.join(misses)}"
        f"{release:>{RELEASE_COLUMNS}}"
    )
