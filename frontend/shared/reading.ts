/**
 * Reading the lanes with no network: the draws that a pocket carries, weighed by what was logged.
 *
 * What the full reading at home does with as many draws as it likes about what was seen, this does
 * with the ones it has; it says so when they hardly reach what was seen.
 */

import { LeaveChances } from "./reading/impacts";
import { type SeenShot, judged, leftOf } from "./reading/likelihood";
import { type Move, type Stand, drawn, movesOf } from "./reading/moves";
import { type Lane, type ReadingTables, laneOf, ownPlace } from "./reading/tables";
import type { ShotPayload } from "./types";

export type { Move, MoveKind, MoveLine } from "./reading/moves";
export type { ReadingTables } from "./reading/tables";

export interface Said {
  name: string;
  words: string;
  /** Chance of what the words say. */
  sure: number;
}

export interface LaneReading {
  /** Shots that told anything. */
  used: number;
  /** Draws that still count: of as many as the pocket has before the first shot. */
  effective: number;
  says: Said[];
  moves: Move[];
  /** Empty where there is nothing to be careful about. */
  caution: string;
}

const FEW_SHOTS = 6;
const LEAST_EFFECTIVE = 20;
const BAD_SHARE = 0.34;
const NEWS = 0.75;
const LIKELY = 0.65;
const LEARNED = 0.15;
const FRAMES = 10;
const MIRRORED_BOARDS = 40;

/** What the shots logged so far say, and what to do on the next one on a lane. */
export function readAtTheLanes(
  tables: ReadingTables,
  shots: readonly ShotPayload[],
  next: { game: number; lane: number },
): LaneReading {
  const seen = inTurn(shots).map((shot) => seenOf(tables, shot));
  const telling = seen.filter((shot): shot is SeenShot => shot !== null && tells(shot));
  const { weights, bad } = weigh(tables, telling);
  const effective = effectiveOf(weights);
  const stand = standOf(tables, shots, next);
  return {
    used: telling.length,
    effective,
    says: telling.length === 0 ? [] : saysOf(tables, weights, next.lane),
    moves: stand === null ? [] : movesOf(tables, stand, drawn(weights), shareOf(tables, next.game, nextFrame(shots, next.game))),
    caution: cautionOf(telling.length, effective, bad),
  };
}

/** Weights of the draws after some shots, the largest 1, and the share of shots that were bad. */
export function weigh(tables: ReadingTables, shots: readonly SeenShot[]): { weights: Float64Array; bad: number } {
  const count = tables.draws[0]?.length ?? 0;
  const leaves = new LeaveChances(tables.left);
  const log = new Float64Array(count);
  const each = shots.map((shot) => judged(tables, leaves, shot));
  for (const one of each) one.log.forEach((value, draw) => (log[draw] = (log[draw] ?? 0) + value));
  const most = Math.max(...log);
  const weights = log.map((value) => Math.exp(value - most));
  const total = weights.reduce((sum, one) => sum + one, 0);
  const bad = each.map((one) => one.bad.reduce((sum, chance, draw) => sum + chance * (weights[draw] ?? 0), 0) / total);
  return { weights, bad: bad.filter((chance) => chance > 0.5).length / Math.max(bad.length, 1) };
}

/** A logged shot as the likelihood takes it; nothing where it is not at ten pins or has no table. */
export function seenOf(tables: ReadingTables, shot: ShotPayload): SeenShot | null {
  const lane = laneOf(tables, shot.game, shot.lane, shot.ball);
  if (lane === null || shot.foul === true || !atTenPins(shot)) return null;
  const line = stoodOn(tables, lane, shot);
  if (line === null) return null;
  const own = (board: number | undefined): number | undefined => (board === undefined ? undefined : ownBoard(tables, board));
  return {
    lane,
    number: shot.frame,
    share: shareOf(tables, shot.game, shot.frame),
    line,
    laydownMeant: shot.meant_laydown_board !== undefined,
    targetMeant: shot.meant_target_board !== undefined,
    laydown: own(shot.laydown_board),
    target: own(shot.target_board),
    breakpoint: own(shot.breakpoint_board),
    entry: own(shot.entry_board),
    speed: shot.speed_mph,
    left: leftOf(shot, tables.hand === "left"),
  };
}

function atTenPins(shot: ShotPayload): boolean {
  return shot.standing_before === null ? shot.delivery === 1 : shot.standing_before.length === 10;
}

function tells(shot: SeenShot): boolean {
  return [shot.breakpoint, shot.entry, shot.left, shot.speed].some((one) => one !== undefined);
}

/** The line that was meant with a shot, or else seen. */
function stoodOn(tables: ReadingTables, lane: Lane, shot: ShotPayload): { laydown: number; angle: number } | null {
  const laydown = shot.meant_laydown_board ?? shot.laydown_board;
  const target = shot.meant_target_board ?? shot.target_board;
  if (laydown === undefined || target === undefined) return null;
  const from = ownBoard(tables, laydown);
  return { laydown: from, angle: lane.angleOver(from, ownBoard(tables, target)) };
}

function ownBoard(tables: ReadingTables, board: number): number {
  return tables.hand === "right" ? board : MIRRORED_BOARDS - board;
}

/** How much of a game, or of practice, is over when a frame's first ball is thrown. */
function shareOf(tables: ReadingTables, game: number, frame: number): number {
  if (game === 0) return Math.min((frame - 0.5) / Math.max(tables.practice_shots, 1), 1);
  return Math.min((Math.floor((frame - 1) / 2) + 0.5) / 5, 1);
}

function nextFrame(shots: readonly ShotPayload[], game: number): number {
  const last = inTurn(shots.filter((shot) => shot.game === game)).at(-1);
  return last === undefined ? 1 : Math.min(last.frame + 1, game === 0 ? last.frame + 1 : FRAMES);
}

function inTurn(shots: readonly ShotPayload[]): ShotPayload[] {
  return [...shots].sort((one, other) => one.game - other.game || one.frame - other.frame || one.delivery - other.delivery);
}

/** Where the bowler stands: the last line on this lane, else on the pair, else the sheet's own. */
function standOf(tables: ReadingTables, shots: readonly ShotPayload[], next: { game: number; lane: number }): Stand | null {
  const before = inTurn(shots).filter((shot) => shot.game === next.game || (shot.game === 0 && next.game === 1));
  const here = before.filter((shot) => shot.lane === next.lane);
  for (const shot of [...before, ...here.filter((one) => one.game === 0), ...here.filter((one) => one.game > 0)].reverse()) {
    const lane = laneOf(tables, next.game, next.lane, shot.ball);
    const line = lane === null || !atTenPins(shot) ? null : stoodOn(tables, lane, shot);
    if (lane !== null && line !== null) return { lane, line };
  }
  const planned = tables.lanes.find((one) => one.game === next.game && one.lane === next.lane && one.planned);
  const lane = planned === undefined ? null : laneOf(tables, next.game, next.lane, planned.ball);
  return lane === null ? null : { lane, line: lane.own };
}

function effectiveOf(weights: Float64Array): number {
  const sum = weights.reduce((total, one) => total + one, 0);
  const squares = weights.reduce((total, one) => total + one * one, 0);
  return squares === 0 ? 0 : (sum * sum) / squares;
}

/** What the draws say by their weights, most certain first; what they do not say is left out. */
function saysOf(tables: ReadingTables, weights: Float64Array, lane: number): Said[] {
  const count = weights.length;
  const all = [
    ...tables.numbers.map((number, at) => ({ number, said: number.said, column: tables.draws[at] ?? [], own: false })),
    ...tables.own.map((number, at) => ({ number, said: `${number.said} of lane ${lane}`, column: tables.own_draws[at] ?? [], own: true })),
  ];
  const total = weights.reduce((sum, one) => sum + one, 0);
  const found: Said[] = [];
  for (const { number, said, column, own } of all) {
    const value = (draw: number): number => column[own ? ownPlace(lane, draw, count) : draw] ?? 0;
    const mean = weights.reduce((sum, one, draw) => sum + one * value(draw), 0) / total;
    const spread = Math.sqrt(weights.reduce((sum, one, draw) => sum + one * (value(draw) - mean) ** 2, 0) / total) / 100;
    const more = weights.reduce((sum, one, draw) => sum + (value(draw) > 0 ? one : 0), 0) / total;
    const sure = Math.max(more, 1 - more);
    if (sure < NEWS && 1 - spread < LEARNED) continue;
    const words = sure < LIKELY ? "about as planned" : more > 0.5 ? number.more : number.less;
    found.push({ name: said, words, sure });
  }
  return found.sort((one, other) => other.sure - one.sure);
}

function cautionOf(used: number, effective: number, bad: number): string {
  if (used === 0) return "No shot tells anything yet: log the board at the pins, or the pins that stand.";
  if (effective < LEAST_EFFECTIVE || bad > BAD_SHARE) {
    return "What was seen lies at the edge of what this phone carries: trust your eyes, and ask the full reading at home.";
  }
  return used < FEW_SHOTS ? `${used} shots are few: the next ones may say otherwise.` : "";
}
