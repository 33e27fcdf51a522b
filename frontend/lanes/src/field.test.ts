import { expect, test } from "vitest";
import type { Standing } from "$shared/journal";
import { cutOf, playersOf } from "./field";

function score(name: string, game: number, pins: number, handicap = 0): Standing {
  return {
    root: `${name} ${game}`,
    jotting: {
      id: `${name} ${game}`, event: "event", device: "phone", device_seq: 1, kind: "score",
      payload: { name, game, score: pins, handicap }, supersedes: null, schema_version: 1, client_time: "",
    },
  };
}

const LOG = [score("Bo", 1, 190), score("Cy", 1, 180, 20), score("Di", 1, 150), score("Bo", 1, 210), score("Me", 1, 300)];
const MINE = new Map([[1, 200]]);

test("the last score jotted for a game counts, with its handicap, and mine is the log's", () => {
  expect(playersOf(LOG, "Me", MINE).map(({ name, total, place }) => [name, total, place])).toEqual([
    ["Bo", 210, 1], ["Cy", 200, 2], ["Me", 200, 2], ["Di", 150, 4],
  ]);
});

test("the cut is held by whoever has the place without me", () => {
  const players = playersOf(LOG, "Me", MINE);
  expect(cutOf(players, 2, 3)).toEqual({ place: 2, total: 200, ahead: 0, needed_a_game: 200 });
  expect(cutOf(players, 1, 3)).toMatchObject({ total: 210, ahead: -10, needed_a_game: 215 });
  expect(cutOf(players, 1, 1)).toMatchObject({ needed_a_game: null });
});

test("with too few scores nothing is said of the cut", () => {
  expect(cutOf(playersOf(LOG, "Me", MINE), 4, 3)).toBeNull();
  expect(cutOf(playersOf(LOG, "Me", new Map()), 1, 3)).toBeNull();
  expect(cutOf(playersOf(LOG, "Me", new Map([[1, 200], [2, 200]])), 1, 3)).toBeNull();
});
