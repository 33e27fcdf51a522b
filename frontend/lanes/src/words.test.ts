import { expect, test } from "vitest";
import { evenWords, spareChance } from "./words";

test("a spare that no rolled rack made is rare, not impossible", () => {
  expect([0, 0.004, 0.012, 0.955].map(spareChance)).toEqual(["under 1 %", "under 1 %", "1 %", "96 %"]);
});

test("paces and series stand against an even 200 a game", () => {
  expect([0, 1, -13].map(evenWords)).toEqual(["an even 200 a game", "1 pin over 200 a game", "13 pins under 200 a game"]);
});
