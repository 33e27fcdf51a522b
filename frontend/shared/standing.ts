/** Where the bowler stands, told with no network: the sums of `nextpair standing`, for one bowler, without
 * draws. Cases of tools/standing_cases.py hold both to each other. */

import { Race, type Contest, type Line, type Prospect } from "./standing/cut";
import { entriesOf, type Entry, type FieldFacts, type FieldScore } from "./standing/entries";
import { formOf, mean, squaresAbout, SQUAD_SD_PINS } from "./standing/form";
import { HALF_OF_80 } from "./standing/normal";

export type { FieldFacts, FieldScore } from "./standing/entries";

export const CHANCES = [0.5, 0.8, 0.95] as const;
const HIGHEST = 300;
/** Fewer have no spread worth a name. */
const LEAST_BOWLERS = 3;

/** Somebody's place so far, by pins a game; equal ones share it. */
export interface Player {
  place: number;
  name: string;
  isMe: boolean;
  games: number;
  total: number;
  a_game: number;
}

/** What holds the cut with a chance; a game of those left, as the board shows it, null with none left. */
export interface Needed {
  chance: number;
  total: number;
  pins_a_game: number | null;
  is_possible: boolean;
}

export interface Cut extends Line {
  to: number;
  /** Over as many games as the bowler has bowled; null while too few scores are known. */
  line_now_pins: number | null;
  ahead_now_pins: number | null;
  chance: number;
  needed: Needed[];
}

/** One game of the field, handicap left out. */
export interface GameOfField {
  game: number;
  bowlers: number;
  mean_pins: number;
  own_pins: number | null;
  /** Over the field's mean, in standard deviations of the field's games. */
  own_sds: number | null;
}

/** How the field scores, handicap left out, and the bowler in it. */
export interface Condition {
  bowlers: number;
  mean_pins: number;
  own_mean_pins: number | null;
  /** Over the field's mean, in standard deviations of bowlers' means. */
  own_sds: number | null;
  own_sds_interval_80: [number, number] | null;
  game_sd_pins: number;
  by_game: GameOfField[];
}

export interface Standing {
  players: Player[];
  me: Player | null;
  entries: number;
  games_left: number;
  /** Null before anybody has bowled. */
  condition: Condition | null;
  cut: Cut | null;
}

/** Where the bowler stands by the scores so far; `cut_to` null where nobody goes on. */
export function standingOf(facts: FieldFacts, scores: readonly FieldScore[], cut_to: number | null): Standing {
  const entries = entriesOf(facts, scores);
  const own = entries.find(({ isMe }) => isMe)!;
  const players = playersOf(entries);
  return {
    players,
    me: players.find(({ isMe }) => isMe) ?? null,
    entries: entries.length,
    games_left: facts.games - own.games.size,
    condition: conditionOf(entries, facts.games),
    cut: cut_to === null ? null : cutOf(facts, entries, players, cut_to),
  };
}

function playersOf(entries: readonly Entry[]): Player[] {
  const bowled = entries.filter(({ games }) => games.size > 0).map(({ name, isMe, games, total }) => ({
    name, isMe, games: games.size, total, a_game: total / games.size,
  }));
  return bowled
    .map((one) => ({ ...one, place: 1 + bowled.filter(({ a_game }) => a_game > one.a_game).length }))
    .sort((one, other) => one.place - other.place || one.name.localeCompare(other.name));
}

function cutOf(facts: FieldFacts, entries: readonly Entry[], players: readonly Player[], to: number): Cut {
  const own = entries.find(({ isMe }) => isMe)!;
  const contest = contestOf(facts, entries, to);
  const race = new Race(contest);
  const last = players[to - 1];
  const line = last ? Math.round(last.a_game * (own.games.size || facts.games)) : null;
  return {
    to,
    line_now_pins: line,
    ahead_now_pins: line !== null && own.games.size ? own.total - line : null,
    ...race.line(),
    chance: race.chance(),
    needed: CHANCES.map((chance) => neededOf(contest.me, chance, race.needed(chance))),
  };
}

/** What is believed of everybody's games to come, and how many go on. */
export function contestOf(facts: FieldFacts, entries: readonly Entry[], places: number): Contest {
  const form = formOf(entries.map(({ games, squad, average, handicap }) => ({
    pins: [...games.values()].map((score) => score.score + score.handicap),
    squad,
    average: average === null ? null : average + handicap,
  })));
  const bowled = new Set(entries.filter(({ games }) => games.size > 0).map(({ squad }) => squad));
  const field = entries.map(({ games, total, handicap, squad }, at) => ({
    total, handicap, squad,
    games_left: facts.games - games.size,
    form_pins: form.level_pins[at]!,
    form_sd_pins: form.level_sd_pins[at]!,
    shift_sd_pins: bowled.has(squad) ? SQUAD_SD_PINS : Math.hypot(SQUAD_SD_PINS, form.mean_sd_pins),
  }));
  const me = entries.findIndex(({ isMe }) => isMe);
  return {
    me: field[me]!,
    others: field.filter((_, at) => at !== me),
    places,
    game_sd_pins: form.game_sd_pins,
    squad_sd_pins: SQUAD_SD_PINS,
  };
}

function neededOf({ total: has, games_left, handicap }: Prospect, chance: number, total: number): Needed {
  if (!games_left) return { chance, total, pins_a_game: null, is_possible: total <= has };
  const pins_a_game = Math.max(0, Math.max(0, total - has) / games_left - handicap);
  return { chance, total, pins_a_game, is_possible: pins_a_game <= HIGHEST };
}

function conditionOf(entries: readonly Entry[], games: number): Condition | null {
  const bowled = entries.filter((entry) => entry.games.size > 0);
  if (!bowled.length) return null;
  const form = formOf(entries.map((entry) => ({ pins: pinsOf(entry), squad: entry.squad, average: entry.average })));
  const means = bowled.map((entry) => mean(pinsOf(entry)));
  const spread = means.length < LEAST_BOWLERS ? form.bowler_sd_pins : deviation(means);
  const me = bowled.find(({ isMe }) => isMe);
  const own_mean_pins = me ? mean(pinsOf(me)) : null;
  const own_sds = own_mean_pins === null ? null : (own_mean_pins - mean(means)) / spread;
  const error = me ? (HALF_OF_80 * form.game_sd_pins) / (Math.sqrt(me.games.size) * spread) : 0;
  return {
    bowlers: bowled.length,
    mean_pins: mean(means),
    own_mean_pins,
    own_sds,
    own_sds_interval_80: own_sds === null ? null : [own_sds - error, own_sds + error],
    game_sd_pins: form.game_sd_pins,
    by_game: Array.from({ length: games }, (_, index) => gameOf(bowled, index + 1)).filter((one) => one.bowlers > 0),
  };
}

function gameOf(bowled: readonly Entry[], game: number): GameOfField {
  const scores = bowled.flatMap(({ games }) => games.get(game)?.score ?? []);
  const own_pins = bowled.find(({ isMe }) => isMe)?.games.get(game)?.score ?? null;
  const sd = scores.length < LEAST_BOWLERS ? 0 : deviation(scores);
  return {
    game,
    bowlers: scores.length,
    mean_pins: mean(scores),
    own_pins,
    own_sds: own_pins === null || !sd ? null : (own_pins - mean(scores)) / sd,
  };
}

function pinsOf({ games }: Entry): number[] {
  return [...games.values()].map(({ score }) => score);
}

function deviation(values: readonly number[]): number {
  return Math.sqrt(squaresAbout(values, mean(values)) / (values.length - 1));
}
