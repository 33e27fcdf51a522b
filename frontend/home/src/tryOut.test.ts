import { expect, it } from "vitest";
import type { Kept, Sheet } from "$shared/types";
import { type BowlerDocument, attemptOf, bodyOf, lanesOf, plannedLane, throwerOf } from "./tryOut";

const kept = <D extends object>(id: string, name: string, document: D) =>
  ({ id, kind: "ball", name, revision: 1, saved_at: "", deleted: false, document, links: [] }) as unknown as Kept<D>;

const bowler = kept<BowlerDocument>("b1", "Ada Quill", { hand: "left", speed_mph: 16, axis_rotation_deg: 60, slide_to_laydown_boards: 7 });
const balls = [
  kept("1", "Kestrel", { bowler: "b1" }),
  kept("2", "Heron", { bowler: "b1", retired: true }),
  kept("3", "Plover", { bowler: "another" }),
] as Kept[];
const thrower = throwerOf(bowler, balls, [14, 13, 14, 17]);

const lane = (number: number, laydown_board: number) => ({
  lane: number,
  line: { laydown_board, launch_angle_deg: 2, speed_mph: 15.5, axis_rotation_change_deg: -5 },
  path_boards: [laydown_board],
});
const sheet = {
  games: [
    { game: 1, ball: "Kestrel", surface_grit: 2000, lanes: [lane(13, 20), lane(14, 21)] },
    { game: 2, ball: "Kestrel", surface_grit: 2000, lanes: [lane(17, 22), lane(18, 23)] },
  ],
} as unknown as Sheet;

it("throws the bowler's own balls that are in use, on the lanes that are met", () => {
  expect(thrower.balls).toEqual(["Kestrel"]);
  expect(thrower.lanes).toEqual([13, 14, 17]);
  expect(thrower.speed).toEqual([13, 19]);
});

it("starts from the sheet's line, release changes with it", () => {
  const attempt = attemptOf(thrower, sheet, 2, 18);
  expect(attempt).toMatchObject({ game: 2, lane: 18, laydown_board: 23, speed_mph: 15.5, axis_rotation_deg: 55, surface_grit: 2000 });
  expect(plannedLane(sheet, attempt)?.path_boards).toEqual([23]);
  expect(lanesOf(thrower, sheet, 2)).toEqual([17, 18]);
});

it("starts from a usual shot on fresh film where there is no sheet, and leaves out what is as usual", () => {
  const attempt = attemptOf(thrower, null, null);
  expect(attempt).toMatchObject({ ball: "Kestrel", game: null, lane: 13, speed_mph: 16, surface_grit: null });
  expect(Object.keys(bodyOf(attempt))).not.toContain("game");
  expect(Object.keys(bodyOf(attempt))).not.toContain("surface_grit");
  expect(bodyOf({ ...attempt, surface_grit: 500, game: 2 })).toMatchObject({ surface_grit: 500, by_hand: false, game: 2 });
});

it("stays on fresh film when it is gone back to from there", () => {
  expect(attemptOf(thrower, sheet, null, 17)).toMatchObject({ game: null, lane: 17 });
});
