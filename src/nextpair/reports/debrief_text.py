"""A debrief for a terminal: what went well, what it taught, and how that was counted."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from nextpair.domain.debrief import Debrief, DebriefFinding
from nextpair.domain.ledger import EventLedger
from nextpair.domain.lesson import Lesson
from nextpair.reports.belief_words import change_words, finding_words
from nextpair.reports.debrief_words import (
    best_words,
    cost_words,
    decision_words,
    fields_words,
    lanes_named,
    late_words,
    practice_words,
    regret_words,
    spare_words,
    went_well,
    where_words,
)
from nextpair.reports.game_parts import PARTS, PARTS_WORDS, told_parts, told_plan, told_sums
from nextpair.reports.ink import Ink
from nextpair.reports.ledger_text import event_lines
from nextpair.reports.wording import counted, date_words, sentence

LABEL_COLUMNS = 27
PART_COLUMNS = 8


def render_debrief_text(
    debrief: Debrief,
    lessons: Sequence[Lesson] = (),
    ledger: EventLedger | None = None,
    columns: int = 80,
    *,
    colour: bool = False,
) -> str:
    """The whole debrief as text, at most `columns` wide, with what was decided on its findings;
    without money unless a ledger is given."""
    page = Ink(columns, colour, LABEL_COLUMNS)
    lines = [
        page.strong(f"What {debrief.event} taught"),
        f"{date_words(debrief.date.isoformat())}, {debrief.house}",
        f"on {' and '.join(debrief.patterns)}",
        f"{debrief.bowler}; {counted(len(debrief.games), 'game')}, "
        f"{counted(debrief.shots, 'shot')}",
        *_notes("WHAT WENT WELL", went_well(debrief), page),
        *_findings(debrief.findings, lessons, page),
        *_games(debrief, page),
        *_lanes(debrief, page),
        *_spares(debrief, page),
    ]
    lines += _notes("MOVES THAT CAME LATE", map(late_words, debrief.late_moves), page)
    if debrief.practice is not None:
        lines += _notes("PRACTICE", [practice_words(debrief.practice)], page)
    lines += _notes("THE FIELD", fields_words(debrief), page)
    if ledger is not None:
        lines += event_lines(ledger, page)
    lines += _notes("HOW IT WAS COUNTED", debrief.notes, page)
    lines += _notes("TAKE CARE", debrief.cautions, page)
    lines += ["", page.faint(f"model {debrief.model_version}, seed {debrief.seed}")]
    return "\n".join(lines) + "\n"


def _findings(
    findings: Sequence[DebriefFinding], lessons: Sequence[Lesson], page: Ink
) -> list[str]:
    lines = page.section("WHAT IT TAUGHT")
    if not findings:
        said = "Nothing stands out: what differed from the plan is what chance makes of any day."
        return [*lines, *page.indented("  ", 2, said)]
    for number, finding in enumerate(findings, start=1):
        start = page.accent(f"  {number}. ")
        decided = decision_words(finding, lessons)
        mark = f" ({decided})" if decided else ""
        lines += page.indented(start, 5, f"{sentence(finding.words)}{mark}")
        lines += page.indented("     ", 5, cost_words(finding), faint=True)
        for shown in finding.evidence:
            lines += page.indented("     - ", 7, sentence(shown))
        lines += page.indented("     ", 5, f"Next time: {sentence(finding.change.words)}")
        lines += page.indented("     ", 5, f"key {finding.key}", faint=True)
    return lines


def _games(debrief: Debrief, page: Ink) -> list[str]:
    if not debrief.games:
        return []
    sums = told_sums(debrief.games)
    lines = page.section("GAME BY GAME, in pins: plan and parts add up to the score")
    heads = "".join(f"{PARTS[name]:>{PART_COLUMNS}}" for name in sums)
    lines.append(page.faint(f"  game{'plan':>7}{heads}{'score':>6}{'best':>5}"))
    for game in debrief.games:
        parts = told_parts(game)
        lines.append(
            _row(str(game.game), told_plan(game), parts, sums, game.score, game.best_score)
        )
    if len(debrief.games) > 1:
        plan = sum(told_plan(game) for game in debrief.games)
        score = sum(game.score for game in debrief.games)
        best = sum(game.best_score for game in debrief.games)
        lines.append(page.strong(_row("all", plan, sums, sums, score, best)))
    lines += page.indented("  ", 2, PARTS_WORDS, faint=True)
    lines += page.indented("  ", 2, regret_words(debrief.games))
    for game in debrief.games:
        lines += page.labelled(f"Game {game.game}, lanes {game.pair}", sentence(game.words))
        lines += page.labelled("", f"Best known now: {best_words(game, debrief.hand)}")
    return lines


def _row(
    name: str, plan: float, parts: dict[str, float], shown: Iterable[str], score: int, best: float
) -> str:
    cells = "".join(
        f"{f'{parts[part]:+.1f}' if part in parts else '-':>{PART_COLUMNS}}" for part in shown
    )
    return f"  {name:>4}{plan:>7.1f}{cells}{score:>6}{best:>5.0f}"


def _lanes(debrief: Debrief, page: Ink) -> list[str]:
    lines = page.section("THE LANES AND YOUR RELEASE, before and after")
    for lane in debrief.lanes:
        lines += page.labelled(lanes_named(lane.pair), sentence(lane.words))
        for finding in lane.findings:
            lines += _finding(finding.name, finding_words(finding), change_words(finding), page)
    for finding in debrief.release:
        lines += _finding(finding.name, finding_words(finding), change_words(finding), page)
    return lines if debrief.lanes or debrief.release else []


def _finding(name: str, said: str, changed: str, page: Ink) -> list[str]:
    return [*page.labelled(sentence(name)[:-1], said), *page.labelled("", changed)]


def _spares(debrief: Debrief, page: Ink) -> list[str]:
    if not debrief.spares:
        return []
    lines = page.section("SPARES")
    for told in debrief.spares:
        lines += page.labelled(sentence(told.kind)[:-1], spare_words(told))
    return lines


def _notes(title: str, notes: Iterable[str], page: Ink) -> list[str]:
    lines = [line for note in notes for line in page.indented("  - ", 4, sentence(note))]
    return [*page.section(title), *lines] if lines else []


def decided_words(lessons: Sequence[Lesson]) -> str:
    """What became of findings that were decided on just now."""
    said = []
    for lesson in lessons:
        what = f"Accepted {lesson.key}. {where_words(lesson.change)}"
        said.append(what if lesson.accepted else f"Dropped {lesson.key}.")
    return "".join(f"{one}\n" for one in said)
