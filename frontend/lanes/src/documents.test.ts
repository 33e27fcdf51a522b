import { expect, test } from "vitest";
import { isLog, isNewer, isPocket, parsed } from "./documents";

const POCKET = { app: "nextpair", pocket: 1, event_id: "event", games: [] };
const LOG = { app: "nextpair", log: 1, event: "event", jottings: [] };

test("pockets and logs of today are known, and are none of a newer program", () => {
  expect([isPocket(POCKET), isLog(POCKET), isNewer(POCKET)]).toEqual([true, false, false]);
  expect([isPocket(LOG), isLog(LOG), isNewer(LOG)]).toEqual([false, true, false]);
});

test("what came after them is known for that, and not taken in", () => {
  for (const newer of [{ ...POCKET, pocket: 2 }, { ...LOG, log: 2 }]) {
    expect([isPocket(newer), isLog(newer), isNewer(newer)]).toEqual([false, false, true]);
  }
});

test("what is somebody else's is neither", () => {
  for (const told of [null, 7, [], "nextpair", {}, { ...POCKET, app: "other", pocket: 2 }, { app: "nextpair", pocket: "2" }]) {
    expect([isPocket(told), isLog(told), isNewer(told)]).toEqual([false, false, false]);
  }
  expect(() => parsed("<html>")).toThrow("holds no JSON");
});
