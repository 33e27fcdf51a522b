/** The phone's score sheet against the program's: cases written by tools/game_cases.py. */

import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, test } from "vitest";
import { countsOf, expectedFinish, oddsOf, paceOf } from "./finish";
import { gameOf } from "./game";
import { bowled, shotsOf } from "./game_texts";
import { FULL_RACK } from "./leaves";
import type { Counting } from "./types";

interface Case {
  game: string;
  counting: Counting;
  running: (number | null)[];
  score: number | null;
  highest: number;
  expected: number;
  pace: number | null;
}

const CASES = JSON.parse(readFileSync(resolve(import.meta.dirname, "game_cases.json"), "utf8")) as Case[];

describe.each(CASES)("$game by $counting counting", ({ game: text, counting, running, score, highest, expected, pace }) => {
  const game = gameOf(shotsOf(text), counting);

  test("adds up frame by frame", () => {
    expect(game.doubts).toEqual([]);
    expect(game.frames.map((frame) => frame.running).slice(0, running.length)).toEqual(running);
    expect(game.score).toBe(score);
    expect(game.next === null).toBe(score !== null);
  });

  test("can still become as much", () => expect(game.best).toBe(highest));

  test("is expected to become as much by its own odds", () => {
    expect(expectedFinish(game, oddsOf(countsOf([game])), counting)).toBeCloseTo(expected, 5);
  });

  test("goes at the same pace", () => expect(paceOf(game)).toBe(pace));
});

test("own strikes raise what is expected, and opens lower it", () => {
  const of = (text: string) => expectedFinish(gameOf([]), oddsOf(countsOf([gameOf(shotsOf(text))])), "traditional")!;
  const usual = expectedFinish(gameOf([]), oddsOf(countsOf([])), "traditional")!;
  expect(usual).toBeGreaterThan(190);
  expect(usual).toBeLessThan(210);
  expect(of("X, X, X, X, X, X, X, X, X, X X X")).toBeGreaterThan(usual + 10);
  expect(of("- -, - -, - -, - -, - -, - -, - -, - -, - -, - -")).toBeLessThan(usual - 10);
});

test("a ball that nobody saw leaves the finish open, and is not counted", () => {
  const unseen = gameOf([...shotsOf("X"), bowled(2, 1, FULL_RACK, null)]);
  expect(expectedFinish(unseen, oddsOf(countsOf([])), "traditional")).toBeNull();
  expect(countsOf([unseen])).toEqual({ first_balls: 1, first_ball_pins: 10, strikes: 1, spare_tries: 0, spares: 0 });
});
