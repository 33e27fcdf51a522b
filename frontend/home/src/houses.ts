/** Houses as the server tells them: at a glance, and the book of each. */

import { counted, dateWords } from "$shared/words";
import type { Table } from "./parts/form";

export interface PatternMet {
  pattern: string;
  length_ft: number | null;
  visits: number;
  games: number;
  pins: number;
}

export interface HouseCard {
  id: string;
  name: string;
  lanes: number;
  surface: string;
  surface_age_years: number;
  approach: string;
  pinfall: string;
  lane_machine: string;
  friction: number;
  visits: number;
  last_visit: string | null;
  patterns: PatternMet[];
  /** What is written of it that has words that were looked for. */
  found: string[];
}

export interface Visit {
  id: string;
  date: string;
  event?: string;
  event_id?: string;
  pattern?: string;
  length_ft?: number;
  volume_ml?: number;
  games?: number;
  pins?: number;
  played?: string;
  changed?: string;
  notes?: string;
  /** Notes by the lane\u2019s number. */
  lanes?: Record<string, string>;
  learned?: Record<string, number[]>;
  friction?: number;
  lane_friction?: Record<string, number>;
  private?: boolean;
}

export interface Page extends Visit {
  earlier: Visit[];
}

interface Factor {
  factor: number;
  interval_80: [number, number];
}

export interface FrictionSaid extends Factor {
  date: string;
  event: string;
}

export interface LearnedFriction extends Factor {
  lane: number | null;
  stands: number;
  visits: FrictionSaid[];
}

/** What a debrief found of the house. */
export interface HouseLesson {
  words: string;
  event: string;
  date: string;
}

export interface Book {
  id: string;
  revision: number;
  house: Table & { name: string };
  visits: Page[];
  patterns: PatternMet[];
  friction: { house: LearnedFriction; lanes: LearnedFriction[] };
  lessons: HouseLesson[];
}

/** What houses are looked for; empty: any. */
export interface Wanted {
  text: string;
  surface: string;
  approach: string;
  pinfall: string;
  lanes: string;
  pattern: string;
}

export const ANY: Wanted = { text: "", surface: "", approach: "", pinfall: "", lanes: "", pattern: "" };

/** Where houses that are as wanted are asked for. */
export function housesPath(wanted: Wanted): string {
  const lanes = /^\d{1,3}$/.test(wanted.lanes.trim()) ? wanted.lanes.trim() : "";
  const asked = Object.entries({ ...wanted, lanes }).filter(([, told]) => told.trim() !== "");
  const query = new URLSearchParams(asked.map(([key, told]) => [key, told.trim()]));
  return asked.length ? `/houses?${query}` : "/houses";
}

/** "24 lanes, synthetic of 9 years, tacky approach". */
export function houseWords(card: Pick<HouseCard, "lanes" | "surface" | "surface_age_years" | "approach" | "pinfall">): string {
  const strings = card.pinfall === "string" ? ", pins on strings" : "";
  return `${counted(card.lanes, "lane")}, ${card.surface} of ${counted(card.surface_age_years, "year")}, ${card.approach} approach${strings}`;
}

/** "2 visits, last on 16 May 2026". */
export function visitsWords(card: Pick<HouseCard, "visits" | "last_visit">): string {
  if (card.last_visit === null) return "no visit yet";
  return `${counted(card.visits, "visit")}, last on ${dateWords(card.last_visit)}`;
}

/** "16 May 2026, Harbour Light Open". */
export function visitName({ date, event }: Pick<Visit, "date" | "event">): string {
  return event ? `${dateWords(date)}, ${event}` : dateWords(date);
}

/** "6 games, 205.5 a game"; nothing where none was bowled. */
export function gamesWords(games = 0, pins = 0): string {
  return games ? `${counted(games, "game")}, ${(pins / games).toFixed(1)} a game` : "";
}

/** "Long Tide 43, 43 ft, 26.1 mL, 6 games, 205.5 a game". */
export function bowledWords(visit: Visit): string {
  const length = visit.length_ft === undefined ? "" : `${visit.length_ft} ft`;
  const volume = visit.volume_ml === undefined ? "" : `${visit.volume_ml.toFixed(1)} mL`;
  return [visit.pattern, length, volume, gamesWords(visit.games, visit.pins)].filter(Boolean).join(", ");
}

/** The interval of a factor: "1.00 to 1.08". */
export function intervalWords({ interval_80: [low, high] }: Pick<Factor, "interval_80">): string {
  return `${low.toFixed(2)} to ${high.toFixed(2)}`;
}

/** Whether any visit told of friction. */
export function isLearned({ house, lanes }: Book["friction"]): boolean {
  return house.visits.length > 0 || lanes.length > 0;
}

/** Whether the house\u2019s file has what was learned already. */
export function isAccepted({ house, lanes }: Book["friction"]): boolean {
  const told = [house, ...lanes].filter((one) => one.visits.length > 0);
  return told.every((one) => Math.abs(one.stands - one.factor) < 5e-4);
}

/** A visit as its form has it: notes by lane are rows. */
export function formOf({ id: _id, lanes, ...visit }: Visit): Table {
  const rows = Object.entries(lanes ?? {}).map(([lane, words]) => ({ lane: Number(lane), words }));
  return { ...visit, ...(rows.length ? { lanes: rows } : {}) };
}

/** A visit as the server takes it; what was left empty is left out. */
export function visitOf(form: Table): Table {
  const { lanes, ...told } = form;
  const rows = Array.isArray(lanes) ? (lanes as Table[]) : [];
  const noted = rows.filter((row) => row["lane"] !== undefined || row["words"] !== undefined);
  const visit = Object.fromEntries(Object.entries(told).filter(([, value]) => value !== undefined && value !== ""));
  if (noted.length === 0) return visit;
  return { ...visit, lanes: Object.fromEntries(noted.map((row) => [String(row["lane"] ?? ""), String(row["words"] ?? "")])) };
}
