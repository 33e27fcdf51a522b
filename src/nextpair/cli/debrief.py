"""What an event taught, on the command line."""

from __future__ import annotations

from contextlib import closing
from typing import TYPE_CHECKING, Annotated

import typer

from nextpair.cli.event_logs import SHOTS, ScoresFile, ShotsFile, folder_with
from nextpair.cli.options import AsJson, EventFile, takes
from nextpair.cli.session import Session, watched
from nextpair.domain.errors import require

if TYPE_CHECKING:
    from nextpair.application.bundle import EventFolder
    from nextpair.application.ports import Progress
    from nextpair.bootstrap import Program
    from nextpair.domain.debrief import Debrief
    from nextpair.domain.event import Event
    from nextpair.domain.lesson import Lesson

Accept = Annotated[
    list[str] | None,
    typer.Option("--accept", metavar="KEY", help="Keep this finding for the events to come."),
]
Drop = Annotated[
    list[str] | None, typer.Option("--drop", metavar="KEY", help="Put this finding aside.")
]
WithMoney = Annotated[bool, typer.Option("--money", help="Tell what it cost and brought, too.")]


@takes("seed", "threads", "cache_dir", "store", "data_dir", "colour", "debug")
def debrief(
    ctx: typer.Context,
    event: EventFile,
    shots: ShotsFile = None,
    scores: ScoresFile = None,
    accept: Accept = None,
    drop: Drop = None,
    with_money: WithMoney = False,
    as_json: AsJson = False,
) -> str:
    """Say what an event taught, and what to do otherwise next time."""
    from nextpair.application.accounts import home_account
    from nextpair.application.findings_decided import chosen_findings, decide_findings
    from nextpair.reports.debrief_json import render_debrief_json
    from nextpair.reports.debrief_text import decided_words, render_debrief_text

    session: Session = ctx.obj
    program = session.program()
    loaded = program.load_event(event)
    folder = folder_with(program, event, loaded, shots, scores)
    allowed = f"the shots that were logged, in {SHOTS} beside the event or by --shots"
    require(bool(folder.shots), "shots", "none", allowed)
    with watched() as progress:
        found = debrief_of(program, loaded, folder, session.settings.seed, progress)
    chosen = chosen_findings(found, accept or (), drop or ())
    decided: tuple[Lesson, ...] = ()
    if chosen:
        with closing(program.store()) as store:
            account = home_account(store).id
            decided = decide_findings(store, account, loaded, folder, chosen)
    lessons = _lessons(program, loaded)
    money = program.money(loaded) if with_money else None
    if as_json:
        return render_debrief_json(found, lessons, money)
    text = render_debrief_text(found, lessons, money, **session.page())
    return f"{text}\n{decided_words(decided)}" if decided else text


def debrief_of(
    program: Program, event: Event, folder: EventFolder, seed: int, progress: Progress
) -> Debrief:
    """What the event of a folder taught, by the shots and scores that came with it and by its
    sheet, planned anew."""
    from nextpair.application.scores import known_of_files, others_scored
    from nextpair.application.shot_jottings import NotedShot

    shots = [NotedShot(shot, foul=False) for shot in folder.shots]
    known = known_of_files(shots, folder.scores, event.bowler_name, event.format.counting)
    others = others_scored(known, event.bowler_name)
    standing = program.standing(event, known, seed) if others else None
    sheet = program.plan(event, seed, progress)
    return program.debrief(event, shots, sheet, seed, progress, standing)


def _lessons(program: Program, event: Event) -> tuple[Lesson, ...]:
    """What was decided on the event's findings so far; nothing where it is not kept."""
    from nextpair.application.accounts import home_account
    from nextpair.application.events import kept_as
    from nextpair.application.lessons import lessons_of_event

    store = program.kept_store()
    if store is None:
        return ()
    with closing(store):
        account = home_account(store).id
        kept = kept_as(store, account, event)
        return () if kept is None else lessons_of_event(store, account, kept)
