import { describe, expect, it } from "vitest";
import type { Cut, FieldPlace } from "$shared/types";
import { aheadWords, chanceWords, groupWords, isTold, lineWords, rungs, sdsWords, signed } from "./standingWords";

const CUT: Cut = {
  to: 20, line_now_pins: 843, ahead_now_pins: -13, projected_line_pins: 1286, projected_line_interval_80: [1272, 1306],
  chance: 0.3, needed: [],
};
const OWN: FieldPlace = {
  place: 30, name: "Ada Quill", squad: "B", games: [200, 210, 205, 215], handicap: 8, total: 862, games_left: 2,
  form_pins: 212, cut_chance: 0.3,
};

describe("a standing in words", () => {
  it("says chances without false comfort", () => {
    expect(chanceWords(1)).toBe("all but sure");
    expect(chanceWords(0.5)).toBe("about even");
    expect(chanceWords(0.1)).toMatch(/worth bowling for/);
    expect(chanceWords(0)).toBe("all but out of reach");
  });

  it("says distances with their side", () => {
    expect([aheadWords(1), aheadWords(-14), aheadWords(0)]).toEqual(["1 pin ahead", "14 pins behind", "level with it"]);
    expect([signed(2.04), signed(-3.26), signed(-0.01)]).toEqual(["+2.0", "−3.3", "0"]);
    expect([sdsWords(-0.62), sdsWords(1.2), sdsWords(0.01)]).toEqual([
      "0.6 under the field’s mean", "1.2 over the field’s mean", "on the field’s mean",
    ]);
  });

  it("names groups as a bowler does, and tells which differ for sure", () => {
    const group = { kind: "hand", name: "left", bowlers: 9, games: 40, effect_pins: 6, effect_interval_80: [1, 11] as [number, number] };
    expect(groupWords(group)).toBe("left-handers");
    expect(groupWords({ ...group, kind: "pair", name: "13-14" })).toBe("lanes 13-14");
    expect(groupWords({ ...group, kind: "squad", name: "B" })).toBe("squad B");
    expect(isTold(group)).toBe(true);
    expect(isTold({ ...group, effect_interval_80: [-1, 11] })).toBe(false);
  });

  it("has totals by average, handicap added once a game, on both sides of the line", () => {
    const told = rungs(CUT, OWN);
    for (const { average, total, over } of told) {
      expect(total).toBe(862 + 2 * (average + 8));
      expect(over).toBe(total - 1286);
    }
    expect(told[0]!.over).toBeLessThan(0);
    expect(told.at(-1)!.over).toBeGreaterThan(0);
    expect(told.length).toBeLessThanOrEqual(9);
    expect(rungs({ ...CUT, projected_line_pins: 1900 }, OWN).at(-1)!.average).toBeLessThanOrEqual(300);
    expect(rungs(CUT, { ...OWN, games_left: 0 })).toEqual([{ average: 0, total: 862, over: -424 }]);
  });

  it("says the picture: four times in five, and where the form leads", () => {
    expect(lineWords(CUT, OWN)).toContain("between 1272 and 1306 four times in five");
    expect(lineWords(CUT, OWN)).toContain("about 1286, on the line");
    expect(lineWords(CUT, { ...OWN, games_left: 0 })).toContain("finished on 862");
  });
});
