import { expect, test } from "vitest";
import type { Line } from "$shared/types";
import { bars, bestWords, costWords, type DebriefFinding, type GameAccount, lateWords, pairsTold, partsOf, practiceWords } from "./debrief";

const line: Line = {
  laydown_board: 24.5, slide_board: 31, target_board: 17.2, launch_angle_deg: 2.4, breakpoint_board: 9, breakpoint_ft: 42,
  exit_board: 12.6, speed_mph: 17.6, speed_change_mph: 0, axis_rotation_change_deg: 0,
};
const game: GameAccount = {
  game: 1, pair: "13-14", score: 198, told: { planned_score: 204.5, score: 198 }, ball: "Kestrel", best_ball: "Kestrel",
  best_surface_grit: 2000, best_line: line, best_right_line: line, best_score: 209.4, regret_pins: 3, words: "",
};

test("only the parts that some game has are columns, in their order", () => {
  const sums = { planned_score: 400, score: 390, spares_pins: -4, lane_pins: -6, strays_and_carry_pins: 0 };
  expect(partsOf(sums).map(([, name]) => name)).toEqual(["Lane", "Unseen", "Spares"]);
});

test("a finding says what it cost, or only how sure it is", () => {
  const finding = { cost_pins_per_game: 6.42, sure_probability: 0.93 } as DebriefFinding;
  expect(costWords(finding)).toBe("About 6.4 pins a game, 93 % sure");
  expect(costWords({ ...finding, cost_pins_per_game: null })).toBe("93 % sure");
});

test("the best line is told once where both lanes have the same", () => {
  expect(bestWords(game, "right")).toMatch(/^Kestrel @ 2000, feet 31.*: 209$/);
  expect(bestWords(game, "right")).not.toContain("right lane");
  const apart = { ...game, best_right_line: { ...line, slide_board: 35 } };
  expect(bestWords(apart, "right")).toMatch(/left lane feet 31.*right lane feet 35/);
});

test("pairs that have nothing of their own stand in one line", () => {
  const pair = (name: string, game: number, words = "like the others") => ({ pair: name, games: [game], findings: [], words });
  const told = pairsTold([pair("", 0, "as planned"), pair("17-18", 1), pair("23-24", 2, "drier"), pair("13-14", 3)]);
  expect(told.map((lane) => lane.pair)).toEqual(["", "17-18, 13-14", "23-24"]);
  expect(told[1]!.games).toEqual([1, 3]);
});

test("a late move and practice are told in words", () => {
  const move = { game: 2, lane: 15, evidence_frame: 4, moved_frame: 7, shots_late: 3, cost_pins: 5.24, words: "Lane 15 asked for a move" };
  expect(lateWords(move)).toBe("Lane 15 asked for a move. About 5.2 pins.");
  const practice = { shots: 1, telling_shots: 1, lanes: [13], balls: ["Kestrel"], told_share: 0.3, words: "One lane only" };
  expect(practiceWords(practice)).toBe("One lane only. 1 of 1 told something.");
});

test("bars are shares of the longest, and none where hindsight brings nothing", () => {
  expect(bars([game, { ...game, game: 2, regret_pins: 12 }]).map(({ share }) => share)).toEqual([0.25, 1]);
  expect(bars([{ ...game, regret_pins: 0 }]).map(({ share }) => share)).toEqual([0]);
  expect(bars([])).toEqual([]);
});
