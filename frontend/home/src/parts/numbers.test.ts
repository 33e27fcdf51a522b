import { describe, expect, it } from "vitest";
import { gritWords, keptGrit, keptNumber, keptNumbers, readNumber, rounded, shownValue, typicalWords } from "./numbers";

describe("readNumber", () => {
  it.each([
    ["17.6", 17.6],
    [" 17,6 ", 17.6],
    ["-0.02", -0.02],
    ["\u22121", -1],
    [".5", 0.5],
    ["3.", 3],
    ["", undefined],
    ["   ", undefined],
    ["1,000,000", null],
    ["1,000.5", null],
    ["12 mph", null],
    ["1e3", null],
    ["NaN", null],
    ["--1", null],
  ])("reads %j as %j", (text, number) => {
    expect(readNumber(text)).toBe(number);
  });

  it("reads back every number that is shown", () => {
    for (let step = -400; step <= 400; step += 1) {
      const number = step / 8;
      expect(readNumber(shownValue(number))).toBe(number);
    }
  });
});

describe("what inputs keep", () => {
  it("keeps what cannot be read, so that nothing typed is lost", () => {
    expect(keptNumber("fast")).toBe("fast");
    expect(keptNumber("")).toBeUndefined();
  });

  it("knows polished covers", () => {
    expect(keptGrit(" Polished")).toBe("polished");
    expect(keptGrit("2000")).toBe(2000);
    expect(keptGrit("dull")).toBe("dull");
    expect(gritWords(2000)).toBe("2000 grit");
    expect(gritWords("polished")).toBe("polished");
  });

  it("reads lists with spaces, semicolons, or commas before spaces", () => {
    expect(keptNumbers("1500 800;500")).toEqual([1500, 800, 500]);
    expect(keptNumbers("1500, 800, 12,5")).toEqual([1500, 800, 12.5]);
    expect(keptNumbers("0.5 half")).toEqual([0.5, "half"]);
    expect(keptNumbers("  ")).toBeUndefined();
  });
});

describe("what is shown", () => {
  it("hides what binary fractions leave", () => {
    expect(shownValue(0.1 + 0.2)).toBe("0.3");
    expect(shownValue([9, 32])).toBe("9 32");
    expect(shownValue(null)).toBe("");
    expect(typicalWords([7.5, 32.04])).toBe("7.5 to 32");
    expect(typicalWords("polished")).toBe("polished");
    expect(rounded(4.0)).toBe("4");
    expect(rounded(2.345, 1)).toBe("2.3");
  });
});
