import { describe, expect, it } from "vitest";
import type { Entry, Line, Move } from "./types";
import cases from "./words.cases.json";
import * as words from "./words";

const line: Line = {
  laydown_board: 24.5,
  slide_board: 31,
  target_board: 17.2,
  launch_angle_deg: 2.4,
  breakpoint_board: 9.1,
  breakpoint_ft: 42.4,
  exit_board: 12.6,
  speed_mph: 17.6,
  speed_change_mph: 0,
  axis_rotation_change_deg: 0,
};
const entry: Entry = { offset_board: 2.4, entry_angle_deg: 4.9, speed_mph: 15.1 };
const move: Move = { feet_boards: 3, target_boards: 2, ball_change: false, name: "3-for-2", why: "" };

/** What the cases name in capitals, as tests/conventions/test_pages_say_the_same.py has it. */
const THINGS: Record<string, unknown> = {
  LINE: line,
  SOFTER: { ...line, speed_mph: 17.1, speed_change_mph: -0.5, axis_rotation_change_deg: 10 },
  ENTRY: entry,
  HIGH: { ...entry, offset_board: -0.6 },
  MOVE: move,
  SMALL: { ...move, feet_boards: 0.1, target_boards: 0, name: null },
};

const SAYS: Record<string, (...given: never[]) => string> = {
  halves: words.halves,
  board_words: words.boardWords,
  percent: words.percent,
  ball_words: words.ballWords,
  date_words: words.dateWords,
  clock_words: words.clockWords,
  counting_words: words.countingWords,
  counted: words.counted,
  sentence: words.sentence,
  line_words: words.lineWords,
  breakpoint_words: words.breakpointWords,
  entry_words: words.entryWords,
  move_words: words.moveWords,
};

describe("words", () => {
  it.each(cases)("$says says $words", ({ says, of, words: said }) => {
    const given = of.map((part) => (typeof part === "string" && part in THINGS ? THINGS[part] : part));
    expect(SAYS[says]!(...(given as never[]))).toBe(said);
  });
});
