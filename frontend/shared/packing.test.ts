import { expect, it } from "vitest";
import type { Standing } from "./journal";
import { caseWords, headings, known, missingNotes, notesOf, packed } from "./packing";
import type { Jotting, JottingKind } from "./types";

const item = (name: string, group: string) => ({ item: name, many: 1, why: "Needed.", group });

function stands(id: string, kind: JottingKind, payload: Record<string, unknown>): Standing {
  const jotting: Jotting = {
    id, event: "event", device: "phone", device_seq: 1, kind, payload, supersedes: null, schema_version: 1, client_time: "",
  };
  return { root: id, jotting };
}

it("puts what was missing first and keeps the order of groups", () => {
  const items = [item("Towel", "covers"), item("Tape", "grip"), item("Pad", "covers")];
  const told = headings(items, ["Tape"]).map(({ title, items: same }) => [title, same.map((one) => one.item)]);
  expect(told).toEqual([["missing last time", ["Tape"]], ["covers", ["Towel", "Pad"]]]);
  expect(headings(items, []).map(({ title }) => title)).toEqual(["covers", "grip"]);
});

it("takes the last tick of a thing", () => {
  const ticks = [["Towel", true], ["Tape", true], ["Towel", false]].map(([name, done], index) => stands(String(index), "tick", { item: name, done }));
  expect([...packed(ticks)]).toEqual(["Tape"]);
});

it("knows notes about what was missing from others", () => {
  const notes = [stands("a", "note", { about: "missing", text: "Tape" }), stands("b", "note", { about: "diary", text: "Fine" })];
  expect([...missingNotes(notes)]).toEqual([["Tape", "a"]]);
});

it("says what a case weighs, and by how much it is too heavy", () => {
  const balls = ["Kestrel", "Saltmarsh"];
  expect(caseWords({ balls, weight_lb: 55, limit_lb: 50, over_lb: 5 })).toBe("Kestrel, Saltmarsh: 55 lb of 50 lb, 5 lb too much.");
  expect(caseWords({ balls, weight_lb: 40.04, limit_lb: 50, over_lb: 0 })).toBe("Kestrel, Saltmarsh: 40 lb of 50 lb.");
});

it("a thing is known whatever its case and spaces", () => {
  expect(known("  Rosin   BAG ")).toBe("rosin bag");
});

it("a note is of a thing however its name was written", () => {
  const notes = new Map([["Second towel", "a"], ["second  TOWEL", "b"], ["Tape", "c"]]);
  expect(notesOf(notes, "second towel")).toEqual(["a", "b"]);
  expect(notesOf(notes, "Towel")).toEqual([]);
});
