import { describe, expect, it } from "vitest";
import { groupNamed, leaveNamed, leftWords, meanWords, pinsWords, shareWords, stringsWords, type Rates } from "./statistics";

const share = (made: number, tried: number, likely: [number, number] | null = [0.569, 0.907]) =>
  ({ made, tried, mean_share: likely === null ? null : 0.75, share_interval_80: likely });

describe("what games say", () => {
  it("tells a share as a count with what it likely is", () => {
    expect(shareWords(share(7, 9))).toBe("7 of 9, likely 57 to 91\u00a0%");
    expect(shareWords(share(0, 0, null))).toBe("none to count");
  });

  it("tells a mean with its interval, or why there is none", () => {
    expect(meanWords({ count: 24, mean_pins: 9.06, pins_interval_80: [8.8, 9.32] }, "first ball")).toBe("9.1 over 24 first balls, likely 8.8 to 9.3");
    expect(meanWords({ count: 1, mean_pins: 9, pins_interval_80: null }, "first ball")).toBe("9.0 over 1 first ball, too few or too much alike to say more");
    expect(meanWords({ count: 0, mean_pins: null, pins_interval_80: null }, "first ball")).toBe("none to count");
  });

  it("names strings as the trade does", () => {
    expect(stringsWords([{ strikes: 5, times: 1 }, { strikes: 3, times: 3 }, { strikes: 2, times: 2 }])).toBe("5 strikes once, turkey 3 times, double twice");
    expect(stringsWords([])).toBe("no two strikes");
  });

  it("says of a leave how often it was left, and made where it was shot at", () => {
    const leave = { leave: "7-10", name: "bedposts", kind: "split", left: 2, spares: share(1, 2, [0.16, 0.84]) };
    expect(leaveNamed(leave)).toBe("7-10, bedposts");
    expect(leftWords(leave)).toBe("left twice, made 1 of 2, likely 16 to 84\u00a0%");
    expect(leftWords({ ...leave, left: 1, spares: share(0, 0, null) })).toBe("left once, not shot at");
    expect(leaveNamed({ ...leave, leave: "1-2-3-4-5-6-7-8-9-10", name: null })).toBe("All ten");
  });

  it("names a line by its boards, from the bowler's own side", () => {
    const line = { kind: "line", name: "line 1", rates: {} as Rates, laydown_board: 24, target_board: 15.1 };
    expect(groupNamed(line, "right")).toBe("24 to 15");
    expect(groupNamed(line, "left")).toBe("16 to 25");
    expect(groupNamed({ ...line, name: "Kestrel", laydown_board: null }, "left")).toBe("Kestrel");
  });

  it("gives pins a sign", () => {
    expect([4.06, -8, 0, null].map(pinsWords)).toEqual(["+4.1", "−8.0", "+0.0", "–"]);
  });
});
