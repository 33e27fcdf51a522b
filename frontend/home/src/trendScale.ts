/** Where the points of a trend stand in its picture. */

import type { Interval } from "$shared/types";
import { luckInterval, type Figure, type Trend } from "./season";

export interface Box {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

export interface Mark {
  x: number;
  y: number;
  low: number;
  high: number;
}

export interface TrendDrawing {
  marks: Mark[];
  ticks: { y: number; value: number }[];
  line: { x1: number; y1: number; x2: number; y2: number } | null;
}

const STEPS: Record<Figure, readonly number[]> = {
  strikes: [0.05, 0.1, 0.2],
  spares: [0.05, 0.1, 0.2],
  "field-relative": [0.25, 0.5, 1, 2],
};
const MOST_STEPS = 4;
const DAY_MS = 86_400_000;

/** The round values that a scale shows: from below the lowest to above the highest. */
export function roundValues([low, high]: Interval, steps: readonly number[]): number[] {
  const count = (step: number) => Math.ceil(high / step) - Math.floor(low / step);
  const step = steps.find((one) => count(one) <= MOST_STEPS) ?? steps.at(-1)!;
  const first = Math.floor(low / step);
  const many = Math.max(count(step), 1) + 1;
  return Array.from({ length: many }, (_, index) => Number(((first + index) * step).toFixed(4)));
}

/** A trend drawn into a box: events by their day, each with what luck leaves open. */
export function drawTrend({ figure, points, line }: Trend, box: Box): TrendDrawing {
  if (points.length === 0) return { marks: [], ticks: [], line: null };
  const intervals = points.map((point) => luckInterval(figure, point));
  const ends = [...intervals.flat(), ...(line ?? []), ...(figure === "field-relative" ? [0] : [])];
  const values = roundValues([Math.min(...ends), Math.max(...ends)], STEPS[figure]);
  const [bottom, top] = [values[0]!, values.at(-1)!];
  const y = (value: number) => box.bottom - ((box.bottom - box.top) * (value - bottom)) / (top - bottom);
  const days = points.map((point) => Date.parse(`${point.date}T00:00:00Z`) / DAY_MS);
  const [first, last] = [Math.min(...days), Math.max(...days)];
  const x = (day: number) => (first === last ? (box.left + box.right) / 2 : box.left + ((box.right - box.left) * (day - first)) / (last - first));
  return {
    marks: points.map(({ value }, at) => ({ x: x(days[at]!), y: y(value), low: y(intervals[at]![0]), high: y(intervals[at]![1]) })),
    ticks: values.map((value) => ({ y: y(value), value })),
    line: line && { x1: x(first), y1: y(line[0]), x2: x(last), y2: y(line[1]) },
  };
}
