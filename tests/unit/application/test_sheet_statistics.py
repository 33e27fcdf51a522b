"""Statistics of the bowlers of a score sheet."""

from __future__ import annotations

from event_folder import DEMO
from logged_games import logged_game
from nextpair.application.score_sheet import WrittenGame, score_sheet
from nextpair.application.settings import Settings
from nextpair.application.sheet_statistics import with_shots, with_statistics
from nextpair.bootstrap import Program
from nextpair.domain.bowler import Hand
from nextpair.domain.statistics import Luck
from nextpair.files import load_event, shots_text
from nextpair.scoring.leaves import parse_leave

TEN = parse_leave("10")
WRITTEN = (
    WrittenGame("Ada Quill", 1, "9 /, X, 8 1", leaves=((TEN, 0), (0,), (None, None))),
    WrittenGame("Bo Farr", 1, "X, X"),
)


def test_every_bowler_has_their_own():
    ada, bo = with_statistics(score_sheet(WRITTEN), WRITTEN).bowlers
    assert (ada.statistics.all.strikes.made, ada.statistics.all.strikes.tried) == (1, 3)
    assert (bo.statistics.all.strikes.made, bo.statistics.all.strikes.tried) == (2, 2)


def test_leaves_of_the_sheet_are_kept_where_they_are_known():
    ada, _ = with_statistics(score_sheet(WRITTEN), WRITTEN).bowlers
    assert [(one.leave, one.spares.made) for one in ada.statistics.all.by_leave] == [("10", 1)]
    assert [kind.kind for kind in ada.statistics.all.by_kind] == ["single-pin", "not told"]


def test_shots_tell_more_than_the_sheet_made_of_them():
    shots = logged_game(1, [["10", ""], [""], ["6-10", "10"]], entry_board=17.5)
    sheet = with_shots(score_sheet(WRITTEN[:1]), shots, Hand.RIGHT, Luck((), ()))
    (ada,) = sheet.bowlers
    assert ada.statistics.all.pocket.tried == 3
    assert ada.statistics.luck == Luck((), ())


def test_a_log_of_an_event_is_scored_and_has_luck(tmp_path):
    frames = [["10", ""], [""], ["6-10", "10"]] * 3 + [["7", "", ""]]
    shots = logged_game(1, frames, ball="Slate Weir", entry_board=17.5)
    log = tmp_path / "shots.csv"
    log.write_text(shots_text(noted.shot for noted in shots), "utf-8")
    sheet = Program(Settings()).score_shots(log, load_event(DEMO / "event.toml"))
    (bowler,) = sheet.bowlers
    (game,) = bowler.statistics.luck.games
    assert game.score == bowler.games[0].total
    assert game.seen == game.first_balls == 11
    assert bowler.statistics.all.pocket.made == 11
