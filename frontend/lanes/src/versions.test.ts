import { expect, test } from "vitest";
import { isOlder, PAGE_PROGRAM, refusedWords, versionLines } from "./versions";

const PLAN = { made_at: "2026-10-16T20:04:31+00:00", model_version: "aaaa" };

test("the page knows which program it was built for", () => {
  expect(PAGE_PROGRAM).toMatch(/^nextpair \d+\.\d+/);
});

test("page, plan and program at home are told apart", () => {
  expect(versionLines("nextpair 1.0", null, null)).toEqual(["This page is of nextpair 1.0."]);
  expect(versionLines("nextpair 1.0", PLAN, { version: "1.1", model_version: "aaaa" })).toEqual([
    "This page is of nextpair 1.0.",
    "The plan was made on 16 October 2026, 20:04 UTC with model aaaa.",
    "At home runs nextpair 1.1 with model aaaa.",
  ]);
});

test("models that differ are said to", () => {
  const lines = versionLines("nextpair 1.0", PLAN, { version: "1.1", model_version: "bbbb" });
  expect(lines).toHaveLength(4);
  expect(lines[3]).toContain("differ");
});

test("a day without a time is told as a day", () => {
  expect(versionLines("nextpair 1.0", { ...PLAN, made_at: "2026-10-16" }, null)[1]).toContain("on 16 October 2026 with");
});

test.each([
  ["0.9", "1.0", true], ["1.0", "1.0", false], ["1.10", "1.9", false], ["1.9", "1.10", true],
  ["1.0", "1.0.1", true], ["2", "1.9.9", false], ["1.2.dev3", "1.3", true], ["strange", "1.0", true], ["0.9", "nextpair 1.0", true], ["1.0", "nextpair 1.0", false],
])("%s before %s: %s", (one, other, older) => {
  expect(isOlder(one, other)).toBe(older);
});

test("a refusal says that the program at home is older, where it is", () => {
  const older = refusedWords("kind: found str", "nextpair 1.1", { version: "1.0", model_version: "aaaa" });
  expect(older).toContain("kind: found str");
  expect(older).toContain("program at home is older than this page (nextpair 1.0 there, nextpair 1.1 here)");
  for (const home of [null, { version: "1.1", model_version: "aaaa" }]) {
    const told = refusedWords("", "nextpair 1.1", home);
    expect(told).toContain("no reason told");
    expect(told).toContain("stays on this phone");
    expect(told).not.toContain("older");
  }
});
