/** A season as the server tells it, and how its figures are said: as in the text of `nextpair season`. */

import type { Interval, Kept } from "$shared/types";
import { counted, percent } from "$shared/words";
import type { BallUse } from "./ballUse";
import type { Table } from "./parts/form";
import { signed } from "./standingWords";

export type Figure = "strikes" | "spares" | "field-relative";

/** One event's value: its tries or games are its weight, `luck` is the variance of one of them. */
export interface Point {
  date: string;
  value: number;
  weight: number;
  luck: number;
  event: string;
}

export interface Estimate {
  events: number;
  mean: number;
  interval_80: Interval | null;
  by_luck_alone: boolean;
}

export interface Trend {
  figure: Figure;
  points: Point[];
  all: Estimate | null;
  change: number | null;
  change_interval_80: Interval | null;
  line: [first: number, last: number] | null;
  words: string;
}

export interface SeasonGroup {
  kind: string;
  name: string;
  events: number;
  games: number;
  strikes: Estimate | null;
  spares: Estimate | null;
  field_relative: Estimate | null;
}

export interface Deadline {
  due: "entry" | "resurfacing" | "packing" | "event";
  day: string;
  days_left: number;
  event: string;
  key: string;
  words: string;
}

export interface Goal {
  name: string;
  measure: string;
  target: number;
  first_day: string;
  last_day: string;
}

export interface GoalProgress {
  goal: Goal;
  events: number;
  events_to_come: number;
  value: number | null;
  interval_80: Interval | null;
  chance: number | null;
  is_over: boolean;
  words: string;
}

export interface Season {
  today: string;
  events: number;
  games: number;
  trends: Trend[];
  groups: SeasonGroup[];
  balls: BallUse[];
  deadlines: Deadline[];
  goals: GoalProgress[];
  notes: string[];
  left_out: string[];
}

export const FIGURE_NAMES: Record<Figure, string> = {
  strikes: "Strikes",
  spares: "Spares",
  "field-relative": "Beside the field",
};

export const GROUP_KINDS: Record<string, string> = {
  length: "Pattern length",
  surface: "Lanes",
  house: "House",
  ball: "Ball",
};

/** What is tried once for each part of a point's weight. */
const TRIES: Record<Figure, string> = { strikes: "first ball", spares: "try", "field-relative": "game" };
const Z_80 = 1.2816;

/** "43 %", or "+0.42 sd". */
export function valueWords(figure: Figure, value: number): string {
  return figure === "field-relative" ? `${signed(value, 2)}\u00a0sd` : percent(value);
}

/** "40 to 46 %", "+0.10 to +0.74". */
export function spanWords(figure: Figure, [low, high]: Interval): string {
  if (figure === "field-relative") return `${signed(low, 2)} to ${signed(high, 2)}`;
  return `${Math.round(100 * low)} to ${Math.round(100 * high)}\u00a0%`;
}

/** "likely 40 to 46 %", with a mark where it knows the luck of single balls alone. */
export function likelyWords(figure: Figure, found: Estimate | null): string {
  if (found?.interval_80 == null) return "";
  return `likely ${spanWords(figure, found.interval_80)}${found.by_luck_alone ? "*" : ""}`;
}

/** "+2.6 points in 30 days, likely +0.7 to +4.5"; nothing where no change can be told. */
export function changeWords({ figure, change, change_interval_80: likely }: Trend): string {
  if (change === null || likely === null) return "";
  const [scale, decimals, unit] = figure === "field-relative" ? [1, 2, "sd"] : [100, 1, "points"];
  const [told, low, high] = [change, ...likely].map((value) => signed(scale * value, decimals));
  return `${told} ${unit} in 30 days, likely ${low} to ${high}`;
}

/** Whether the interval of the change lies wholly on one side of nothing. */
export function isTold({ change_interval_80: likely }: Trend): boolean {
  return likely !== null && (likely[0] > 0 || likely[1] < 0);
}

/** What the luck of the tries alone leaves open of one event's value, four times in five. */
export function luckInterval(figure: Figure, { value, weight, luck }: Point): Interval {
  const half = Z_80 * Math.sqrt(luck / weight);
  if (figure === "field-relative") return [value - half, value + half];
  return [Math.max(0, value - half), Math.min(1, value + half)];
}

/** "67 first balls". */
export function triesWords(figure: Figure, weight: number): string {
  return TRIES[figure] === "try" && weight !== 1 ? `${weight} tries` : counted(weight, TRIES[figure]);
}

/** "today", "in 3 days", "2 days ago". */
export function daysWords({ days_left: days }: Deadline): string {
  if (days === 0) return "today";
  return days > 0 ? `in ${counted(days, "day")}` : `${counted(-days, "day")} ago`;
}

/** What is due, in order of its days; the server's order within one. */
export function byDay(deadlines: readonly Deadline[]): Deadline[] {
  return deadlines.toSorted((one, other) => one.day.localeCompare(other.day));
}

/** The kept record of a goal that the season tells of; none where it was changed since. */
export function recordOfGoal(goal: Goal, records: readonly Kept<Table>[]): Kept<Table> | undefined {
  const keys = ["name", "measure", "target", "first_day", "last_day"] as const;
  return records.find(({ document }) => keys.every((key) => document[key] === goal[key]));
}
