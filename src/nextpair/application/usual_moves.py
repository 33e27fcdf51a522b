"""What the trade does after a miss, by the pins that were left and by where the ball came in.

Common practice, [facts] section 8: after a 4 pin 3-and-1, after a wide split 5-and-2; 2-and-1 is a
usual move. Feet go the way the ball missed. A left-hander's are mirrored.
"""

from __future__ import annotations

from nextpair.domain.belief import MoveKind, MoveOption, UsualMove
from nextpair.domain.bowler import Hand
from nextpair.domain.lane import CENTRE_BOARD
from nextpair.domain.shot_log import LoggedShot
from nextpair.kernel.throws import own_board
from nextpair.planning.textbook import POCKET_BOARDS
from nextpair.scoring.leaves import is_split, mirrored_leave, parse_leave

POCKET_OWN_BOARD = CENTRE_BOARD - POCKET_BOARDS
MISSED_BOARDS = 1.5
"""Closer to the pocket than this, where the ball came in asks for no move. Common practice: more
than half a board is a miss for carry, but less than one's own scatter."""
LUCKY_BOARDS = 3.0
"""A strike that came in this far from the pocket was luck, and asks for a move (assumption)."""
HIGH_SINGLE = parse_leave("4")
ALIKE_BOARDS = 1.0
"""Moves that are this close with feet and target are the same."""
SOURCE = "Common practice."
BAD_SHOT = "a shot that was rather the release"


def usual_move(shot: LoggedShot, hand: Hand, best: MoveOption, bad: bool) -> UsualMove | None:
    """The trade's move after a ball at ten pins; None where nothing was missed, or nobody saw.

    Nobody moves off a `bad` shot.
    """
    left = _leave(shot, hand)
    off = None if shot.entry_board is None else _inside_of_pocket(shot.entry_board, hand)
    if bad:
        return UsualMove(BAD_SHOT, "stay", 0.0, 0.0, SOURCE, _difference(0.0, 0.0, best))
    if left == HIGH_SINGLE:
        return _told("a high hit that leaves the far side's single pin", 3.0, 1.0, best)
    if left is not None and is_split(left) and (off is None or off > 0):
        return _told("a high hit that leaves a split", 5.0, 2.0, best)
    if off is None or abs(off) < (LUCKY_BOARDS if left == 0 else MISSED_BOARDS):
        return None
    side, hit = (1.0, "high") if off > 0 else (-1.0, "light")
    return _told(f"a {hit} {'strike' if left == 0 else 'hit'}", 2.0 * side, side, best)


def _told(miss: str, feet: float, target: float, best: MoveOption) -> UsualMove:
    return UsualMove(
        miss=miss,
        name=f"{abs(feet):g}-and-{abs(target):g}",
        feet_boards=feet,
        target_boards=target,
        words=SOURCE,
        differs=_difference(feet, target, best),
    )


def _difference(feet: float, target: float, best: MoveOption) -> str:
    """How the best computed option is another; nothing where it is the same."""
    if best.kind is MoveKind.STAY:
        return "What is believed now asks for no move." if feet else ""
    if best.kind is not MoveKind.FEET_AND_TARGET:
        return f"What is believed now asks for another {_changed(best)} first."
    more = (best.feet_boards - feet, best.target_boards - target)
    if max(map(abs, more)) <= ALIKE_BOARDS:
        return ""
    if not feet:
        return "What is believed now asks for a move."
    if best.feet_boards * feet < 0:
        return "What is believed now asks for the other way."
    amount = "farther" if abs(best.feet_boards) > abs(feet) else "less far"
    return f"What is believed now moves {amount}."


def _changed(best: MoveOption) -> str:
    return "release" if best.kind is MoveKind.HAND else best.kind.value


def _leave(shot: LoggedShot, hand: Hand) -> int | None:
    """What was left, as a right-hander's; None where nobody saw."""
    if shot.standing_after is None:
        return None
    left = parse_leave("-".join(map(str, sorted(shot.standing_after))))
    return left if hand is Hand.RIGHT else mirrored_leave(left)


def _inside_of_pocket(entry_board: float, hand: Hand) -> float:
    return own_board(entry_board, hand) - POCKET_OWN_BOARD
