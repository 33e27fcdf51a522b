import { describe, expect, it } from "vitest";
import type { KeptJotting } from "$shared/journal";
import type { Jotting, Receipt } from "$shared/types";
import { jottingsIn, nextJotting, receiptWords, shotsOf } from "./jotter";

function memory(): Pick<Storage, "getItem" | "setItem"> {
  const held = new Map<string, string>();
  return { getItem: (key) => held.get(key) ?? null, setItem: (key, value) => void held.set(key, value) };
}

function shot(id: string, game: number, frame: number, supersedes: string | null = null): Jotting {
  const payload = { game, frame, delivery: 1, lane: 13, ball: "Kelp", standing_before: null, standing_after: null };
  return { id, event: "e", device: "d", device_seq: 1, kind: "shot", payload, supersedes, schema_version: 1, client_time: "" };
}

describe("jottings made at home", () => {
  it("count from one, each with an id of its own, under one name", () => {
    const storage = memory();
    const made = [1, 2, 3].map(() => nextJotting("e", "void", {}, "x", storage));
    expect(made.map((one) => one.device_seq)).toEqual([1, 2, 3]);
    expect(new Set(made.map((one) => one.id)).size).toBe(3);
    expect(new Set(made.map((one) => one.device)).size).toBe(1);
    expect(made[0]!.supersedes).toBe("x");
  });
});

describe("shots of a log", () => {
  it("stand corrected, in the order in which they were thrown", () => {
    const jottings = [shot("b", 1, 2), shot("a", 0, 1), shot("c", 1, 1), shot("d", 1, 3, "b")];
    const log: KeptJotting[] = jottings.map((jotting, index) => ({ seq: index + 1, jotting }));
    expect(shotsOf(log).map((one) => [one.root, one.jotting.id])).toEqual([["a", "a"], ["c", "c"], ["b", "d"]]);
  });
});

describe("a log file", () => {
  it("holds jottings, as a list or under their name", () => {
    const one = shot("a", 1, 1);
    expect(jottingsIn(JSON.stringify([one]))).toEqual([one]);
    expect(jottingsIn(JSON.stringify({ app: "nextpair", log: 1, event: "e", jottings: [one] }))).toEqual([one]);
  });

  it.each(["no json", "{}", "null", '{"jottings": 3}', '[{"id": "a"}]'])("%j is none", (text) => {
    expect(() => jottingsIn(text)).toThrow(/This file/);
  });
});

it("says what became of what was sent", () => {
  const receipt = (answer: Receipt["answer"], why = ""): Receipt => ({ id: "a", answer, seq: null, why });
  expect(receiptWords([receipt("stored"), receipt("stored"), receipt("duplicate")])).toBe("2 stored, 1 here already.");
  expect(receiptWords([receipt("refused", "no lane")])).toBe("1 refused (no lane).");
  expect(receiptWords([])).toBe("There was nothing in it.");
});
