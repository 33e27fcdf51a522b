import { expect, test } from "vitest";
import { FULL_RACK } from "$shared/leaves";
import type { Bowled } from "$shared/game";
import type { Line, Pocket, ShotPayload } from "$shared/types";
import { plannedLine, planOf, practiceStep, setupFor, spareHelp } from "./setup";

function line(laydown_board: number): Line {
  return {
    laydown_board, slide_board: laydown_board + 6, target_board: laydown_board - 7, launch_angle_deg: 2,
    breakpoint_board: 7, breakpoint_ft: 41, exit_board: 7, speed_mph: 17, speed_change_mph: 0, axis_rotation_change_deg: 0,
  };
}

const SPARE = {
  ball: "Plain Thimble", surface_grit: "polished", flat: true, probability: 0.8, pass_boards: [], kind: "single pin",
  runner_up: null, system: null,
  line: { laydown_board: 29, slide_board: 35, target_board: 21, launch_angle_deg: 3, speed_mph: 17, axis_rotation_deg: 16 },
} as const;

const POCKET = {
  practice: [
    { minute: 0, lane: 13, ball: "Kestrel", surface_grit: 2000, shots: 2, line: line(19), why: "" },
    { minute: 3, lane: 14, ball: "Lark", surface_grit: 500, shots: 1, line: line(18), why: "" },
  ],
  games: [
    {
      game: 1, ball: "Kestrel", surface_grit: 2000,
      lanes: [{ lane: 13, line: line(20) }, { lane: 14, line: line(21) }],
      later_line: { from_frame: 6, line: line(22), right_line: line(23) },
    },
  ],
  spares: { "10": SPARE },
  spares_alike: { "6-9-10": "10" },
} as unknown as Pocket;

function shot(frame: number, lane: number, laydown_board: number, ball = "Kestrel"): Bowled {
  const payload: ShotPayload = {
    game: 1, frame, delivery: 1, lane, ball, surface_grit: 2000,
    meant_laydown_board: laydown_board, meant_target_board: laydown_board - 7,
    standing_before: [...FULL_RACK], standing_after: [10],
  };
  return { root: `${frame}`, shot: payload };
}

const first = (frame: number) => ({ frame, delivery: 1, standing: FULL_RACK });

test("the plan's line of the lane comes first, and from its frame on the later one", () => {
  const plan = planOf(POCKET, 1)!;
  expect([plannedLine(plan, 13, 5), plannedLine(plan, 14, 5)].map((one) => one?.laydown_board)).toEqual([20, 21]);
  expect([plannedLine(plan, 13, 6), plannedLine(plan, 14, 6)].map((one) => one?.laydown_board)).toEqual([22, 23]);
});

test("a move that the bowler made stays on its lane, with its ball", () => {
  const bowled = [shot(1, 13, 22, "Lark"), shot(2, 14, 21)];
  expect(setupFor(POCKET, 1, bowled, first(3), 13)).toMatchObject({ from: "lastShot", ball: "Lark", laydown_board: 22, slide_board: 28 });
  expect(setupFor(POCKET, 1, bowled, first(4), 14)).toMatchObject({ from: "plan", laydown_board: 21 });
});

test("who follows the plan is moved on with it", () => {
  expect(setupFor(POCKET, 1, [shot(5, 13, 20)], first(7), 13)).toMatchObject({ from: "plan", laydown_board: 22 });
});

test("what stands is shot as the pocket says, or as a leave that is like it", () => {
  expect(setupFor(POCKET, 1, [shot(1, 13, 20)], { frame: 1, delivery: 2, standing: [10] }, 13)).toMatchObject({ from: "spare", ball: "Plain Thimble", laydown_board: 29 });
  expect(spareHelp(POCKET, [10, 6, 9])).toMatchObject({ like: "10", probability: 0.8 });
  expect(spareHelp(POCKET, [4])).toBeUndefined();
});

test("practice goes by its steps, each with its number of shots", () => {
  expect([1, 2, 3, 9].map((frame) => practiceStep(POCKET, frame)?.lane)).toEqual([13, 13, 14, 14]);
  expect(setupFor(POCKET, 0, [], first(3), 14)).toMatchObject({ ball: "Lark", laydown_board: 18 });
  expect(setupFor(POCKET, 0, [], first(3), 13)).toMatchObject({ ball: "Kestrel", laydown_board: 20 });
});
