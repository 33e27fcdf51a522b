import { expect, test } from "vitest";
import {
  ANY, bowledWords, formOf, gamesWords, housesPath, houseWords, intervalWords, isAccepted, isLearned, visitName, visitOf, visitsWords,
  type LearnedFriction, type Visit,
} from "./houses";

const VISIT: Visit = {
  id: "v", date: "2026-06-13", pattern: "Long Tide 43", length_ft: 43, volume_ml: 26.14, games: 6, pins: 1233,
  lanes: { 13: "hooks early" }, private: true,
};

function learned(factor: number, stands: number, visits = 1): LearnedFriction {
  const said = { date: "2026-06-13", event: "", factor, interval_80: [factor, factor] as [number, number] };
  return { lane: null, stands, factor, interval_80: [factor - 0.037, factor + 0.043], visits: Array(visits).fill(said) };
}

test("only what is wanted is asked for", () => {
  expect(housesPath(ANY)).toBe("/houses");
  expect(housesPath({ ...ANY, text: " dry & cold ", surface: "wood", lanes: "12" })).toBe("/houses?text=dry+%26+cold&surface=wood&lanes=12");
  expect(housesPath({ ...ANY, lanes: "a dozen" })).toBe("/houses");
});

test("a house is told in a line", () => {
  const card = { lanes: 1, surface: "wood", surface_age_years: 9, approach: "tacky", pinfall: "string" };
  expect(houseWords(card)).toBe("1 lane, wood of 9 years, tacky approach, pins on strings");
  expect(houseWords({ ...card, surface_age_years: 1 })).toContain("wood of 1 year, ");
  expect(visitsWords({ visits: 0, last_visit: null })).toBe("no visit yet");
  expect(visitsWords({ visits: 2, last_visit: "2026-05-16" })).toBe("2 visits, last on 16 May 2026");
});

test("a visit is named by its day, and by its event where it was one", () => {
  expect(visitName({ date: "2026-05-16", event: "Harbour Light Open" })).toBe("16 May 2026, Harbour Light Open");
  expect(visitName({ date: "2026-05-16" })).toBe("16 May 2026");
});

test("a visit is told in a line, without what nobody knows", () => {
  expect(bowledWords(VISIT)).toBe("Long Tide 43, 43 ft, 26.1 mL, 6 games, 205.5 a game");
  expect(bowledWords({ id: "v", date: "2026-06-13" })).toBe("");
  expect(gamesWords(1, 204)).toBe("1 game, 204.0 a game");
});

test("a visit goes through its form and comes back as it was", () => {
  const { id, ...told } = VISIT;
  expect(formOf(VISIT)["lanes"]).toEqual([{ lane: 13, words: "hooks early" }]);
  expect(visitOf(formOf(VISIT))).toEqual(told);
  expect(id).toBe("v");
});

test("what is emptied in the form is left out", () => {
  expect(visitOf({ date: "2026-06-13", notes: "", pattern: undefined, lanes: [{}] })).toEqual({ date: "2026-06-13" });
});

test("friction is learned once a visit told of it, and accepted once the file has it", () => {
  expect(intervalWords(learned(1.037, 1))).toBe("1.00 to 1.08");
  const friction = { house: learned(1.037, 1), lanes: [] };
  expect([isLearned(friction), isAccepted(friction)]).toEqual([true, false]);
  expect(isAccepted({ house: learned(1.037, 1.037), lanes: [] })).toBe(true);
  expect(isAccepted({ house: learned(1.037, 1.037), lanes: [learned(1.02, 1)] })).toBe(false);
  expect(isLearned({ house: learned(1, 1, 0), lanes: [] })).toBe(false);
});
