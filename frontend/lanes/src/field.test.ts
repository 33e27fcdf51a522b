import { expect, test } from "vitest";
import type { Standing } from "$shared/journal";
import type { Pocket } from "$shared/types";
import { entriesOf } from "$shared/standing/entries";
import { factsOf, namesOf, rescored, scoresOf, writtenOf } from "./field";

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
    { id: "Bo 1 210", name: "Bo", game: 1, score: 210, handicap: 0, squad: "", average: null, said: { name: "Bo", game: 1, score: 210, handicap: 0 } },
    { id: "Cy 1 180", name: "Cy", game: 1, score: 180, handicap: 20, squad: "A", average: 176, said: expect.objectContaining({ hand: "left" }) as unknown },
    expect.objectContaining({ name: "Me", game: 1 }),
    expect.objectContaining({ name: "Me", game: 2 }),
  ]);
});

test("my own games are the log's where it has them whole; the event's rule gives each its handicap", () => {
  const scores = scoresOf(writtenOf(LOG), FACTS, new Map([[1, 200]]));
  expect(scores.filter(({ name }) => name === "Me").map(({ game, score }) => [game, score])).toEqual([[2, 150], [1, 200]]);
  const totals = (facts: Parameters<typeof entriesOf>[0]) => entriesOf(facts, scores).filter(({ name }) => ["Me", "Cy"].includes(name)).map(({ total }) => total);
  expect(totals(FACTS)).toEqual([200, 350]);
  const handicap = { base: 220, percent: 100, rounding: "down", most: null } as const;
  expect(totals({ ...FACTS, handicap })).toEqual([200, 350 + 2 * 39]);
});

test("a score told anew keeps what was known of it, but the balls of another score", () => {
  const said = { name: "Bo", game: 1, score: 190, pair: "13-14", balls: "X" };
  expect(rescored(said, { score: 190, handicap: 8 })).toEqual({ ...said, handicap: 8 });
  expect(rescored(said, { score: 191 })).toEqual({ name: "Bo", game: 1, score: 191, pair: "13-14" });
});

test("names come by who shares my pairs, the squad by pairs, and others by the alphabet", () => {
  expect(namesOf(FACTS, ["Zoe", "Bo", "Me", "Al", "Zoe"])).toEqual({ pair: ["Bo"], squad: ["Di", "Ed"], others: ["Al", "Zoe"] });
});

test("a pocket of an earlier version has no field, and says so by nothing", () => {
  const pocket = { event: { games: 5, bowler: "Me" } } as Pocket;
  expect(factsOf(pocket)).toEqual({ games: 5, entries: 1, bowler: "Me", average: null, handicap: null, squad: [] });
});
