/** What balls have behind them, as a season tells it, and what their covers ask for. */

import type { Grit } from "$shared/types";
import { dateWords } from "$shared/words";
import type { Estimate } from "./season";

export type Advice = "clean it, no more" | "resurface before the next event" | "resurface" | "ask whether to retire it";

export interface Finish {
  surface_grit: Grit;
  on: string | null;
  games: number;
  strikes: Estimate | null;
}

export interface BallUse {
  ball: string;
  cover: string;
  games: number;
  finishes: Finish[];
  limit_games: number | null;
  by_own_records: boolean;
  last_used: string | null;
  advice: Advice;
  words: string[];
}

const ADVICE_ORDER: readonly Advice[] = ["ask whether to retire it", "resurface", "resurface before the next event", "clean it, no more"];

/** Balls that ask for something first, then those with most games on their finish. */
export function byNeed(balls: readonly BallUse[]): BallUse[] {
  const need = (use: BallUse) => ADVICE_ORDER.indexOf(use.advice);
  return balls.toSorted((one, other) => need(one) - need(other) || finishNow(other).games - finishNow(one).games);
}

/** What is said of balls, each with those that it is said of; no names where it is said of all. */
export function adviceWords(balls: readonly BallUse[]): { words: string; names: string[] }[] {
  const said = new Map<string, string[]>();
  for (const { ball, words } of balls) for (const one of words) said.set(one, [...(said.get(one) ?? []), ball]);
  return [...said].map(([words, names]) => ({ words, names: names.length === balls.length ? [] : names }));
}

/** What is on a ball now. */
export function finishNow({ finishes }: BallUse): Finish {
  return finishes.at(-1)!;
}

/** "2000, since 14 March 2026". */
export function finishWords({ surface_grit, on }: Finish): string {
  return on === null ? String(surface_grit) : `${surface_grit}, since ${dateWords(on)}`;
}

/** "12.4 of about 40 games", "17.2 games". */
export function wornWords(use: BallUse): string {
  const games = finishNow(use).games.toFixed(1);
  return use.limit_games === null ? `${games} games` : `${games} of about ${Math.round(use.limit_games)} games`;
}

/** How far a finish is, 0 to 100; nothing where it is not made anew by games. */
export function wornShare(use: BallUse): number | null {
  return use.limit_games === null ? null : Math.min(100, (100 * finishNow(use).games) / use.limit_games);
}
