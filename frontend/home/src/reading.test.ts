import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import * as reading from "./reading";
import { barsOf, changeWords, findingWords, gainWords, keyWords, missWords, newsOf, numberWords, optionWords, placeWords, usualWords, writtenDown } from "./reading";
import type { Finding, MoveOption, Read } from "./reading";

const ROOT = resolve(import.meta.dirname, "../../..");
const BELIEF = readFileSync(resolve(ROOT, "src/nextpair/domain/belief.py"), "utf8");
/** The guide's example of a read, as the program printed it. */
const GUIDE = readFileSync(resolve(ROOT, "docs/guide/reading.md"), "utf8").replace(/\s+/g, " ");

const FRICTION: Finding = {
  name: "Dry friction", unit: "% of plan", words: "more friction than planned", more_probability: 0.891,
  planned: { mean: 100, sd: 7, low: 91.2, high: 108.9 },
  found: { mean: 106.4, sd: 5, low: 100.3, high: 113.1 },
};

const MOVED: MoveOption = {
  kind: "feet and target", ball: "Candle Stub", surface_grit: 1000, lane: 13,
  line: {
    laydown_board: 23.5, slide_board: 30, target_board: 15.5, launch_angle_deg: 2, breakpoint_board: 6.5,
    breakpoint_ft: 42, exit_board: 8, speed_mph: 17, speed_change_mph: 0, axis_rotation_change_deg: 0,
  },
  feet_boards: 3.5, target_boards: 2, speed_change_mph: 0, axis_rotation_change_deg: 0,
  expected_pins_per_game: 185.2, gain_pins_per_game: 18.1, bad_case_gain_pins_per_game: 11.7,
  better_probability: 0.96, why: [],
};

describe("a reading says", () => {
  it("what the text of the guide says", () => {
    for (const words of [
      findingWords(FRICTION),
      changeWords(FRICTION),
      optionWords(MOVED, "right"),
      gainWords(MOVED),
      missWords(5.2, "right"),
    ]) {
      expect(GUIDE).toContain(words);
    }
  });

  it("moves and misses from the bowler\u2019s own side", () => {
    expect(missWords(5.2, "left")).toBe("5.2 right");
    expect(missWords(-0.04, "right")).toBe("on line");
    expect(missWords(null, "right")).toBe("not seen");
    expect(optionWords(MOVED, "left")).toMatch(/^Feet 3.5 right, target 2 right: feet 10/);
    const usual = { miss: "a high hit", name: "2-and-1", feet_boards: 2, target_boards: 1, words: "Common practice.", differs: "" };
    expect(usualWords(usual, "right")).toBe("After a high hit the trade moves 2-and-1: feet 2 left, target 1 left. Common practice.");
    expect(usualWords({ ...usual, feet_boards: 0, target_boards: 0 }, "right")).toBe("After a high hit the trade stays. Common practice.");
  });

  it("numbers as fine as what is known of them, and never minus nothing", () => {
    const fine = { ...FRICTION, planned: { ...FRICTION.planned, sd: 0.02 } };
    expect(numberWords(-0.001, fine)).toBe("0.00");
    expect(numberWords(103.26, FRICTION)).toBe("103");
  });

  it("which shot it was", () => {
    expect(placeWords({ game: 0, frame: 2, delivery: 1 })).toBe("practice, shot 2");
    expect(placeWords({ game: 1, frame: 10, delivery: 3 })).toBe("game 1, frame 10, ball 3");
  });
});

describe("what to write down", () => {
  it("leaves out what stands there already, and says units", () => {
    const value = { file: "bowler.toml", key: "speed_mph", stands: 17.4, learned: 17.41 };
    const other = { ...value, key: "scatter.speed_mph", stands: 0.36, learned: 0.3912 };
    const read = { for_files: [value, other] } as unknown as Read;
    expect(writtenDown(read)).toEqual([{ ...other, learned: 0.391 }]);
    expect(keyWords("scatter.speed_mph")).toBe("scatter: speed, mph");
    expect(keyWords("friction of lane 13")).toBe("friction of lane 13");
  });
});

describe("findings", () => {
  it("come most learned first, and what was not learned is named", () => {
    const little = { ...FRICTION, name: "Oil", more_probability: 0.5, found: FRICTION.planned };
    const most = { ...FRICTION, name: "Speed of the day", found: { ...FRICTION.found, sd: 1 } };
    const { told, untold } = newsOf([little, FRICTION, most]);
    expect(told.map((one) => one.name)).toEqual(["Speed of the day", "Dry friction"]);
    expect(untold).toEqual(["Oil"]);
  });

  it("are drawn inside their scale, both on one", () => {
    const { before, now } = barsOf(FRICTION);
    for (const share of [before.from, before.to, now.from, now.to]) {
      expect(share).toBeGreaterThan(0);
      expect(share).toBeLessThan(1);
    }
    expect(before.from).toBeLessThan(now.from);
    expect(before.to).toBeLessThan(now.to);
  });
});

it.each(["LIKELY_PROBABILITY", "NEWS_PROBABILITY", "LEARNED_SHARE"] as const)("%s is that of the program", (name) => {
  expect(reading[name]).toBe(Number(new RegExp(`^${name} = ([\\d.]+)$`, "m").exec(BELIEF)?.[1]));
});
