import { expect, test } from "vitest";
import { bagWords, countWords, kitWords, type OwnItem, packingPath } from "./packing";

function item(name: string, isPrivate = false): OwnItem {
  return { item: name, many: 1, why: "Needed.", group: "grip", private: isPrivate };
}

test("a kit is asked for by its name, whatever stands in it", () => {
  expect(packingPath("e", null)).toBe("/events/e/packing");
  expect(packingPath("e", "Sack & two")).toBe("/events/e/packing?kit=Sack+%26+two");
});

test("what is private is counted nowhere", () => {
  const items = [item("Tape"), item("Bevel tool"), item("Wrist band", true)];
  expect(countWords(items, new Set(["Tape", "Wrist band"]))).toBe("1 of 2");
  expect(countWords([item("Wrist band", true)], new Set())).toBe("");
});

test("a list without balls says why", () => {
  expect(bagWords("sheet")).toBe("");
  expect(bagWords("no sheet")).toMatch(/^No sheet has chosen a bag yet, so the list has no balls/);
  expect(bagWords("old sheet")).toMatch(/^The sheet is of an event that has changed/);
});

test("a kit is told in a line", () => {
  expect(kitWords({ name: "Away" })).toBe("0 lines, 0 in stock");
  expect(kitWords({ items: [{ item: "Stool" }], stock: [{}, {}], case_limit_lb: 50 })).toBe("1 line, 2 in stock, 50 lb a case");
});
