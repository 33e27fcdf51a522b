/** What a reading tells, and how it is said: as in the text of `nextpair read`. */

import type { Grit, Hand, Line } from "$shared/types";
import { ballWords, lineWords, moveWords, openPercent, sentence } from "$shared/words";

export interface Estimate {
  mean: number;
  sd: number;
  /** The interval that holds it four times in five. */
  low: number;
  high: number;
}

export interface Finding {
  name: string;
  unit: string;
  words: string;
  planned: Estimate;
  found: Estimate;
  more_probability: number;
}

export interface Verdict {
  id: string;
  game: number;
  frame: number;
  delivery: number;
  lane: number;
  ball: string;
  breakpoint_miss_boards: number | null;
  entry_miss_boards: number | null;
  release_probability: number | null;
  words: string;
}

export interface MoveOption {
  kind: "stay" | "feet and target" | "speed" | "hand" | "ball";
  ball: string;
  surface_grit: Grit;
  lane: number;
  line: Line;
  feet_boards: number;
  target_boards: number;
  speed_change_mph: number;
  axis_rotation_change_deg: number;
  expected_pins_per_game: number;
  gain_pins_per_game: number;
  bad_case_gain_pins_per_game: number;
  better_probability: number;
  why: string[];
}

export interface UsualMove {
  miss: string;
  name: string;
  feet_boards: number;
  target_boards: number;
  words: string;
  differs: string;
}

export interface LaneMoves {
  lane: number;
  game: number;
  options: MoveOption[];
  usual: UsualMove | null;
  would_change: string;
}

export interface Read {
  hand: Hand;
  bowler: string;
  shots: number;
  last_game: number;
  last_frame: number;
  next_game: number;
  findings: Finding[];
  ties: { first: string; second: string; correlation: number; words: string }[];
  verdicts: Verdict[];
  moves: LaneMoves[];
  for_files: { file: string; key: string; stands: number; learned: number }[];
  cautions: string[];
}

/** The limits of domain/belief.py: held to them by a test. */
export const LIKELY_PROBABILITY = 0.65;
export const NEWS_PROBABILITY = 0.75;
export const LEARNED_SHARE = 0.15;
const FINE_SD = 1.5;

/** How much of the spread before the shots is gone. */
export function learnedShare({ planned, found }: Finding): number {
  return 1 - found.sd / planned.sd;
}

function sureProbability({ more_probability: more }: Finding): number {
  return Math.max(more, 1 - more);
}

/** Findings that the shots said anything of, most learned first; and the names of the others. */
export function newsOf(findings: readonly Finding[]): { told: Finding[]; untold: string[] } {
  const isNews = (finding: Finding) =>
    sureProbability(finding) >= NEWS_PROBABILITY || learnedShare(finding) >= LEARNED_SHARE;
  return {
    told: findings.filter(isNews).toSorted((one, other) => learnedShare(other) - learnedShare(one)),
    untold: findings.filter((finding) => !isNews(finding)).map((finding) => finding.name),
  };
}

/** A number of a finding, as fine as what is known of it. */
export function numberWords(number: number, finding: Finding): string {
  let digits = 0;
  for (let spread = finding.planned.sd; spread < FINE_SD && digits < 2; spread *= 10) digits += 1;
  const told = number.toFixed(digits);
  return Number(told) === 0 ? told.replace("-", "") : told;
}

/** "More friction than planned, 80 % sure". */
export function findingWords(finding: Finding): string {
  const sure = sureProbability(finding);
  const said = sentence(finding.words).replace(/\.$/, "");
  return sure >= LIKELY_PROBABILITY ? `${said}, ${openPercent(sure)} sure` : said;
}

/** "before 91 to 109, now 97 to 112 % of plan". */
export function changeWords(finding: Finding): string {
  const range = ({ low, high }: Estimate) => `${numberWords(low, finding)} to ${numberWords(high, finding)}`;
  return `before ${range(finding.planned)}, now ${range(finding.found)} ${finding.unit}`;
}

/** What to do: "Stay: feet 31, ...", or "Feet 2 left, target 1 left: feet 31, ...". */
export function optionWords(option: MoveOption, hand: Hand): string {
  const line = lineWords(option.line, hand);
  if (option.kind === "stay") return `Stay: ${line}`;
  const said: string[] = [];
  if (option.kind === "ball") said.push(ballWords(option.ball, option.surface_grit));
  if (option.speed_change_mph) said.push(`${signed(option.speed_change_mph, 1)} mph`);
  if (option.axis_rotation_change_deg) said.push(`${signed(option.axis_rotation_change_deg, 0)} degrees of axis rotation`);
  if (option.feet_boards || option.target_boards) said.push(boardsWords(option, hand));
  return `${sentence(said.join(", ")).replace(/\.$/, "")}: ${line}`;
}

/** "200 pins a game, +4.2 over staying (92 % sure; worst tenth -0.8)". */
export function gainWords(option: MoveOption): string {
  const worth = `${option.expected_pins_per_game.toFixed(0)} pins a game`;
  if (option.kind === "stay") return worth;
  const gain = `${signed(option.gain_pins_per_game, 1)} over staying`;
  return `${worth}, ${gain} (${openPercent(option.better_probability)} sure; worst tenth ${signed(option.bad_case_gain_pins_per_game, 1)})`;
}

/** The trade's move after a miss, and how it differs from the computed one. */
export function usualWords(usual: UsualMove, hand: Hand): string {
  const does =
    usual.feet_boards || usual.target_boards
      ? `moves ${usual.name}: ${boardsWords(usual, hand)}`
      : "stays";
  return `After ${usual.miss} the trade ${does}. ${usual.words} ${usual.differs}`.trim();
}

function boardsWords(move: { feet_boards: number; target_boards: number }, hand: Hand): string {
  return moveWords({ ...move, ball_change: false, name: null, why: "" }, hand);
}

/** A miss by its side: "1.5 left", "on line", or "not seen". */
export function missWords(boards: number | null, hand: Hand): string {
  if (boards === null) return "not seen";
  const told = Math.abs(boards).toFixed(1);
  if (told === "0.0") return "on line";
  return `${told} ${boards > 0 === (hand === "right") ? "left" : "right"}`;
}

/** "practice, shot 2", "game 1, frame 3", with the ball of the frame where it is not the first. */
export function placeWords({ game, frame, delivery }: Pick<Verdict, "game" | "frame" | "delivery">): string {
  const later = delivery > 1 ? `, ball ${delivery}` : "";
  return game === 0 ? `practice, shot ${frame}${later}` : `game ${game}, frame ${frame}${later}`;
}

/** Where a finding's bars lie on a scale of its own, as shares of its width. */
export function barsOf({ planned, found }: Finding): Record<"before" | "now", { from: number; to: number; middle: number }> {
  const low = Math.min(planned.low, found.low);
  const high = Math.max(planned.high, found.high);
  const room = 0.04 * (high - low) || 1;
  const share = (value: number) => (value - low + room) / (high - low + 2 * room);
  const bar = ({ low: from, high: to, mean }: Estimate) => ({ from: share(from), to: share(to), middle: share(mean) });
  return { before: bar(planned), now: bar(found) };
}

/** What the shots would have stand in the files, to three digits, where that is another number. */
export function writtenDown({ for_files }: Read): Read["for_files"] {
  const short = (number: number) => Number(number.toPrecision(3));
  return for_files
    .map(({ stands, learned, ...where }) => ({ ...where, stands: short(stands), learned: short(learned) }))
    .filter(({ stands, learned }) => stands !== learned);
}

const UNITS = /_(mph|rpm|deg|boards|in)$/;

/** A key of a file in words, with its unit: "scatter.speed_mph" is "scatter: speed, mph". */
export function keyWords(key: string): string {
  return key.replace(UNITS, (_found, unit: string) => `, ${unit}`).replace(".", ": ").replaceAll("_", " ");
}

function signed(number: number, digits: number): string {
  return `${number < 0 ? "\u2212" : "+"}${Math.abs(number).toFixed(digits)}`;
}
