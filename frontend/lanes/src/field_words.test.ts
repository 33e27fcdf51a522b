import { describe, expect, test } from "vitest";
import type { Condition, Cut } from "$shared/standing";
import { aheadWords, chanceWords, deviationWords, fieldWords, neededWords, stageWords } from "./field_words";
import { openPercent } from "$shared/words";

const CONDITION: Condition = {
  bowlers: 40, mean_pins: 181.2, own_mean_pins: 187.4, own_sds: 0.4, own_sds_interval_80: [-0.6, 1.4], game_sd_pins: 27,
  by_game: [
    { game: 1, bowlers: 40, mean_pins: 188, own_pins: 201, own_sds: 0.5 },
    { game: 2, bowlers: 40, mean_pins: 172.3, own_pins: 173, own_sds: 0.03 },
  ],
};

describe("a low score is read against the field", () => {
  test("under the average, and better than the others", () => {
    expect(fieldWords(CONDITION, 202)).toEqual([
      "The field is at 181 a game here; your 187 is better than it.",
      "It is 15 under your average, and the others find pins no easier to come by.",
      "Luck alone could make that difference in so few games.",
      "Game 2 looks low, but the field made 172 in it: your 173 lost nothing.",
    ]);
  });

  test("worse than the field is said as plainly", () => {
    const worse = { ...CONDITION, own_mean_pins: 160, own_sds_interval_80: [-2.2, -0.3] as [number, number], by_game: [] };
    expect(fieldWords(worse, 202)).toEqual([
      "The field is at 181 a game here; your 160 is 21 under it.",
      "That is more than the luck of so few games: you are below the middle of the field.",
    ]);
  });

  test("level, and before the first game", () => {
    expect(fieldWords({ ...CONDITION, own_mean_pins: 182 }, null)[0]).toBe("The field is at 181 a game here; your 182 is level with it.");
    expect(fieldWords({ ...CONDITION, own_mean_pins: null }, null)).toEqual(["The field is at 181 a game here."]);
  });
});

test("chances in words, and never none or sure while games are to come", () => {
  expect([0.97, 0.8, 0.7, 0.5, 0.3, 0.1, 0.01].map(chanceWords)).toEqual([
    "near sure", "likely", "more likely than not", "about even", "less likely than not", "unlikely", "next to none",
  ]);
  expect([0, 0.004, 0.123, 0.999, 1].map(openPercent)).toEqual(["under 1 %", "under 1 %", "12 %", "over 99 %", "over 99 %"]);
});

test("what is needed, and what no game gives", () => {
  const needed = { chance: 0.8, total: 1200, is_possible: true };
  expect(neededWords({ ...needed, pins_a_game: 204.2 })).toBe("205");
  expect(neededWords({ ...needed, pins_a_game: 0 })).toBe("held");
  expect(neededWords({ ...needed, pins_a_game: 310, is_possible: false })).toBe("out of reach");
  expect(neededWords({ ...needed, pins_a_game: null })).toBe("held");
  expect(neededWords({ ...needed, pins_a_game: null, is_possible: false })).toBe("missed");
});

test("where the line stands now", () => {
  const cut = { to: 20, line_now_pins: 800, ahead_now_pins: -1 } as Cut;
  expect(aheadWords(cut)).toBe("1 pin under place 20 as it stands.");
  expect(aheadWords({ ...cut, ahead_now_pins: 12 })).toBe("12 pins over place 20 as it stands.");
  expect(aheadWords({ ...cut, ahead_now_pins: 0 })).toBe("Level with place 20 as it stands.");
  expect(aheadWords({ ...cut, ahead_now_pins: null })).toBe("Place 20 is at 800.");
  expect(aheadWords({ ...cut, line_now_pins: null })).toMatch(/^Too few scores/);
});

test("stages and deviations", () => {
  expect(stageWords({ kind: "block", entrants: 20, games: 4, pins: "carried" })).toBe("20 go on to a block of 4 games, pins carried.");
  expect(stageWords({ kind: "step-ladder", entrants: 5, games: 1, pins: "reset" })).toBe("5 go on to a step ladder, from nought.");
  expect(stageWords({ kind: "single-elimination", entrants: 8, games: 2, pins: "reset" })).toBe("8 go on to single elimination, 2 games a match, from nought.");
  expect([0.84, -0.31, null].map(deviationWords)).toEqual(["+0.8", "−0.3", ""]);
});
