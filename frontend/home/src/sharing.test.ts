import { describe, expect, it } from "vitest";
import { athletesPath, readersOf, sharedPath, type Share } from "./sharing";

const share = (name: string, event: string | null): Share => ({ reader: { id: name, name }, event, since: "" });

describe("who may read an event", () => {
  it("is who was given it, and who was given all of them", () => {
    const shares = [share("Coach", "a"), share("Coach", null), share("Other", "b")];
    expect(readersOf(shares, "a")).toEqual([shares[0], shares[1]]);
    expect(readersOf(shares, "c")).toEqual([shares[1]]);
  });
});

describe("addresses", () => {
  it("hold what names them whatever is in it", () => {
    expect(sharedPath("o", "a/b")).toBe("/shared/o/events/a%2Fb");
    expect(sharedPath("o", "e", "scores")).toBe("/shared/o/events/e/scores");
    expect(athletesPath(" Ada & Bo ", 2)).toBe("/shared?search=Ada+%26+Bo&page=2");
  });
});
