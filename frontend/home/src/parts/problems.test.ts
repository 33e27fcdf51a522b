import { describe, expect, it } from "vitest";
import type { Problem } from "$shared/types";
import { fieldPath, problemWords, problemsByPath } from "./problems";

function problem(place: string, found = "nothing", allowed = "something"): Problem {
  return { file: "a.toml", place, found, allowed, words: "" };
}

describe("fieldPath", () => {
  it.each([
    ["name", "name"],
    ["scatter.speed_mph", "scatter.speed_mph"],
    ["pass 2: end_ft", "pass.1.end_ft"],
    ["lane table 3: tilt_in", "lane.2.tilt_in"],
    ["row 12: rev_rate_rpm", "rows.11.rev_rate_rpm"],
    ["earlier_squad 1: games", "earlier_squad.0.games"],
    ["money.side_pots 2: fee", "money.side_pots.1.fee"],
    ["notes 4", "notes.3"],
    ["surface_history 1: date", "surface_history.0.date"],
  ])("%j lies at %j", (place, path) => {
    expect(fieldPath(place)).toBe(path);
  });
});

describe("problemsByPath", () => {
  it("keeps the first problem of a field", () => {
    const found = problemsByPath([problem("name", "1"), problem("name", "2")], "house");
    expect(found["name"]?.found).toBe("1");
  });

  it("takes the one row of a ball for the ball", () => {
    expect(problemsByPath([problem("row 1: rg_in")], "ball")["rg_in"]).toBeDefined();
    expect(problemsByPath([problem("row 1: pair")], "squad")["rows.0.pair"]).toBeDefined();
  });
});

describe("problemWords", () => {
  it("says what is needed, what was found and what is allowed", () => {
    expect(problemWords(problem("name", "nothing", "name of the house (needed)"))).toBe(
      "Needed: name of the house.",
    );
    expect(problemWords(problem("rg_in", "3", "2.46 to 2.8 in"))).toBe(
      "Found 3. Allowed: 2.46 to 2.8 in.",
    );
    expect(problemWords(problem("rows", "nothing", "one row or more"))).toBe("One row or more.");
  });
});
