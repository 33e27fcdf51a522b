import { expect, it } from "vitest";
import { effectWords, movedWords } from "./effectWords";

const effect = (parameter: string, change: number | "polished") => ({ parameter, change, boards: 0, degrees: 0 });

it("says changes toward the bowler's own sides", () => {
  expect(effectWords(effect("feet_boards", 1), "right")).toBe("feet 1 left, same target");
  expect(effectWords(effect("feet_boards", 1), "left")).toBe("feet 1 right, same target");
  expect(effectWords(effect("tilt_in", 0.01), "left")).toBe("lane 0.01 in lower on the left");
  expect(effectWords(effect("speed_mph", -1), "right")).toBe("1 mph slower");
  expect(effectWords(effect("surface_grit", "polished"), "right")).toBe("cover polished");
});

it("says where a ball moves: positive to the bowler's own side", () => {
  expect(movedWords(1.2, "right")).toBe("1.2 right");
  expect(movedWords(1.2, "left")).toBe("1.2 left");
  expect(movedWords(0.01, "left")).toBe("nowhere");
});
