import { describe, expect, it } from "vitest";
import { ballsIn, frameText, gameText, isOver, possibleMarks, spread, withSplit } from "./counts";

// The example game of the world rule book (tests/reference/data/scoring.toml).
const RULE_BOOK = ["X", "X", "X", "7 2", "(8) /", "F 9", "X", "7 /", "9 -", "X X 8"];

describe("a game by counts", () => {
  it("falls into frames ball after ball, or by its commas", () => {
    expect(spread(RULE_BOOK.join(" "), 1, "traditional")).toEqual(RULE_BOOK);
    expect(spread("xxx72(8)/f9x7/9-xx8", 1, "traditional")).toEqual(RULE_BOOK);
    expect(spread(RULE_BOOK.join(", "), 1, "traditional")).toEqual(RULE_BOOK);
    expect(spread("9/ X", 9, "traditional")).toEqual(["9 /", "X"]);
  });

  it("has no fill balls where frames count alone", () => {
    expect(isOver(10, ["X"], "traditional")).toBe(false);
    expect(isOver(10, ["9", "/"], "traditional")).toBe(false);
    expect(isOver(10, ["X"], "current-frame")).toBe(true);
    expect(isOver(10, ["9", "/"], "current-frame")).toBe(true);
    expect(isOver(10, ["9", "-"], "traditional")).toBe(true);
    expect(isOver(10, ["X", "X", "8"], "traditional")).toBe(true);
  });

  it("offers only what can follow", () => {
    expect(possibleMarks(1, [], "traditional")).toEqual(["1", "2", "3", "4", "5", "6", "7", "8", "9", "X", "-", "F"]);
    expect(possibleMarks(1, ["(8)"], "traditional")).toEqual(["1", "/", "-", "F"]);
    expect(possibleMarks(1, ["F"], "traditional")).toContain("/");
    expect(possibleMarks(10, ["X", "4"], "traditional")).not.toContain("X");
    expect(possibleMarks(10, ["X", "X"], "traditional")).toContain("X");
    expect(possibleMarks(3, ["X"], "traditional")).toEqual([]);
    expect(possibleMarks(10, ["7", "/"], "traditional")).toContain("X");
  });

  it("marks a split on a first ball and takes the mark back", () => {
    expect(withSplit(["8"])).toEqual(["(8)"]);
    expect(withSplit(["(8)"])).toEqual(["8"]);
    expect(withSplit(["X", "7"])).toEqual(["X", "(7)"]);
    for (const balls of [[], ["X"], ["9"], ["-"], ["7", "2"]]) expect(withSplit(balls)).toBeNull();
  });

  it("is sent with every frame up to the last one, so that a hole is told at its place", () => {
    expect(gameText(["x", "", " 9/", "", ""])).toBe("X, , 9 /,");
    expect(gameText(["", ""])).toBe("");
    expect(frameText("7z")).toBe("7Z");
    expect(ballsIn("f9")).toEqual(["F", "9"]);
  });
});
