import { expect, test } from "vitest";
import { adviceWords, byNeed, finishWords, wornShare, wornWords, type Advice, type BallUse } from "./ballUse";

function use(ball: string, games: number, advice: Advice = "clean it, no more", limit_games: number | null = 40): BallUse {
  const finishes = [
    { surface_grit: "polished" as const, on: null, games: 9, strikes: null },
    { surface_grit: 2000, on: "2026-03-14", games, strikes: null },
  ];
  return { ball, cover: "solid", games: games + 9, finishes, limit_games, by_own_records: false, last_used: null, advice, words: [] };
}

test("balls that ask for something come first", () => {
  const balls = [use("A", 3), use("B", 12), use("C", 41, "resurface"), use("D", 9, "ask whether to retire it")];
  expect(byNeed(balls).map(({ ball }) => ball)).toEqual(["D", "C", "B", "A"]);
});

test("what is said of some balls names them, what is said of all does not", () => {
  const saying = (ball: string, ...words: string[]) => ({ ...use(ball, 1), words });
  expect(adviceWords([saying("A", "clean it", "anew after 40"), saying("B", "clean it"), saying("C", "clean it", "anew after 40")])).toEqual([
    { words: "clean it", names: [] },
    { words: "anew after 40", names: ["A", "C"] },
  ]);
});

test("a finish is told by its games, of so many where it is made anew by them", () => {
  expect([wornWords(use("A", 12)), wornShare(use("A", 12))]).toEqual(["12.0 of about 40 games", 30]);
  expect([wornWords(use("A", 12, undefined, null)), wornShare(use("A", 12, undefined, null))]).toEqual(["12.0 games", null]);
  expect(wornShare(use("A", 90))).toBe(100);
  expect(use("A", 1).finishes.map(finishWords)).toEqual(["polished", "2000, since 14 March 2026"]);
});
