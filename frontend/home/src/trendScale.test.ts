import { expect, test } from "vitest";
import type { Trend } from "./season";
import { drawTrend, roundValues } from "./trendScale";

const BOX = { left: 60, right: 300, top: 10, bottom: 150 };
const point = (date: string, value: number) => ({ date, value, weight: 100, luck: 0.25, event: "" });
const TREND: Trend = {
  figure: "strikes", points: [point("2026-03-01", 0.4), point("2026-03-11", 0.5), point("2026-03-31", 0.5)], all: null, change: null,
  change_interval_80: null, line: [0.42, 0.52], words: "",
};

test("round values reach around all that is drawn, in few steps", () => {
  expect(roundValues([0.34, 0.56], [0.05, 0.1, 0.2])).toEqual([0.3, 0.4, 0.5, 0.6]);
  expect(roundValues([0.01, 0.99], [0.05, 0.1, 0.2])).toEqual([0, 0.2, 0.4, 0.6, 0.8, 1]);
  expect(roundValues([-1.3, 1.7], [0.25, 0.5, 1, 2])).toEqual([-2, -1, 0, 1, 2]);
  expect(roundValues([0.4, 0.4], [0.05])).toEqual([0.4, 0.45]);
});

test("events stand by their day, and higher values higher", () => {
  const { marks, line } = drawTrend(TREND, BOX);
  expect(marks.map(({ x }) => Math.round(x))).toEqual([60, 140, 300]);
  expect(marks[0]!.y).toBeGreaterThan(marks[1]!.y);
  expect(marks.every(({ y, low, high }) => high < y && y < low)).toBe(true);
  expect(line).toMatchObject({ x1: 60, x2: 300 });
  expect(line!.y1).toBeGreaterThan(line!.y2);
});

test("everything lies within the box", () => {
  const { marks, ticks } = drawTrend({ ...TREND, figure: "field-relative" }, BOX);
  for (const y of [...marks.flatMap(({ low, high }) => [low, high]), ...ticks.map((tick) => tick.y)]) {
    expect(y).toBeGreaterThanOrEqual(BOX.top);
    expect(y).toBeLessThanOrEqual(BOX.bottom);
  }
  expect(ticks.map(({ value }) => value)).toContain(0);
});

test("a single event stands in the middle, no event nowhere", () => {
  expect(drawTrend({ ...TREND, points: TREND.points.slice(0, 1), line: null }, BOX).marks[0]!.x).toBe(180);
  expect(drawTrend({ ...TREND, points: [] }, BOX)).toEqual({ marks: [], ticks: [], line: null });
});
