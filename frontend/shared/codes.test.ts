import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { deflateSync, Inflate, strToU8 } from "fflate";
import { expect, test, vi } from "vitest";
import { base45, CodeReader, codesOf, crc32, LARGEST_LOG_BYTES } from "./codes";
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

/** Codes of no jotting whose rest is this text, deflated. */
function codesHolding(rest: string): string[] {
  const bytes = Uint8Array.from([0, 0, ...deflateSync(strToU8(rest), { level: 9 })]);
  const set = crc32(bytes).toString(16).toUpperCase().padStart(8, "0");
  const parts = Math.ceil(bytes.length / 700);
  return Array.from(
    { length: parts },
    (_, part) => `NP1:${set}:${part + 1}:${parts}:${base45(bytes.subarray(part * 700, (part + 1) * 700))}:`,
  );
}

function restOf(bytes: number): string {
  const rest = JSON.stringify({ event: EVENT, devices: [], keys: [], rows: [], odd: {} });
  return rest + " ".repeat(bytes - rest.length);
}

test("what unpacks to more than any log is no log, and is not unpacked to its end", () => {
  expect(readBack(codesHolding(restOf(LARGEST_LOG_BYTES)))).toEqual({ jottings: [] });
  expect(() => readBack(codesHolding(restOf(LARGEST_LOG_BYTES + 1)))).toThrow("more than any log");
  const bomb = codesHolding(" ".repeat(64_000_000)); // 62 kB of codes
  const push = vi.spyOn(Inflate.prototype, "push");
  expect(() => readBack(bomb)).toThrow("more than any log");
  const read = push.mock.calls.reduce((sum, [piece]) => sum + piece.length, 0);
  push.mockRestore();
  expect(read).toBeLessThan(6_000); // each byte makes 1,032 at most: zlib's technical details
});

test("a log that is cut short is refused", () => {
  const bytes = Uint8Array.from([0, 0, ...deflateSync(strToU8(restOf(3000)), { level: 0 }).subarray(0, 2000)]);
  const set = crc32(bytes).toString(16).toUpperCase().padStart(8, "0");
  expect(() => readBack([`NP1:${set}:1:1:${base45(bytes)}:`])).toThrow();
});

test("a code of more parts than any log has is none of ours", () => {
  const [text] = codesOf(EVENT, logOf(3)) as [string];
  const told = (part: string, parts: string) => text.replace(":1:1:", `:${part}:${parts}:`);
  expect(new CodeReader().read(told("1", "999"))).toEqual({ have: 1, parts: 999 });
  for (const parts of ["1000", "100000", "9".repeat(400)]) expect(new CodeReader().read(told("1", parts))).toBeNull();
  expect(new CodeReader().read(told("100000", "1"))).toBeNull();
});

test("what a newer program wrote goes through codes as it is", () => {
  const [first, second] = logOf(2) as [Jotting, Jotting];
  const newer = { ...second, kind: "hologram" as Jotting["kind"], schema_version: 9, mood: "fine" };
  expect(readBack(codesOf(EVENT, [first, newer]))).toEqual({ jottings: [first, newer] });
});

test("the example that Python is held to as well", () => {
  expect(readBack(EXAMPLE.texts)).toEqual({ jottings: EXAMPLE.jottings });
});
