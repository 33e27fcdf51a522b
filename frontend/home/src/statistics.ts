/** What an event's games say, and how it is said: as in the text of `nextpair score`. */

import type { Hand } from "$shared/types";
import { boardWords, counted } from "$shared/words";

export type Interval = [low: number, high: number];

export interface Share {
  made: number;
  tried: number;
  mean_share: number | null;
  share_interval_80: Interval | null;
}

export interface MeanPins {
  count: number;
  mean_pins: number | null;
  pins_interval_80: Interval | null;
}

export interface LeftRecord {
  kind: string;
  left: number;
  spares: Share;
}

export interface LeaveRecord extends LeftRecord {
  leave: string;
  name: string | null;
}

export interface Rates {
  strikes: Share;
  pocket: Share;
  carry: Share;
  first_ball: MeanPins;
  spares: Share;
  frames_filled: Share;
  by_kind: LeftRecord[];
  by_leave: LeaveRecord[];
}

export interface Group {
  kind: string;
  name: string;
  rates: Rates;
  laydown_board: number | null;
  target_board: number | null;
}

export interface GameLuck {
  game: number;
  score: number;
  expected_score: number;
  line_pins: number | null;
  carry_pins: number | null;
  line_and_carry_pins: number | null;
  spares_pins: number;
  seen: number;
  first_balls: number;
}

export interface GameStatistics {
  hand: Hand;
  games: number;
  game_pins: MeanPins;
  all: Rates;
  groups: Group[];
  strings: { strikes: number; times: number }[];
  strike_after_strike: Share;
  strike_after_other: Share;
  notes: string[];
  luck: { games: GameLuck[]; notes: string[] } | null;
}

const ALL_TEN = "1-2-3-4-5-6-7-8-9-10";
const STRINGS: Record<number, string> = { 2: "double", 3: "turkey" };
const TIMES: Record<number, string> = { 1: "once", 2: "twice" };
const KIND_NAMES: Record<string, string> = {
  "single-pin": "Single pins",
  makeable: "Makeable leaves",
  split: "Splits",
  washout: "Washouts",
  "not told": "Kind not told",
};
/** What groups have in common, as it is chosen from a list. */
export const GROUP_NAMES: Record<string, string> = {
  game: "game",
  half: "half of the game",
  ball: "ball",
  "spare ball": "spare ball",
  pair: "pair",
  "lane side": "side of the pair",
  line: "line, lay-down to target",
};

const percents = ([low, high]: Interval) => `likely ${Math.round(100 * low)} to ${Math.round(100 * high)}\u00a0%`;

/** "7 of 9, likely 57 to 91 %". */
export function shareWords({ made, tried, share_interval_80: likely }: Share): string {
  return likely === null ? "none to count" : `${made} of ${tried}, ${percents(likely)}`;
}

/** "9.1 over 24 first balls, likely 8.8 to 9.3". */
export function meanWords(mean: MeanPins, each: string): string {
  if (mean.mean_pins === null) return "none to count";
  const said = `${mean.mean_pins.toFixed(1)} over ${counted(mean.count, each)}`;
  if (mean.pins_interval_80 === null) return `${said}, too few or too much alike to say more`;
  const [low, high] = mean.pins_interval_80;
  return `${said}, likely ${low.toFixed(1)} to ${high.toFixed(1)}`;
}

/** "5 strikes once, double twice". */
export function stringsWords(strings: GameStatistics["strings"]): string {
  const told = strings.map(({ strikes, times }) => `${STRINGS[strikes] ?? `${strikes} strikes`} ${timesWords(times)}`);
  return told.join(", ") || "no two strikes";
}

/** "left twice, made 1 of 2, likely 16 to 84 %". */
export function leftWords({ left, spares }: LeftRecord): string {
  return `left ${timesWords(left)}, ${spares.tried ? `made ${shareWords(spares)}` : "not shot at"}`;
}

/** "3-10, baby split". */
export function leaveNamed({ leave, name }: LeaveRecord): string {
  const pins = leave === ALL_TEN ? "All ten" : leave;
  return name === null ? pins : `${pins}, ${name}`;
}

/** A kind of leave, as a heading. */
export function kindNamed(kind: string): string {
  return KIND_NAMES[kind] ?? kind;
}

/** A group's name; a line by its boards, as the bowler counts them. */
export function groupNamed({ name, laydown_board: laydown, target_board: target }: Group, hand: Hand): string {
  if (laydown === null || target === null) return name;
  return `${boardWords(laydown, hand)} to ${boardWords(target, hand)}`;
}

/** Pins with their sign: "+4.1", "−8.0"; a dash for what is not known. */
export function pinsWords(pins: number | null): string {
  if (pins === null) return "–";
  return `${pins < 0 ? "−" : "+"}${Math.abs(pins).toFixed(1)}`;
}

function timesWords(times: number): string {
  return TIMES[times] ?? `${times} times`;
}
