import { describe, expect, it } from "vitest";
import { differences, words } from "./versions";

describe("differences", () => {
  it("tells what differs and nothing else", () => {
    const mine = { name: "Kelp", lanes: 12, scatter: { speed_mph: 0.4 } };
    const theirs = { name: "Kelp", lanes: 14, notes: ["slow", "cold"] };
    expect(differences(mine, theirs)).toEqual([
      { key: "lanes", mine: "12", theirs: "14" },
      { key: "scatter", mine: "speed mph 0.4", theirs: "left out" },
      { key: "notes", mine: "left out", theirs: "slow; cold" },
    ]);
    expect(words("surface_age_years")).toBe("surface age years");
  });
});
