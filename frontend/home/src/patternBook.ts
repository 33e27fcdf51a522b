/** The book of patterns and the chart of conditions, as the server tells them, and their words. */

import type { Hand, PatternNumbers } from "$shared/types";
import { boardWords, counted } from "$shared/words";
import { plainName, LIBRARY_MARK, type FilmAsked } from "./parts/film";
import type { Table } from "./parts/form";
import { signed } from "./standingWords";
import { shareWords, type MeanPins, type Share } from "./statistics";

export interface BallThrown {
  ball: string;
  strikes: Share;
}

export interface LinePlayed extends BallThrown {
  laydown_board: number;
  target_board: number;
}

export interface Outing {
  event: string;
  event_id: string | null;
  date: string;
  bowler: string;
  hand: Hand;
  is_own: boolean;
  games: number;
  mean_pins: number | null;
  field_pins: number | null;
  others: number;
  balls: BallThrown[];
  lines: LinePlayed[];
}

export interface AttackNote {
  id: string;
  text: string;
  written: string;
}

export interface Relative {
  key: string;
  pattern: PatternNumbers;
  feet: number;
  grip_ft: number;
  across_boards: number;
  oil_ml: number;
  is_near: boolean;
  words: string;
  notes: AttackNote[];
  outings: Outing[];
}

export interface PatternPage {
  key: string | null;
  log: string | null;
  pattern: PatternNumbers;
  start: string;
  notes: AttackNote[];
  outings: Outing[];
  relatives: Relative[];
}

export interface Band {
  name: string;
  low: number | null;
  high: number | null;
}

export interface ChartRow {
  surface: string;
  length: Band;
  volume: Band;
  events: number;
  games: number;
  score: MeanPins;
  field_pins: MeanPins;
  balls: BallThrown[];
  lines: LinePlayed[];
  names: string[];
}

export interface ConditionChart {
  bowler: string | null;
  hand: Hand;
  rows: ChartRow[];
  words: string[];
  not_bowled: string[];
  left_out: string[];
}

/** Where a pattern's page of the book is asked for. */
export function pagePath(key: string): string {
  return `/similar?pattern=${encodeURIComponent(key)}`;
}

/** Address of a pattern's screen. */
export function patternHref(key: string): string {
  return `#/patterns/${encodeURIComponent(key)}`;
}

/** What to ask a relative's film by: its name in the library, or the document of its record. */
export function filmAsked(key: string, documents: ReadonlyMap<string, Table>): FilmAsked | null {
  if (key.startsWith(LIBRARY_MARK)) return { name: key };
  const document = documents.get(key);
  return document ? { document } : null;
}

/** "Lee Shore 39, library": where the pattern is from. */
export function fromWords({ key, pattern }: Relative): string {
  return `${plainName(pattern.name)}, ${key.startsWith(LIBRARY_MARK) ? "library" : "kept"}`;
}

/** "grip 3.8 ft, 0.8 boards across, 5.6 mL". */
export function partsWords({ grip_ft, across_boards, oil_ml }: Relative): string {
  return `grip ${grip_ft.toFixed(1)} ft, ${across_boards.toFixed(1)} boards across, ${oil_ml.toFixed(1)} mL`;
}

/** "4 games, 190.5 a game, 7.7 over the field (55 others)". */
export function outingWords({ games, mean_pins, field_pins, others }: Outing): string {
  const told = [counted(games, "game")];
  if (mean_pins !== null) told.push(`${mean_pins.toFixed(1)} a game`);
  if (field_pins !== null) {
    const side = field_pins >= 0 ? "over" : "under";
    told.push(`${Math.abs(field_pins).toFixed(1)} ${side} the field (${counted(others, "other")})`);
  }
  return told.join(", ");
}

/** "Kestrel, 24 over 17: 9 of 15, likely 43 to 75 %", by the boards of whoever played it. */
export function playedWords({ ball, laydown_board: laydown, target_board: target, strikes }: LinePlayed, hand: Hand): string {
  return `${ball}, ${boardWords(laydown, hand)} over ${boardWords(target, hand)}: ${shareWords(strikes)}`;
}

/** "under 36.5 ft", "36.5 to 41.5 ft", "41.5 ft and more". */
export function bandSpan({ low, high }: Band, unit: string): string {
  if (low === null) return `under ${high} ${unit}`;
  return high === null ? `${low} ${unit} and more` : `${low} to ${high} ${unit}`;
}

/** "likely 195.1 to 212.0"; what a single event leaves open. */
export function likelyWords({ count, mean_pins, pins_interval_80: likely }: MeanPins, isSigned = false): string {
  if (mean_pins === null) return "not known";
  if (likely === null) return count === 1 ? "one event: not settled" : "events all alike: not settled";
  const [low, high] = likely.map((end) => (isSigned ? signed(end) : end.toFixed(1)));
  return `likely ${low} to ${high}`;
}
