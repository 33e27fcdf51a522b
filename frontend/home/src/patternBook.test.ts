import { describe, expect, it } from "vitest";
import { bandSpan, filmAsked, likelyWords, outingWords, pagePath, playedWords, type Outing } from "./patternBook";

const strikes = { made: 9, tried: 15, mean_share: 0.59, share_interval_80: [0.43, 0.75] as [number, number] };
const outing: Outing = {
  event: "Spring Open", event_id: null, date: "2026-05-02", bowler: "Maren Tolvane", hand: "right", is_own: true,
  games: 4, mean_pins: 190.5, field_pins: 7.7, others: 55, balls: [], lines: [],
};

describe("what a pattern taught", () => {
  it("tells an outing, and only what is known of it", () => {
    expect(outingWords(outing)).toBe("4 games, 190.5 a game, 7.7 over the field (55 others)");
    expect(outingWords({ ...outing, games: 1, mean_pins: null, field_pins: null })).toBe("1 game");
    expect(outingWords({ ...outing, field_pins: -3, others: 4 })).toContain("3.0 under the field (4 others)");
  });

  it("counts boards from the side of whoever played", () => {
    const line = { ball: "Kestrel", laydown_board: 16, target_board: 23, strikes };
    expect(playedWords(line, "left")).toMatch(/^Kestrel, 24 over 17: 9 of 15/);
    expect(playedWords(line, "right")).toMatch(/^Kestrel, 16 over 23: 9 of 15/);
  });

  it("asks for films by name, by document, or not at all", () => {
    const documents = new Map([["an id", { name: "Mine" }]]);
    expect(filmAsked("library: Lee Shore 39", documents)).toEqual({ name: "library: Lee Shore 39" });
    expect(filmAsked("an id", documents)).toEqual({ document: { name: "Mine" } });
    expect(filmAsked("another", documents)).toBeNull();
    expect(pagePath("library: Lee Shore 39")).toBe("/similar?pattern=library%3A%20Lee%20Shore%2039");
  });
});

describe("conditions", () => {
  it("says how far a band reaches", () => {
    expect(bandSpan({ name: "short", low: null, high: 36.5 }, "ft")).toBe("under 36.5 ft");
    expect(bandSpan({ name: "medium", low: 36.5, high: 41.5 }, "ft")).toBe("36.5 to 41.5 ft");
    expect(bandSpan({ name: "heavy", low: 25, high: null }, "mL")).toBe("25 mL and more");
  });

  it("settles nothing by one event", () => {
    expect(likelyWords({ count: 1, mean_pins: 200, pins_interval_80: null })).toBe("one event: not settled");
    expect(likelyWords({ count: 0, mean_pins: null, pins_interval_80: null })).toBe("not known");
    expect(likelyWords({ count: 3, mean_pins: 200, pins_interval_80: [195, 205.25] })).toBe("likely 195.0 to 205.3");
    expect(likelyWords({ count: 3, mean_pins: 2, pins_interval_80: [-4, 8] }, true)).toBe("likely −4.0 to +8.0");
  });
});
