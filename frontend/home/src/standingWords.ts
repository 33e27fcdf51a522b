/** A standing in words: chances, distances from the line, and what a game in the field's measure says. */

import type { Cut, FieldPlace, GroupOfField, Interval } from "$shared/types";
import { counted } from "$shared/words";

/** How likely, in words; the first step that a chance reaches. */
const STEPS: readonly [from: number, words: string][] = [
  [0.98, "all but sure"],
  [0.8, "very likely"],
  [0.6, "likely"],
  [0.4, "about even"],
  [0.2, "less likely than not"],
  [0.05, "unlikely, and worth bowling for"],
  [0.005, "a long shot"],
  [0, "all but out of reach"],
];

export function chanceWords(chance: number): string {
  return STEPS.find(([from]) => chance >= from)?.[1] ?? "";
}

/** "14 pins behind", "1 pin ahead", "level". */
export function aheadWords(pins: number): string {
  if (pins === 0) return "level with it";
  return `${counted(Math.abs(pins), "pin")} ${pins > 0 ? "ahead" : "behind"}`;
}

/** "+3.2" or "−3.2", with a real minus; "0" for what rounds to nothing. */
export function signed(value: number, decimals = 1): string {
  const text = Math.abs(value).toFixed(decimals);
  if (Number(text) === 0) return "0";
  return `${value > 0 ? "+" : "−"}${text}`;
}

/** Standard deviations of the field as words: "0.6 over the field". */
export function sdsWords(sds: number): string {
  const size = Math.abs(sds).toFixed(1);
  if (size === "0.0") return "on the field’s mean";
  return `${size} ${sds > 0 ? "over" : "under"} the field’s mean`;
}

/** What each game that is left must show: tenths rounded up, since less would not do. */
export function neededWords({ pins_per_game, is_possible }: Cut["needed"][number]): string {
  if (pins_per_game === null) return is_possible ? "you have it" : "out of reach";
  if (!is_possible) return "no game scores so much";
  return pins_per_game === 0 ? "you have it" : String(Math.ceil(Math.round(pins_per_game * 1000) / 100) / 10);
}

/** "1272 to 1306". */
export function spanWords([low, high]: Interval, decimals = 0): string {
  return `${low.toFixed(decimals)} to ${high.toFixed(decimals)}`;
}

const NAMES: Record<string, Record<string, string>> = {
  hand: { left: "left-handers", right: "right-handers" },
};

/** What a group is called: "left-handers", "lanes 13-14", "squad A". */
export function groupWords({ kind, name }: GroupOfField): string {
  const known = NAMES[kind]?.[name];
  if (known) return known;
  return kind === "pair" ? `lanes ${name}` : `${kind} ${name}`;
}

/** Whether an interval lies wholly on one side of nothing. */
export function isTold({ effect_interval_80: [low, high] }: GroupOfField): boolean {
  return low > 0 || high < 0;
}

const STAGES: Record<string, string> = {
  block: "another block",
  "round-robin": "round robin",
  "single-elimination": "single elimination",
  "double-elimination": "double elimination",
  "step-ladder": "step ladder",
};

export function stageWords(kind: string): string {
  return STAGES[kind] ?? kind.replaceAll("-", " ");
}

/** A final total by what is averaged in the games that are left, and how it lies to the line. */
export interface Rung {
  average: number;
  total: number;
  over: number;
}

const STEP_PINS = 10;
const MOST_RUNGS = 9;

/** Totals that can still be: every tenth pin of average, from well under the line to well over it. */
export function rungs(cut: Cut, own: FieldPlace): Rung[] {
  const line = cut.projected_line_pins;
  const left = own.games_left;
  const rung = (average: number): Rung => {
    const total = own.total + left * (average + own.handicap);
    return { average, total, over: Math.round(total - line) };
  };
  if (left === 0) return [rung(0)];
  const form = own.form_pins - own.handicap;
  const needed = (line - own.total) / left - own.handicap;
  const tens = (pins: number) => STEP_PINS * Math.round(Math.min(300, Math.max(0, pins)) / STEP_PINS);
  const [low, high] = [Math.min(form, needed), Math.max(form, needed)];
  const [first, last] = [Math.max(tens(low) - 2 * STEP_PINS, 0), Math.min(tens(high) + 2 * STEP_PINS, 300)];
  const step = STEP_PINS * Math.max(1, Math.ceil((last - first) / STEP_PINS / (MOST_RUNGS - 1)));
  const many = Math.floor((last - first) / step) + 1;
  return Array.from({ length: many }, (_, index) => rung(first + step * index));
}

/** What the picture of the line says, in a sentence or two. */
export function lineWords(cut: Cut, own: FieldPlace): string {
  const line = `The line will be about ${Math.round(cut.projected_line_pins)}, between ${spanWords(cut.projected_line_interval_80).replace("to", "and")} four times in five.`;
  if (own.games_left === 0) return `${line} You have finished on ${own.total}.`;
  const form = Math.round(own.total + own.games_left * own.form_pins);
  const games = own.games_left === 1 ? "the game" : `the ${own.games_left} games`;
  return `${line} As you are believed to bowl in ${games} that you have left, you would finish on about ${form}, ${aheadWords(form - Math.round(cut.projected_line_pins)).replace("level with it", "on the line")}.`;
}
