import { expect, test } from "vitest";
import {
  byDay, changeWords, daysWords, isTold, likelyWords, luckInterval, recordOfGoal, spanWords, triesWords, valueWords,
  type Deadline, type Trend,
} from "./season";

const TREND: Trend = {
  figure: "strikes", points: [], all: null, change: 0.0259, change_interval_80: [0.0072, 0.0447], line: [0.29, 0.5], words: "",
};

test("shares are told in percent, the field in its deviations", () => {
  expect(valueWords("strikes", 0.4019)).toBe("40 %");
  expect(valueWords("field-relative", 0.5104)).toBe("+0.51\u00a0sd");
  expect(spanWords("spares", [0.6893, 0.7689])).toBe("69 to 77\u00a0%");
  expect(spanWords("field-relative", [-0.074, 0.8608])).toBe("\u22120.07 to +0.86");
});

test("an interval that knows luck alone is marked; without one nothing is said", () => {
  const found = { events: 2, mean: 0.45, interval_80: [0.38, 0.53] as [number, number], by_luck_alone: true };
  expect(likelyWords("strikes", found)).toBe("likely 38 to 53\u00a0%*");
  expect(likelyWords("strikes", { ...found, interval_80: null })).toBe("");
  expect(likelyWords("strikes", null)).toBe("");
});

test("a change is told with its interval, and only then", () => {
  expect(changeWords(TREND)).toBe("+2.6 points in 30 days, likely +0.7 to +4.5");
  const field: Trend = { ...TREND, figure: "field-relative", change: -0.1, change_interval_80: [-0.25, 0.05] };
  expect(changeWords(field)).toBe("\u22120.10 sd in 30 days, likely \u22120.25 to +0.05");
  expect(changeWords({ ...TREND, change: null, change_interval_80: null })).toBe("");
  expect([isTold(TREND), isTold(field), isTold({ ...TREND, change_interval_80: null })]).toEqual([true, false, false]);
});

test("the luck of a hundred even tries is 6.4 points to either side, four times in five", () => {
  const [low, high] = luckInterval("strikes", { date: "", event: "", value: 0.5, weight: 100, luck: 0.25 });
  expect(low).toBeCloseTo(0.5 - 0.06408, 4);
  expect(high).toBeCloseTo(0.5 + 0.06408, 4);
  expect(luckInterval("spares", { date: "", event: "", value: 0.98, weight: 10, luck: 0.05 })[1]).toBe(1);
  expect(luckInterval("field-relative", { date: "", event: "", value: 1, weight: 4, luck: 4 })[1]).toBeCloseTo(2.2816, 3);
});

test("what was tried is counted by its name", () => {
  expect(triesWords("strikes", 67)).toBe("67 first balls");
  expect(triesWords("spares", 49)).toBe("49 tries");
  expect(triesWords("spares", 1)).toBe("1 try");
  expect(triesWords("field-relative", 6)).toBe("6 games");
});

test("what is due stands by its day", () => {
  const due = (day: string, days_left: number): Deadline => ({ due: "entry", day, days_left, event: "", key: "", words: "" });
  const all = [due("2026-12-12", 14), due("2026-11-27", -1), due("2026-11-28", 0)];
  expect(byDay(all).map(daysWords)).toEqual(["1 day ago", "today", "in 14 days"]);
});

test("a goal finds its record as long as it says the same", () => {
  const goal = { name: "More strikes", measure: "strikes", target: 45, first_day: "2026-01-01", last_day: "2026-12-31" };
  const record = { id: "g", kind: "goal" as const, name: goal.name, revision: 1, saved_at: "", deleted: false, links: [], document: { ...goal } };
  expect(recordOfGoal(goal, [record])?.id).toBe("g");
  expect(recordOfGoal({ ...goal, target: 46 }, [record])).toBeUndefined();
});
