import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { expect, test } from "vitest";
import { base45, CodeReader, codesOf, crc32 } from "./codes";
import { clockOf, uuid7 } from "./ids";
import type { Jotting, ShotPayload } from "./types";

const EXAMPLE = JSON.parse(
  readFileSync(resolve(import.meta.dirname, "../../tests/log_codes_snapshot.json"), "utf-8"),
) as { event: string; jottings: Jotting[]; texts: string[] };

const EVENT = uuid7();

/** Shots as a bowler logs them: every second one a leave, arrows and hit seen on half of them. */
function logOf(count: number): Jotting[] {
  const device = uuid7();
  return Array.from({ length: count }, (_, index) => {
    const id = uuid7(1_795_000_000_000 + index * 41_000 + (index % 7) * 997);
    const left = index % 2 ? [] : [[10], [7], [3, 10], [6, 10]][index % 4]!;
    const shot: ShotPayload = {
      game: 1 + Math.floor(index / 20), frame: 1 + (Math.floor(index / 2) % 10), delivery: 1 + (index % 2), lane: 15 + (index % 2),
      ball: index % 2 ? "Plain Thimble" : "Candle Stub", surface_grit: 1000,
      meant_laydown_board: 19.06, meant_target_board: 12.79,
      ...(index % 2 ? {} : { target_board: 12 + (index % 5), entry_board: 16.5 + (index % 3) }),
      standing_before: index % 2 ? [10] : [1, 2, 3, 4, 5, 6, 7, 8, 9, 10],
      standing_after: left,
    };
    return {
      id, event: EVENT, device, device_seq: index + 1, kind: "shot", payload: { ...shot },
      supersedes: null, schema_version: 1, client_time: new Date(clockOf(id)).toISOString(),
    };
  });
}

function readBack(texts: string[]): unknown {
  const reader = new CodeReader();
  return texts.map((text) => reader.read(text)).at(-1);
}

test.each([["AB", "BB8"], ["Hello!!", "%69 VD92EX0"], ["base-45", "UJCLQE7W581"], ["ietf!", "QED8WEX0"]])(
  "%s in base 45 is %s, as RFC 9285 has it",
  (text, coded) => expect(base45(new TextEncoder().encode(text))).toBe(coded),
);

test("the checksum is that of gzip", () => {
  expect(crc32(new TextEncoder().encode("123456789"))).toBe(0xcbf43926);
});

test("sixty shots take three codes and come back as they were, in any order", () => {
  const log = logOf(60);
  const texts = codesOf(EVENT, log);
  expect(texts.length).toBeLessThanOrEqual(3);
  expect(Math.max(...texts.map((text) => text.length))).toBeLessThanOrEqual(1249); // version 20, level L
  expect(readBack([texts[1]!, texts[1]!, ...texts.toReversed()])).toEqual({ jottings: log });
});

test("corrections, other kinds and what is not of this program come back as they were", () => {
  const [first, second, third] = logOf(3) as [Jotting, Jotting, Jotting];
  const log: Jotting[] = [
    first,
    { ...second, kind: "void", payload: {}, supersedes: first.id },
    { ...third, kind: "tick", payload: { item: "Towel é", done: true }, supersedes: uuid7(), device: "another" },
    { ...third, id: "6ba7b810-9dad-41d1-80b4-00c04fd430c8", client_time: "" },
    { ...third, id: uuid7(), kind: "visit", payload: { date: "2026-06-13", lanes: { 13: "hooks early" } }, client_time: "" },
    { ...third, id: uuid7(), kind: "lesson", payload: { key: "spares", accepted: true }, client_time: "" },
  ];
  expect(readBack(codesOf(EVENT, log))).toEqual({ jottings: log });
});

test("half a set is no log, and a stranger's code none at all", () => {
  const [first] = codesOf(EVENT, logOf(60));
  const reader = new CodeReader();
  expect(reader.read(first!)).toMatchObject({ have: 1 });
  expect(reader.read("https://example.com/")).toBeNull();
});

test("codes that do not belong together are refused", () => {
  const [text] = codesOf(EVENT, logOf(3)) as [string];
  const place = text.length - 9;
  const other = text[place] === "0" ? "1" : "0";
  expect(() => new CodeReader().read(text.slice(0, place) + other + text.slice(place + 1))).toThrow();
});

test("the example that Python is held to as well", () => {
  expect(readBack(EXAMPLE.texts)).toEqual({ jottings: EXAMPLE.jottings });
});
