import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { beforeEach, expect, test } from "vitest";
import type { Jotting, Receipt } from "$shared/types";
import { openDatabase } from "./database";
import { LogBox, rowsOf, sendAgain, takeInFile, write } from "./log";

const EVENT = "0197a6de-0000-7000-8000-00000000000e";
const note = (text: string) => ({ kind: "note" as const, payload: { about: "lane", text } });

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});

async function opened() {
  const database = await openDatabase();
  return { database, box: new LogBox(database, () => {}) };
}

test("what was written is there after the store was closed and opened", async () => {
  const { database } = await opened();
  const [row] = await write(database, EVENT, [note("one")]);
  database.close();
  const again = await openDatabase();
  expect(await rowsOf(again, EVENT)).toEqual([row]);
});

test("two tabs that write together never take one number of the device", async () => {
  const [one, other] = await Promise.all([openDatabase(), openDatabase()]);
  await Promise.all(Array.from({ length: 20 }, (_, index) => write(index % 2 ? one : other, EVENT, [note(String(index))])));
  const rows = await rowsOf(one, EVENT);
  expect(rows.map(({ jotting }) => jotting.device_seq).sort((a, b) => a - b)).toEqual(
    Array.from({ length: 20 }, (_, index) => index + 1),
  );
  expect(new Set(rows.map(({ jotting }) => jotting.device)).size).toBe(1);
});

test("of several jottings written at once all are kept or none", async () => {
  const { database } = await opened();
  const broken = { kind: "note" as const, payload: { about: () => {} } };
  await expect(write(database, EVENT, [note("fine"), broken])).rejects.toThrow();
  expect(await rowsOf(database, EVENT)).toEqual([]);
});

test("a jotting is unsent till its own id is named, and kept whatever is said of it", async () => {
  const { database, box } = await opened();
  const rows = await write(database, EVENT, [note("a"), note("b"), note("c"), note("d")]);
  const [a, b, c] = rows.map(({ id }) => id) as [string, string, string];
  await box.settle([
    { id: a, answer: "stored", seq: 1, why: "" },
    { id: b, answer: "conflict", seq: 9, why: "another one" },
    { id: c, answer: "refused", seq: null, why: "no note" },
    { id: "stranger", answer: "stored", seq: 2, why: "" },
  ]);
  const kept = (await rowsOf(database, EVENT)).sort((one, other) => one.jotting.device_seq - other.jotting.device_seq);
  expect(kept.map(({ sent, seq, why }) => [sent, seq, why])).toEqual([
    ["sent", 1, ""], ["conflict", null, "another one"], ["refused", null, "no note"], ["unsent", null, ""],
  ]);
  expect(kept.map(({ jotting }) => jotting)).toEqual(rows.map(({ jotting }) => jotting));
  expect((await box.unsent(500)).map(({ id }) => id)).toEqual([rows[3]!.id]);
  await sendAgain(database, [c]);
  expect(await box.unsent(500)).toHaveLength(2);
});

test("what others wrote is taken in once, and what is here is left as it is", async () => {
  const { database, box } = await opened();
  const [own] = await write(database, EVENT, [note("mine")]);
  const theirs: Jotting = { ...own!.jotting, id: "theirs", device: "laptop" };
  const items = [{ seq: 1, jotting: theirs }, { seq: 2, jotting: own!.jotting }];
  await box.takeIn(EVENT, items, 2);
  await box.takeIn(EVENT, items, 2);
  const rows = await rowsOf(database, EVENT);
  expect(rows).toHaveLength(2);
  expect(rows.find(({ id }) => id === own!.id)?.sent).toBe("unsent");
});

test("a file of a log is taken in once", async () => {
  const { database, box } = await opened();
  const [own] = await write(database, EVENT, [note("mine")]);
  const other = { ...own!.jotting, id: "other" };
  expect(await takeInFile(database, [own!.jotting, other])).toBe(1);
  expect(await takeInFile(database, [own!.jotting, other])).toBe(0);
  expect(await box.unsent(500)).toHaveLength(2);
});

test("what was turned away is known with who did, and taken up again as it was", async () => {
  const { database, box } = await opened();
  expect(await box.refuser()).toBe(null);
  const rows = await write(database, EVENT, [note("a"), note("b")]);
  const [a, b] = rows.map(({ id }) => id) as [string, string];
  await box.settle([
    { id: a, answer: "refused", seq: null, why: "kind: found str" },
    { id: b, answer: "conflict", seq: 9, why: "another one" },
  ]);
  expect(await box.refuser()).toBe("");
  await box.refusedBy("1.0 model");
  expect(await box.refuser()).toBe("1.0 model");
  expect((await box.unsent(500)).map(({ id }) => id)).toEqual([]);
  await box.takeUpAgain();
  expect(await box.unsent(500)).toEqual([rows[0]!.jotting]);
  expect(await box.refuser()).toBe(null);
});

test("what no program knows yet is kept as it was written", async () => {
  const { database, box } = await opened();
  const [own] = await write(database, EVENT, [note("mine")]);
  const newer = { ...own!.jotting, id: "newer", kind: "hologram" as Jotting["kind"], schema_version: 9, mood: "fine" };
  await takeInFile(database, [newer]);
  const answers: Receipt[] = [{ id: "newer", answer: "refused", seq: null, why: "kind: found str" }];
  await box.settle(answers);
  const kept = (await rowsOf(database, EVENT)).find(({ id }) => id === "newer");
  expect(kept).toMatchObject({ sent: "refused", why: "kind: found str" });
  expect(kept?.jotting).toEqual(newer);
});
