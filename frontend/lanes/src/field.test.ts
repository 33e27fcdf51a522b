import { expect, test } from "vitest";
import type { Standing } from "$shared/journal";
import type { Pocket } from "$shared/types";
import { factsOf, namesOf, scoresOf, writtenOf } from "./field";

function score(name: string, game: number, pins: number, more: Record<string, unknown> = {}): Standing {
  return {
    root: `${name} ${game}`,
    jotting: {
      id: `${name} ${game} ${pins}`, event: "event", device: "phone", device_seq: 1, kind: "score",
      payload: { name, game, score: pins, handicap: 0, ...more }, supersedes: null, schema_version: 1, client_time: "",
    },
  };
}

const LOG = [score("Bo", 1, 190), score("Cy", 1, 180, { handicap: 20, squad: "A", average: 176, hand: "left" }), score("Bo", 1, 210), score("Me", 1, 300), score("Me", 2, 150)];
const SQUAD = [
  { name: "Ed", pair: "15-16", hand: null }, { name: "Me", pair: "13-14", hand: null },
  { name: "Bo", pair: "13-14", hand: null }, { name: "Di", pair: "9-10", hand: null },
];
const FACTS = { games: 6, entries: 40, bowler: "Me", average: 181.6, handicap: null, squad: SQUAD };

test("the last score jotted for a game counts, with all that was told of it", () => {
  expect(writtenOf(LOG)).toEqual([
    { id: "Bo 1 210", name: "Bo", game: 1, score: 210, handicap: 0, squad: "", average: null, hand: null },
    { id: "Cy 1 180", name: "Cy", game: 1, score: 180, handicap: 20, squad: "A", average: 176, hand: "left" },
    expect.objectContaining({ name: "Me", game: 1 }),
    expect.objectContaining({ name: "Me", game: 2 }),
  ]);
});

test("my own games are the log's where it has them whole, with the handicap of the rule", () => {
  const own = (facts = FACTS as Parameters<typeof scoresOf>[1]) =>
    scoresOf(writtenOf(LOG), facts, new Map([[1, 200]])).filter(({ name }) => name === "Me").map(({ game, score, handicap }) => [game, score, handicap]);
  expect(own()).toEqual([[2, 150, 0], [1, 200, 0]]);
  const handicap = { base: 220, percent: 100, rounding: "down", most: null } as const;
  expect(own({ ...FACTS, handicap })).toEqual([[2, 150, 0], [1, 200, 39]]);
});

test("names come by who shares my pairs, the squad by pairs, and others by the alphabet", () => {
  expect(namesOf(FACTS, ["Zoe", "Bo", "Me", "Al", "Zoe"])).toEqual({ pair: ["Bo"], squad: ["Di", "Ed"], others: ["Al", "Zoe"] });
});

test("a pocket of an earlier version has no field, and says so by nothing", () => {
  const pocket = { event: { games: 5, bowler: "Me" } } as Pocket;
  expect(factsOf(pocket)).toEqual({ games: 5, entries: 1, bowler: "Me", average: null, handicap: null, squad: [] });
});
