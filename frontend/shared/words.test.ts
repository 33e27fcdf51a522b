import { expect, it } from "vitest";
import type { Line, Move } from "./types";
import { boardWords, clockWords, counted, dateWords, halves, lineWords, moveWords, percent, sentence } from "./words";

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
const move: Move = { feet_boards: 3, target_boards: 2, ball_change: false, name: "3-for-2", why: "" };

it("says boards to the half, from the bowler's own edge", () => {
  expect(halves(17.25)).toBe("17.5");
  expect(halves(17.2)).toBe("17");
  expect(boardWords(17.2, "right")).toBe("17");
  expect(boardWords(17.2, "left")).toBe("23");
});

it("says a line, and how it is let go of only where not as usual", () => {
  expect(lineWords(line, "right")).toBe("feet 31, target 17, breakpoint 9 at 42 ft");
  expect(lineWords({ ...line, speed_change_mph: -0.5 }, "right")).toContain(", 0.5 mph softer");
});

it("says a move toward the bowler's own inside", () => {
  expect(moveWords(move, "right")).toBe("feet 3 left, target 2 left, a 3-for-2");
  expect(moveWords(move, "left")).toBe("feet 3 right, target 2 right, a 3-for-2");
  expect(moveWords({ ...move, feet_boards: 0.1, target_boards: 0 }, "right")).toBe("no move");
  expect(moveWords(null, "right")).toBe("first game");
});

it("says chances, times, dates and counts", () => {
  expect(percent(0.524)).toBe("52 %");
  expect(percent(0.001)).toBe("under 1 %");
  expect(percent(0)).toBe("0 %");
  expect(clockWords(5.87)).toBe("5:52");
  expect(dateWords("2026-06-13")).toBe("13 June 2026");
  expect(counted(1, "shot")).toBe("1 shot");
  expect(sentence("adds nothing")).toBe("Adds nothing.");
});
