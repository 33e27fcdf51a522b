"""How numbers and moves are said to a bowler: boards from their own side, halves, plain words."""

from __future__ import annotations

import math
from datetime import date

from nextpair.domain.ball import Grit, Tool
from nextpair.domain.bowler import Hand
from nextpair.domain.carry import ImpactCard
from nextpair.domain.house import Pinfall
from nextpair.domain.lane import mirrored_board
from nextpair.domain.sheet import (
    BagItem,
    BagWorth,
    EntryCard,
    FallbackCard,
    GameCard,
    LaneCard,
    LaterLineCard,
    LineCard,
    MoveCard,
    PatternCard,
    PracticeOption,
    RoomCard,
    Sheet,
)

MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


def said_board(board: float, hand: str) -> float:
    """A board as the bowler counts it: from the left edge for a left-hander."""
    return board if hand == Hand.RIGHT else mirrored_board(board)


def board_words(board: float, hand: str) -> str:
    """A board to the half, as the bowler counts it: '17' or '17.5'."""
    return halves(said_board(board, hand))


def halves(number: float) -> str:
    """A number to the nearest half, without a needless '.0'."""
    return f"{math.floor(2 * number + 0.5) / 2:g}"


def percent(probability: float) -> str:
    """A probability as whole percent: '52 %'."""
    if 0 < probability < 0.005:
        return "under 1 %"
    return f"{100 * probability:.0f} %"


def sure_words(probability: float) -> str:
    """'93 % sure': of what nobody can know beyond doubt, so never wholly."""
    return "over 99 % sure" if probability > 0.99 else f"{percent(probability)} sure"


def strings_words(pinfall: str) -> str:
    """What is added where pins hang on strings: ', pins on strings'; nothing for free pins."""
    return ", pins on strings" * (pinfall == Pinfall.STRING)


def surface_words(grit: Grit) -> str:
    """A surface: '2000' or 'polished'."""
    return str(grit)


def ball_words(ball: str, grit: Grit, by: str = Tool.SPINNER.value) -> str:
    """A ball with its surface: 'Kestrel @ 2000' or 'Kestrel @ 2000 by hand'."""
    return f"{ball} @ {surface_words(grit)}" + " by hand" * (by == Tool.HAND)


def ratio_words(ratio: float) -> str:
    """A ratio as it is said: '3.1 : 1', or words where the outside is dry."""
    return f"{ratio:.1f} : 1" if math.isfinite(ratio) else "dry outside"


def pattern_words(pattern: PatternCard) -> str:
    """A pattern in numbers: '43 ft, 26.1 mL, ratio 3.1 : 1 (sport)'."""
    return (
        f"{pattern.length_ft:.0f} ft, {pattern.volume_ml:.1f} mL, "
        f"ratio {ratio_words(pattern.ratio)} ({pattern.sport_class})"
    )


def patterns_told(sheet: Sheet) -> tuple[tuple[str, str], ...]:
    """Name and numbers of what lies on the lanes: of one pattern, or of the left and the right
    lanes' own."""
    if sheet.right_pattern is None:
        return ((sheet.pattern.name, pattern_words(sheet.pattern)),)
    return (
        (f"Left lanes, {sheet.pattern.name}", pattern_words(sheet.pattern)),
        (f"Right lanes, {sheet.right_pattern.name}", pattern_words(sheet.right_pattern)),
    )


def date_words(iso_date: str) -> str:
    """'2026-06-13' as '13 June 2026'."""
    day = date.fromisoformat(iso_date)
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def clock_words(minute: float) -> str:
    """Time since the start: 1.5 minutes as '1:30'."""
    minutes, seconds = divmod(round(minute * 60), 60)
    return f"{minutes}:{seconds:02d}"


def counting_words(hand: str) -> str:
    """From which edge the boards on this page count."""
    if hand == Hand.RIGHT:
        return "boards count from the right edge"
    return "boards count from the LEFT edge, as a left-hander counts"


def line_words(line: LineCard, hand: str) -> str:
    """Feet, target and breakpoint in one phrase, and how it is let go of where not as usual."""
    release = release_words(line)
    where = f"{_feet_and_target(line, hand)}, breakpoint {breakpoint_words(line, hand)}"
    return f"{where}, {release}" if release else where


def release_words(line: LineCard) -> str:
    """How a line is let go of otherwise than usual: '0.5 mph harder'; nothing for as usual."""
    return " and ".join(
        f"{abs(size):{form}} {more if size > 0 else less}"
        for size, form, more, less in (
            (line.speed_change_mph, ".1f", "mph harder", "mph softer"),
            (
                line.axis_rotation_change_deg,
                ".0f",
                "degrees more axis rotation",
                "degrees less axis rotation",
            ),
        )
        if size
    )


def speed_words(line: LineCard) -> str:
    """The speed at release, and how it is let go of where not as usual: '16.9 mph, 0.5 mph
    softer'."""
    return ", ".join(filter(None, (f"{line.speed_mph:.1f} mph", release_words(line))))


def breakpoint_words(line: LineCard, hand: str) -> str:
    """'9 at 42 ft'."""
    return f"{board_words(line.breakpoint_board, hand)} at {line.breakpoint_ft:.0f} ft"


def move_words(move: MoveCard | None, hand: str) -> str:
    """A move as the trade says it: 'feet 3 left, target 2 left, a 3-for-2' inside."""
    if move is None:
        return "first game"
    feet, target = (_toward(boards, hand) for boards in (move.feet_boards, move.target_boards))
    if feet == target == "stay":
        return "no move"
    name = "" if move.name is None else f", a {move.name}"
    return f"feet {feet}, target {target}{name}"


def sides(hand: str) -> tuple[str, str]:
    """The bowler's inside and outside: left and right for a right-hander."""
    return ("left", "right") if hand == Hand.RIGHT else ("right", "left")


def impact_words(impact: ImpactCard, hand: str) -> str:
    """How a ball comes in: '4 degrees, 2.5 boards right of the head pin'."""
    inside, own = sides(hand)
    side = own if impact.offset_board >= 0 else inside
    boards = round(abs(impact.offset_board), 1)
    return f"{impact.entry_angle_deg:g} degrees, {boards:g} boards {side} of the head pin"


def _toward(boards: float, hand: str) -> str:
    moved = halves(abs(boards))
    if moved == "0":
        return "stay"
    inside, outside = sides(hand)
    return f"{moved} {inside if boards > 0 else outside}"


def lanes_apart(game: GameCard, hand: str) -> tuple[LaneCard, ...]:
    """The lanes whose feet or target must be told: one for both, or each where they differ."""
    said = {_feet_and_target(lane.line, hand) for lane in game.lanes}
    return game.lanes if len(said) > 1 else game.lanes[:1]


def lanes_apart_words(game: GameCard, hand: str) -> str:
    """How the lines on a pair's lanes differ, or that one line serves both."""
    apart = lanes_apart(game, hand)
    if len(apart) <= 1:
        return "the same line on both"
    return "; ".join(f"lane {lane.lane}: {_feet_and_target(lane.line, hand)}" for lane in apart)


def _feet_and_target(line: LineCard, hand: str) -> str:
    feet, target = (board_words(board, hand) for board in (line.slide_board, line.target_board))
    return f"feet {feet}, target {target}"


def entry_words(entry: EntryCard) -> str:
    """How the ball meets the pins."""
    side = "to the pocket side" if entry.offset_board >= 0 else "to the far side"
    return (
        f"{entry.entry_angle_deg:.1f} degrees, {abs(entry.offset_board):.1f} boards {side} "
        f"of the head pin, {entry.speed_mph:.1f} mph"
    )


def score_words(game: GameCard) -> str:
    """Expected score with the interval that holds four of five games."""
    low, high = game.score_interval_80
    return f"{game.expected_score:.0f} ({low} to {high} in 4 games of 5)"


def others_words(game: GameCard) -> str | None:
    """A game's score held against the bad case and the field; None where neither is known."""
    said = []
    if game.bad_case_score is not None:
        said.append(f"{game.bad_case_score:.0f} where the lanes are at their worst")
    if game.field_score is not None:
        over = round(game.expected_score) - round(game.field_score)
        against = "as you do" if over == 0 else f"{abs(over)} {'less' if over > 0 else 'more'}"
        said.append(f"the field scores {game.field_score:.0f} here, {against}")
    return "; ".join(said) or None


def room_words(room: RoomCard) -> str:
    """How far a shot may miss."""
    return f"{room.boards:.1f} boards, {room.mph:.1f} mph"


def before_words(game: GameCard) -> str:
    """Who wore the pair before this game."""
    mine, others = game.shots_before_on_my_side, game.shots_before_other_side
    unknown, earlier = game.shots_before_unknown_side, game.shots_before_by_earlier_squads
    if mine + others + unknown == 0:
        return "nobody yet: the pair is fresh"
    words = f"{counted(mine, 'shot')} on your side, {others} on the other"
    words += f", {unknown} on a side not known" if unknown else ""
    return words + (f"; {earlier} of them by earlier squads" if earlier else "")


def bag_worth_words(worth: BagWorth) -> str:
    """What the bag is worth, in the mean and at worst; and what is made of its places."""
    said = (
        f"With this bag {worth.mean_pins_per_game:.1f} pins a game once a lane has shown itself, "
        f"{worth.bad_case_pins_per_game:.1f} in the worst tenth of games and lanes. No bag under "
        "the limit is worth more on average: proven."
    )
    if worth.places_free:
        return (
            f"{said} {counted(worth.places_free, 'place')} free: no other ball adds a tenth of a "
            "pin in the worst tenth, nor with one of these balls out."
        )
    return said


def practice_option_words(option: PracticeOption) -> str:
    """A use of the practice with what it gains: 'learn the lane, +0.8 pins a game: 15 shots'."""
    chosen = " (taken)" if option.chosen else ""
    return (
        f"{option.name}{chosen}, {option.expected_gain_pins_per_game:+.2f} pins a game: "
        f"{option.words}"
    )


def home_words(items: tuple[BagItem, ...]) -> tuple[str, ...]:
    """What stays at home, by reason: 'Adds nothing to this bag: Alder Bark @ 4000, ...'."""
    named: dict[str, list[str]] = {}
    for item in items:
        named.setdefault(item.purpose, []).append(ball_words(item.ball, item.surface_grit))
    return tuple(
        f"{sentence(purpose)[:-1]}: {', '.join(balls)}." for purpose, balls in named.items()
    )


def rule_words(sheet: Sheet) -> str:
    """The rule of 31 beside the first game's exit board, and the exits of all games."""
    exits = sorted(
        said_board(lane.line.exit_board, sheet.hand) for game in sheet.games for lane in game.lanes
    )
    if not exits:
        rule = board_words(sheet.rule_of_31_exit_board, sheet.hand)
        return f"Rule of 31: leave the oil at board {rule}."
    low, high = halves(exits[0]), halves(exits[-1])
    every = f"at {low}" if low == high else f"between {low} and {high}"
    return f"{sentence(sheet.second_opinion)} All lines leave it {every}."


def sentence(text: str) -> str:
    """Text that begins with a capital and ends with a stop."""
    begun = text[:1].upper() + text[1:]
    return begun if begun.endswith((".", "!", "?")) else begun + "."


def fallback_line_words(fallback: FallbackCard, game: GameCard, hand: str) -> str:
    """What to go to: 'Then Saltmarsh @ 3000: feet 31, target 17, breakpoint 9 at 42 ft.'; of the
    same ball the move too; lane by lane where feet or target differ."""
    same = (fallback.ball, fallback.surface_grit) == (game.ball, game.surface_grit)
    ball = ball_words(fallback.ball, fallback.surface_grit)
    if same:
        ball = f"the same ball, {_moved_words(fallback.line, game.line, hand)}"
    elif release_words(game.line) and not release_words(fallback.line):
        ball += ", let go of as usual"
    lines = (fallback.line, fallback.right_line)
    if len({_feet_and_target(line, hand) for line in lines}) == 1:
        return f"Then {ball}: {line_words(fallback.line, hand)}."
    lanes = "; ".join(
        f"lane {lane.lane}: {line_words(line, hand)}"
        for lane, line in zip(game.lanes, lines, strict=True)
    )
    return f"Then {ball}: {lanes}."


def later_line_words(later: LaterLineCard, game: GameCard, hand: str) -> str:
    """Where to move when the game is half over: 'From frame 6 feet 0.5 left, target 0.5 left';
    lane by lane where the moves differ."""
    moves = [move_words(move, hand) for move in (later.move, later.right_move)]
    if moves[0] == moves[1]:
        return f"From frame {later.from_frame} {moves[0]}: {line_words(later.line, hand)}."
    lanes = "; ".join(
        f"lane {lane.lane} {move}" for lane, move in zip(game.lanes, moves, strict=True)
    )
    return f"From frame {later.from_frame}: {lanes}."


def _moved_words(line: LineCard, planned: LineCard, hand: str) -> str:
    """How far feet and target move from a planned line."""
    inward = 1.0 if hand == Hand.RIGHT else -1.0
    feet, target = (
        _toward(inward * boards, hand)
        for boards in (
            line.slide_board - planned.slide_board,
            line.target_board - planned.target_board,
        )
    )
    return f"feet {feet} and target {target}"


def counted(number: int, noun: str) -> str:
    """'1 shot', '44 shots'."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
