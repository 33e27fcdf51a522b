/** A debrief as the server tells it, and how its numbers are said. */

import type { Grit, Hand, Line } from "$shared/types";
import { ballWords, lineWords, openPercent, sentence } from "$shared/words";
import type { EventLedger } from "./money";
import type { Finding } from "./reading";

export type Part =
  | "lane_pins" | "release_pins" | "choice_pins" | "strays_pins" | "carry_pins" | "strays_and_carry_pins" | "spares_pins";

/** A game's parts in tenths: with the plan they add up to the score as they stand. */
export type Told = { planned_score: number; score: number } & Partial<Record<Part, number>>;

export interface GameAccount {
  game: number;
  pair: string;
  score: number;
  told: Told;
  ball: string;
  best_ball: string;
  best_surface_grit: Grit;
  best_line: Line;
  best_right_line: Line;
  best_score: number;
  regret_pins: number;
  words: string;
}

export interface Change {
  kind: string;
  words: string;
  ball: string | null;
  surface_grit: Grit | null;
  house: string | null;
  lane: number | null;
  pattern: string | null;
  length_ft: number | null;
  item: string | null;
  many: number;
}

export type Decision = "accepted" | "dropped" | "learned";

export interface DebriefFinding {
  key: string;
  words: string;
  evidence: string[];
  cost_pins_per_game: number | null;
  sure_probability: number;
  change: Change;
  decision: Decision | null;
  where_it_shows: string;
}

export interface LateMove {
  game: number;
  lane: number;
  evidence_frame: number;
  moved_frame: number | null;
  shots_late: number;
  cost_pins: number;
  words: string;
}

export interface Debrief {
  event: string;
  bowler: string;
  hand: Hand;
  date: string;
  house: string;
  patterns: string[];
  model_version: string;
  seed: number;
  shots: number;
  went_well: string[];
  findings: DebriefFinding[];
  games: GameAccount[];
  sums: Told;
  regret_words: string;
  lanes: { pair: string; games: number[]; findings: Finding[]; words: string }[];
  release: Finding[];
  spares: { kind: string; made: number; tried: number; words: string }[];
  late_moves: LateMove[];
  practice: { shots: number; telling_shots: number; lanes: number[]; balls: string[]; told_share: number; words: string } | null;
  field: { game: number; score: number; words: string }[];
  money: EventLedger | null;
  notes: string[];
  cautions: string[];
}

export interface KeptDebrief {
  id: string;
  made_at: string;
  stale: boolean;
  debrief: Debrief;
}

export interface Lesson {
  key: string;
  words: string;
  change: Change;
  event: string;
  date: string;
  accepted: boolean;
  done: boolean;
}

export interface Lessons {
  decided: Lesson[];
  applying: { event_id: string; lesson: Lesson }[];
}

export interface DiaryEntry {
  id: string;
  prompt: string;
  text: string;
  written_at: string;
}

export interface Diary {
  prompts: { key: string; words: string }[];
  entries: DiaryEntry[];
}

const PARTS: readonly [part: Part, name: string][] = [
  ["lane_pins", "Lane"],
  ["release_pins", "Release"],
  ["choice_pins", "Choice"],
  ["strays_pins", "Strays"],
  ["carry_pins", "Carry"],
  ["strays_and_carry_pins", "Unseen"],
  ["spares_pins", "Spares"],
];

/** The columns of the account: those parts that any of the games has. */
export function partsOf(sums: Told): readonly [part: Part, name: string][] {
  return PARTS.filter(([part]) => sums[part] !== undefined);
}

/** "About 6.4 pins a game, 93 % sure". */
export function costWords({ cost_pins_per_game, sure_probability }: DebriefFinding): string {
  const sure = `${openPercent(sure_probability)} sure`;
  return cost_pins_per_game === null ? sure : `About ${cost_pins_per_game.toFixed(1)} pins a game, ${sure}`;
}

/** The best ball and line that is known now: "Kestrel @ 2000, feet 31, ...: 209". */
export function bestWords(game: GameAccount, hand: Hand): string {
  const [left, right] = [lineWords(game.best_line, hand), lineWords(game.best_right_line, hand)];
  const lines = left === right ? left : `left lane ${left}; right lane ${right}`;
  return `${ballWords(game.best_ball, game.best_surface_grit)}, ${lines}: ${Math.round(game.best_score)}`;
}

/** Pairs by what is said of them: those with nothing of their own stand together. */
export function pairsTold(lanes: Debrief["lanes"]): Debrief["lanes"] {
  const told: Debrief["lanes"] = [];
  for (const lane of lanes) {
    const like = told.find((one) => one.words === lane.words && one.pair && one.findings.length + lane.findings.length === 0);
    if (like) told[told.indexOf(like)] = { ...like, pair: `${like.pair}, ${lane.pair}`, games: [...like.games, ...lane.games] };
    else told.push(lane);
  }
  return told;
}

/** "Lane 15 asked for a move in frame 4. About 5.2 pins." */
export function lateWords(move: LateMove): string {
  return `${sentence(move.words)} About ${move.cost_pins.toFixed(1)} pins.`;
}

/** How practice was used, and how many of its shots told something. */
export function practiceWords(told: NonNullable<Debrief["practice"]>): string {
  return `${sentence(told.words)} ${told.telling_shots} of ${told.shots} told something.`;
}

/** How long each game's bar of hindsight is, as a share of the longest; nothing where there is none. */
export function bars(games: readonly GameAccount[]): { game: GameAccount; share: number }[] {
  const most = Math.max(...games.map((game) => game.regret_pins), 0);
  return games.map((game) => ({ game, share: most > 0 ? game.regret_pins / most : 0 }));
}
