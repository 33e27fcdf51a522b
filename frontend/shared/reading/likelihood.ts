/**
 * How likely each draw makes what was seen of a shot.
 *
 * Slips of the release are integrated out along slopes, at the release that meant and seen boards
 * suggest. One shot in twenty is taken to be bad, or badly seen, without a note of it.
 */

import type { ShotPayload } from "../types";
import { type LeaveChances, offsetOf } from "./impacts";
import { type Matrix, at, cell, dot, inverted, quadratic, set, solve } from "./matrices";
import { BOARDS_PER_DEG, type Lane, type Mark, type Place, type ReadingTables, drawsOn } from "./tables";

/** One deviation of what people see: boards at their feet, at the arrows, far away, at the pins; mph. */
const SIGHT = { laydown: 0.5, target: 0.5, breakpoint: 1, entry: 0.7, speed: 0.2 };
const UNEVEN = { breakpoint: 0.5, entry: 0.3 };
const BAD_SHARE = 0.05;
const BAD_BOARDS = 5;
const BAD_MPH = 1;
const LEAST_CHANCE = 1e-4;
const SLIPS = 5;
const FULL_RACK = 1023;
/** Slips that cannot be seen smaller than this keep every matrix sound. */
const LEAST_SLIPS = [1e-2, 1e-2, 2e-2, 1e-3, 0.06];

/** A shot as the likelihood takes it: own boards, what was not seen left out. */
export interface SeenShot {
  lane: Lane;
  number: number;
  share: number;
  line: Place;
  laydownMeant: boolean;
  targetMeant: boolean;
  laydown?: number;
  target?: number;
  breakpoint?: number;
  entry?: number;
  speed?: number;
  left?: number;
}

/** Log likelihood of a shot, draw by draw, and the chance that it was bad. */
export function judged(
  tables: ReadingTables,
  leaves: LeaveChances,
  shot: SeenShot,
): { log: Float64Array; bad: Float64Array } {
  const slips = slipCovariance(tables, shot);
  const likely = likelySlips(tables, shot, slips);
  const release = { laydown: shot.line.laydown + at(likely, 0), angle: shot.line.angle + at(likely, 1) };
  const toNumbers = slipNumbers(tables, likely);
  const rows = observations(tables, shot, release, at(likely, 2));
  const normal = spreadOf(rows, slips, 0);
  const wide = spreadOf(rows, slips, 1);
  const entry = entryRow(tables, shot, release);
  const gain = gainOf(entry, rows, slips, normal);
  const held = shot.left === undefined ? null : leavesHeld(leaves, shot, entry, rows, slips, gain);
  const draws = drawsOn(tables, shot.lane.table.lane);
  const log = new Float64Array(draws.length);
  const bad = new Float64Array(draws.length);
  const speed = tables.numbers.findIndex((number) => number.name === "speed_mps");
  draws.forEach(({ numbers, inside }, draw) => {
    const moved = [...numbers.map((value, place) => value + at(toNumbers, place)), 2 * shot.share - 1];
    const day = at(numbers, speed) * (tables.numbers[speed]?.spread ?? 0);
    const off = rows.map((row) => row.seen - row.expected(moved, day, inside) + dot(row.slopes, likely));
    let good = density(off, normal) + Math.log(1 - BAD_SHARE);
    let wrong = density(off, wide) + Math.log(BAD_SHARE);
    if (held !== null) {
      const came = entry.expected(moved, day, inside) - dot(entry.slopes, likely) + dot(gain, off);
      good += Math.log(held.chance(came));
      wrong += Math.log(held.usual);
    }
    const most = Math.max(good, wrong);
    log[draw] = most + Math.log(Math.exp(good - most) + Math.exp(wrong - most));
    bad[draw] = Math.exp(wrong - (log[draw] ?? 0));
  });
  return { log, bad };
}

/** One thing that was seen: how slips move it, what it should be under a draw, and its variances. */
interface Row {
  seen: number;
  slopes: number[];
  variance: number;
  uneven: number;
  bad: number;
  isEntry: boolean;
  expected: (numbers: readonly number[], day: number, inside: number) => number;
}

function slipCovariance(tables: ReadingTables, shot: SeenShot): Matrix {
  const { scatter } = tables;
  const own = [scatter.laydown_boards, scatter.launch_angle_deg, scatter.speed_mph, scatter.revs_share, scatter.axis_rotation_deg];
  const found = own.map((spread, one) => own.map((_, other) => (one === other ? spread ** 2 : 0)));
  const laydown = (shot.laydownMeant ? scatter.laydown_boards : SIGHT.laydown) ** 2;
  set(found, 0, 0, laydown);
  if (!shot.targetMeant) {
    set(found, 0, 1, laydown / BOARDS_PER_DEG);
    set(found, 1, 0, laydown / BOARDS_PER_DEG);
    set(found, 1, 1, (laydown + SIGHT.target ** 2) / BOARDS_PER_DEG ** 2);
  }
  LEAST_SLIPS.forEach((least, slip) => set(found, slip, slip, cell(found, slip, slip) + least ** 2));
  return found;
}

/** Slips that the readings in front suggest, by the normal rule. */
function likelySlips(tables: ReadingTables, shot: SeenShot, slips: Matrix): number[] {
  const front: { off: number; row: number[]; variance: number }[] = [];
  if (shot.laydown !== undefined && shot.laydownMeant) {
    front.push({ off: shot.laydown - shot.line.laydown, row: [1, 0, 0, 0, 0], variance: SIGHT.laydown ** 2 });
  }
  if (shot.target !== undefined && shot.targetMeant) {
    const off = shot.target - shot.lane.target(shot.line);
    front.push({ off, row: [1, -BOARDS_PER_DEG, 0, 0, 0], variance: SIGHT.target ** 2 });
  }
  if (shot.speed !== undefined) {
    front.push({ off: shot.speed - meantSpeed(tables, shot), row: [0, 0, 1, 0, 0], variance: SIGHT.speed ** 2 });
  }
  if (front.length === 0) return new Array<number>(SLIPS).fill(0);
  const spread = front.map((one, i) =>
    front.map((other, j) => quadratic(one.row, slips, other.row) + (i === j ? one.variance : 0)),
  );
  const solved = solve(spread, front.map((one) => one.off));
  return Array.from({ length: SLIPS }, (_, slip) =>
    front.reduce((sum, one, i) => sum + dot(slips[slip] ?? [], one.row) * at(solved, i), 0),
  );
}

function meantSpeed(tables: ReadingTables, shot: SeenShot): number {
  return tables.speed_mph + shot.lane.table.speed_change_mph;
}

/** Deviations of the tables' numbers that slips of speed, revs and rotation amount to. */
function slipNumbers(tables: ReadingTables, likely: readonly number[]): number[] {
  const of = new Map([["speed_mps", 2], ["revs_log", 3], ["rotation_rad", 4]]);
  return tables.numbers.map((number) => {
    const slip = of.get(number.name);
    return slip === undefined ? 0 : at(likely, slip) / number.spread;
  });
}

function observations(tables: ReadingTables, shot: SeenShot, release: Place, faster: number): Row[] {
  const rows: Row[] = [];
  const plain = { uneven: 0, bad: BAD_BOARDS ** 2, isEntry: false };
  if (shot.laydown !== undefined && shot.laydownMeant) {
    rows.push({ ...plain, seen: shot.laydown, slopes: [1, 0, 0, 0, 0], variance: SIGHT.laydown ** 2, expected: () => release.laydown });
  }
  if (shot.target !== undefined && shot.targetMeant) {
    const target = shot.lane.target(release);
    rows.push({ ...plain, seen: shot.target, slopes: [1, -BOARDS_PER_DEG, 0, 0, 0], variance: SIGHT.target ** 2, expected: () => target });
  }
  if (shot.breakpoint !== undefined) {
    const mark = shot.lane.breakpoint;
    rows.push({ ...markRow(tables, mark, release), seen: shot.breakpoint, variance: SIGHT.breakpoint ** 2, uneven: UNEVEN.breakpoint ** 2 + mark.missed ** 2 });
  }
  if (shot.entry !== undefined) rows.push({ ...entryRow(tables, shot, release), seen: shot.entry });
  if (shot.speed !== undefined) {
    const thrown = meantSpeed(tables, shot) + faster;
    rows.push({ ...plain, seen: shot.speed, slopes: [0, 0, 1, 0, 0], variance: SIGHT.speed ** 2, bad: BAD_MPH ** 2, expected: (_, day) => thrown + day });
  }
  return rows;
}

function entryRow(tables: ReadingTables, shot: SeenShot, release: Place): Row {
  const row = markRow(tables, shot.lane.entry, release);
  return {
    ...row,
    variance: SIGHT.entry ** 2,
    uneven: UNEVEN.entry ** 2 + shot.lane.entry.missed ** 2,
    isEntry: true,
    expected: (numbers, day, inside) => row.expected(numbers, day, inside) + inside,
  };
}

const STEP_BOARDS = 0.5;
const STEP_DEG = 0.1;

/** A mark at the pins or the breakpoint: what moves it, told once for all draws. */
function markRow(tables: ReadingTables, mark: Mark, release: Place): Row {
  const planned = mark.planned(release);
  const slopes = mark.slopes(release);
  const by = (name: string): number => {
    const place = tables.numbers.findIndex((number) => number.name === name);
    return place < 0 ? 0 : at(slopes, place) / (tables.numbers[place]?.spread ?? 1);
  };
  const along = (boards: number, degrees: number): number =>
    mark.planned({ laydown: release.laydown + boards, angle: release.angle + degrees });
  return {
    seen: 0,
    slopes: [
      (along(STEP_BOARDS, 0) - along(-STEP_BOARDS, 0)) / (2 * STEP_BOARDS),
      (along(0, STEP_DEG) - along(0, -STEP_DEG)) / (2 * STEP_DEG),
      by("speed_mps"),
      by("revs_log"),
      by("rotation_rad"),
    ],
    variance: 0,
    uneven: 0,
    bad: BAD_BOARDS ** 2,
    isEntry: false,
    expected: (numbers) => planned + dot(slopes, numbers) + mark.bent(numbers),
  };
}

interface Spread {
  matrix: Matrix;
  inverse: Matrix;
  logScale: number;
}

function spreadOf(rows: readonly Row[], slips: Matrix, bad: number): Spread {
  const matrix = rows.map((one, i) =>
    rows.map((other, j) => quadratic(one.slopes, slips, other.slopes) + (i === j ? one.variance + one.uneven + bad * one.bad : 0)),
  );
  const { inverse, logDeterminant } = inverted(matrix);
  return { matrix, inverse, logScale: -0.5 * logDeterminant };
}

function density(off: readonly number[], spread: Spread): number {
  return spread.logScale - 0.5 * quadratic(off, spread.inverse, off);
}

/** How the entry moves with what was seen off. */
function gainOf(entry: Row, rows: readonly Row[], slips: Matrix, normal: Spread): number[] {
  const shared = sharedOf(entry, rows, slips);
  return rows.map((_, j) => rows.reduce((sum, _row, i) => sum + at(shared, i) * cell(normal.inverse, i, j), 0));
}

function sharedOf(entry: Row, rows: readonly Row[], slips: Matrix): number[] {
  return rows.map((row) => quadratic(entry.slopes, slips, row.slopes) + (row.isEntry ? entry.uneven : 0));
}

const PLACE_STEP = 0.4;
const PLACES = 101;
const ACROSS = Array.from({ length: 15 }, (_, i) => -2.5 + (5 * i) / 14);
const WEIGHTS = ACROSS.map((off) => Math.exp(-0.5 * off ** 2));
const WEIGHT = WEIGHTS.reduce((sum, one) => sum + one, 0);

/** Chance of what a shot left by the board it came in on, over what stays unknown of that. */
function leavesHeld(
  leaves: LeaveChances,
  shot: SeenShot,
  entry: Row,
  rows: readonly Row[],
  slips: Matrix,
  gain: readonly number[],
): { chance: (entry: number) => number; usual: number } {
  const kept = leaves.kept(shot.left ?? 0);
  const angle = shot.lane.angle.planned(shot.line);
  const shared = sharedOf(entry, rows, slips);
  const rest = quadratic(entry.slopes, slips, entry.slopes) + entry.uneven - dot(gain, shared);
  const across = Math.sqrt(Math.max(rest, 1e-6));
  const chances = Array.from({ length: PLACES }, (_, place) => {
    const sum = ACROSS.reduce(
      (total, off, i) => total + at(WEIGHTS, i) * leaves.at(kept, offsetOf(place * PLACE_STEP + across * off, angle), angle),
      0,
    );
    return Math.max(sum / WEIGHT, LEAST_CHANCE);
  });
  const planned = shot.lane.entry.planned(shot.line);
  const about = chances.map((_, place) => Math.exp(-0.5 * ((place * PLACE_STEP - planned) / BAD_BOARDS) ** 2));
  const total = about.reduce((sum, one) => sum + one, 0);
  return {
    chance: (board) => {
      const along = Math.min(Math.max(board / PLACE_STEP, 0), PLACES - 1);
      const low = Math.min(Math.floor(along), PLACES - 2);
      return (1 - along + low) * at(chances, low) + (along - low) * at(chances, low + 1);
    },
    usual: dot(chances, about) / total,
  };
}

/** A leave of a full rack as a right-hander sees it; nothing where nobody looked at ten pins. */
export function leftOf(shot: ShotPayload, mirrored: boolean): number | undefined {
  if (shot.standing_after === null) return undefined;
  const before = shot.standing_before;
  if (before === null ? shot.delivery !== 1 : maskOf(before, false) !== FULL_RACK) return undefined;
  return maskOf(shot.standing_after, mirrored);
}

const MIRROR_IMAGES = [0, 1, 3, 2, 6, 5, 4, 10, 9, 8, 7];

function maskOf(pins: readonly number[], mirrored: boolean): number {
  return pins.reduce((mask, pin) => mask | (1 << ((mirrored ? at(MIRROR_IMAGES, pin) : pin) - 1)), 0);
}
