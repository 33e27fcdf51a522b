/** The phone's standing against `nextpair standing`: cases written by tools/standing_cases.py. */

import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, it, test } from "vitest";
import { contestOf, standingOf, type FieldFacts, type FieldScore } from "./standing";
import { Race, type Prospect } from "./standing/cut";
import { entriesOf, handicapBy } from "./standing/entries";
import { below, NODES } from "./standing/normal";

type Row = [name: string, game: number, score: number, handicap: number, squad: string, average: number | null];

interface Case {
  name: string;
  facts: FieldFacts;
  cut_to: number;
  scores: Row[];
  told: {
    place: number | null;
    entries: number;
    form: Record<string, [number, number]>;
    condition: {
      bowlers: number; mean_pins: number; game_sd_pins: number; own_mean_pins: number | null; own_sds: number | null;
      own_sds_interval_80: [number, number] | null;
      by_game: [game: number, bowlers: number, mean: number, own: number | null, sds: number | null][];
    };
    cut: {
      line_now_pins: number | null; ahead_now_pins: number | null; projected_pins: number; interval_80_pins: [number, number];
      chance: number; needed: [chance: number, total: number, a_game: number | null, possible: boolean][];
    };
  };
}

const CASES = JSON.parse(readFileSync(resolve(import.meta.dirname, "standing_cases.json"), "utf8")) as Case[];
/** The draws' own error is a quarter of a percent and half a pin. */
const CHANCE_TOLERANCE = 0.02;
const TOTAL_TOLERANCE = 2;

function scoresOf(rows: readonly Row[]): FieldScore[] {
  return rows.map(([name, game, score, handicap, squad, average]) => ({ name, game, score, handicap, squad, average }));
}

describe.each(CASES)("$name", ({ facts, cut_to, scores, told }) => {
  const field = scoresOf(scores);
  const standing = standingOf(facts, field, cut_to);
  const { cut, condition } = standing;

  it("has the same field", () => {
    expect(standing.entries).toBe(told.entries);
    expect(standing.me?.place ?? null).toBe(told.place);
    expect(cut?.line_now_pins).toBe(told.cut.line_now_pins);
    expect(cut?.ahead_now_pins).toBe(told.cut.ahead_now_pins);
  });

  it("believes the same of everybody's form", () => {
    const entries = entriesOf(facts, field);
    const { me, others } = contestOf(facts, entries, cut_to);
    const rest = [...others];
    for (const { name, isMe } of entries) {
      const { form_pins, games_left } = isMe ? me : rest.shift()!;
      if (!name) continue;
      expect(form_pins).toBeCloseTo(told.form[name]![0], 6);
      expect(games_left).toBe(told.form[name]![1]);
    }
  });

  it("gives the cut the same chance", () => {
    expect(Math.abs(cut!.chance - told.cut.chance)).toBeLessThan(CHANCE_TOLERANCE);
  });

  it("asks for the same totals", () => {
    told.cut.needed.forEach(([chance, total, , possible], at) => {
      const needed = cut!.needed[at]!;
      expect(needed.chance).toBe(chance);
      expect(Math.abs(needed.total - total)).toBeLessThanOrEqual(TOTAL_TOLERANCE);
      expect(needed.is_possible).toBe(possible);
    });
  });

  it("sees the line at the same place", () => {
    const [low, high] = told.cut.interval_80_pins;
    expect(Math.abs(cut!.projected_pins - told.cut.projected_pins)).toBeLessThanOrEqual(TOTAL_TOLERANCE);
    expect(Math.abs(cut!.interval_80_pins[0] - low)).toBeLessThanOrEqual(TOTAL_TOLERANCE);
    expect(Math.abs(cut!.interval_80_pins[1] - high)).toBeLessThanOrEqual(TOTAL_TOLERANCE);
  });

  it("reads the field in the same numbers", () => {
    if (!condition) return expect(told.condition.bowlers).toBe(0);
    const { by_game, own_sds_interval_80, ...rest } = condition;
    const { by_game: games, own_sds_interval_80: interval, ...numbers } = told.condition;
    for (const [name, number] of Object.entries(numbers)) {
      if (number === null) expect(rest[name as keyof typeof rest]).toBeNull();
      else expect(rest[name as keyof typeof rest]).toBeCloseTo(number, 6);
    }
    expect(own_sds_interval_80 === null).toBe(interval === null);
    own_sds_interval_80?.forEach((end, at) => expect(end).toBeCloseTo(interval![at]!, 3));
    expect(by_game.map(({ game, bowlers, own_pins }) => [game, bowlers, own_pins])).toEqual(games.map(([game, bowlers, , own]) => [game, bowlers, own]));
    by_game.forEach(({ mean_pins, own_sds }, at) => {
      expect(mean_pins).toBeCloseTo(games[at]![2], 6);
      if (own_sds !== null) expect(own_sds).toBeCloseTo(games[at]![4]!, 6);
    });
  });
});

test("the cases ask for something: chances from next to none to near sure", () => {
  const chances = CASES.map(({ told }) => told.cut.chance);
  expect(chances.filter((chance) => chance > 0.05 && chance < 0.95).length).toBeGreaterThan(5);
});

function bowler(total: number, games_left: number, squad = ""): Prospect {
  return { total, games_left, squad, form_pins: 200, form_sd_pins: 8, handicap: 0 };
}

function race(me: Prospect, others: Prospect[], places: number): Race {
  return new Race({ me, others, places, game_sd_pins: 27, squad_sd_pins: 5 });
}

test("equals share the places, whatever is left to bowl", () => {
  for (const left of [1, 4]) {
    const others = Array.from({ length: 9 }, (_, at) => bowler(600, left, at % 2 ? "A" : "B"));
    expect(race(bowler(600, left, "A"), others, 4).chance()).toBeCloseTo(0.4, 2);
  }
});

test("once all is bowled a tie at the line is shared, and nothing else is in doubt", () => {
  const done = [700, 650, 600, 600, 500].map((total) => bowler(total, 0));
  expect(race(bowler(600, 0), done, 3).chance()).toBeCloseTo(1 / 3, 9);
  expect(race(bowler(651, 0), done, 2).chance()).toBe(1);
  expect(race(bowler(599, 0), done, 4).chance()).toBe(0);
  expect(race(bowler(599, 0), done, 2).needed(0.8)).toBe(651);
  expect(race(bowler(620, 0), done, 3).line()).toEqual({ projected_pins: 620, interval_80_pins: [620, 620] });
});

test("one rival with one game is the difference of two normals", () => {
  const spread = Math.sqrt(2 * (8 ** 2 + 27 ** 2));
  expect(race(bowler(620, 1), [bowler(600, 1)], 1).chance()).toBeCloseTo(below(20 / spread), 2);
});

test("more pins never make the cut less likely", () => {
  const others = Array.from({ length: 20 }, (_, at) => bowler(560 + 5 * at, 2, at % 3 ? "A" : "B"));
  const chances = Array.from({ length: 30 }, (_, at) => race(bowler(520 + 6 * at, 2, "A"), others, 6).chance());
  chances.slice(1).forEach((chance, at) => expect(chance).toBeGreaterThanOrEqual(chances[at]! - 1e-6));
});

test("the normal distribution is the published one", () => {
  for (const [x, chance] of [[0, 0.5], [1, 0.8413447], [1.959964, 0.975], [-2.575829, 0.005]] as const) {
    expect(Math.abs(below(x) - chance)).toBeLessThan(1e-6);
  }
  const moment = (power: number) => NODES.reduce((sum, { at, weight }) => sum + weight * at ** power, 0);
  expect([0, 2, 4, 6, 8].map(moment).map((one) => Math.round(1e6 * one) / 1e6)).toEqual([1, 1, 3, 15, 105]);
});

test("a handicap is the share of what an average lacks, capped", () => {
  const rule = { base: 220, percent: 90, rounding: "down", most: null } as const;
  expect(handicapBy(rule, 185)).toBe(31);
  expect(handicapBy({ ...rule, rounding: "half-up" }, 185)).toBe(32);
  expect(handicapBy({ ...rule, most: 20 }, 185)).toBe(20);
  expect(handicapBy(rule, 230)).toBe(0);
});

test("a field of 84 is told well under a tenth of a second", () => {
  const { facts, cut_to, scores } = CASES[0]!;
  const field = scoresOf(scores);
  standingOf(facts, field, cut_to);
  const began = performance.now();
  for (let round = 0; round < 5; round += 1) standingOf(facts, field, cut_to);
  expect((performance.now() - began) / 5).toBeLessThan(100);
});
