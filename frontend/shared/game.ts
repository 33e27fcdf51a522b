/** A game of ten frames as it fills: what counts, what it can still become, and which ball is next.
 *
 * By the world rule book, as scoring/frames.py: a foul counts as a ball, its pins do not count and
 * are set again. Both are held to tests/reference/data/scoring.toml. Counting by the current frame is that of
 * scoring/current_frame.py: a strike 30, a spare 10 and its first ball, and no fill balls. */

import { FULL_RACK, isSplit, leaveWords } from "./leaves";
import type { Counting, ShotPayload } from "./types";

export const FRAMES = 10;
export const PRACTICE = 0;
export const PINS = 10;
export const HIGHEST = 300;
const CURRENT_FRAME_STRIKE = 30;

/** A shot that counts, with the id that it began under. */
export interface Bowled {
  root: string;
  shot: ShotPayload;
}

/** One ball: the pins that count for it, null where nobody looked, and what it left standing. */
export interface Ball {
  root: string | null;
  pins: number | null;
  foul: boolean;
  split: boolean;
  left: readonly number[] | null;
}

export interface Frame {
  number: number;
  balls: Ball[];
  /** As written on a score sheet: X, /, -, F or a count. */
  marks: string[];
  /** The game's score after this frame; null while it waits for a ball. */
  running: number | null;
}

/** Where the next ball is bowled, and the pins that face it. */
export interface Place {
  frame: number;
  delivery: number;
  standing: readonly number[];
}

/** Something about a game that cannot be as it is written. */
export interface Doubt {
  frame: number;
  words: string;
  root: string | null;
}

export interface Game {
  frames: Frame[];
  /** The final score; null while the game goes on. */
  score: number | null;
  /** The last running score. */
  soFar: number;
  /** Final score if every ball still to come takes all that faces it; null where balls are missing. */
  best: number | null;
  next: Place | null;
  doubts: Doubt[];
}

/** The game that shots of one game make, in whatever order they come. */
export function gameOf(bowled: readonly Bowled[], counting: Counting = "traditional"): Game {
  const doubts: Doubt[] = [];
  const frames = FRAME_NUMBERS.map((number) => frameOf(number, bowled, doubts, counting));
  const balls = frames.map((frame) => frame.balls);
  const last = frames.findLastIndex((frame) => frame.balls.length > 0);
  balls.slice(0, Math.max(last, 0)).forEach((held, index) => {
    if (!isFinished(index + 1, held, counting)) {
      doubts.push({ frame: index + 1, words: `Ball ${held.length + 1} of frame ${index + 1} is missing.`, root: null });
    }
  });
  const running = runningScores(balls, counting);
  frames.forEach((frame, index) => (frame.running = running[index] ?? null));
  return {
    frames,
    score: running[FRAMES - 1] ?? null,
    soFar: running.findLast((score) => score !== null) ?? 0,
    best: finalScore(balls, counting, pinsLeft),
    next: nextPlace(balls, last, counting),
    doubts: doubts.sort((one, other) => one.frame - other.frame),
  };
}

const FRAME_NUMBERS = Array.from({ length: FRAMES }, (_, index) => index + 1);

function frameOf(number: number, bowled: readonly Bowled[], doubts: Doubt[], counting: Counting): Frame {
  const here = bowled.filter(({ shot }) => shot.frame === number);
  const balls: Ball[] = [];
  for (const delivery of [1, 2, 3]) {
    const claims = here.filter(({ shot }) => shot.delivery === delivery);
    const counts = claims.pop();
    for (const { root } of claims) {
      doubts.push({ frame: number, words: `Frame ${number}, ball ${delivery} was logged more than once; the last one counts.`, root });
    }
    if (!counts) continue;
    if (isFinished(number, balls, counting)) {
      doubts.push({ frame: number, words: `Frame ${number} is over before ball ${delivery}.`, root: counts.root });
    } else if (balls.length === delivery - 1) {
      balls.push(ballOf(counts, number, balls, doubts));
    } else {
      doubts.push({ frame: number, words: `Frame ${number}, ball ${delivery} waits for the ball before it.`, root: counts.root });
    }
  }
  return { number, balls, marks: marksOf(balls), running: null };
}

function ballOf({ root, shot }: Bowled, frame: number, before: Ball[], doubts: Doubt[]): Ball {
  const faced = standingFor(before);
  const after = shot.standing_after;
  if (shot.foul) return { root, pins: 0, foul: true, split: false, left: faced };
  if (after === null || faced === null) return { root, pins: null, foul: false, split: false, left: after };
  if (after.some((pin) => !faced.includes(pin))) {
    const words = `Frame ${frame}, ball ${shot.delivery} leaves ${leaveWords(after)}, and ${leaveWords(faced)} stood before it.`;
    doubts.push({ frame, words, root });
    return { root, pins: null, foul: false, split: false, left: after };
  }
  const split = atRack(before).length === 0 && isSplit(after);
  return { root, pins: faced.length - after.length, foul: false, split, left: after };
}

/** Balls at the rack that the frame's next ball faces; none where it is set fresh. */
export function atRack(balls: readonly Ball[]): readonly Ball[] {
  let rack: Ball[] = [];
  for (const ball of balls) {
    rack.push(ball);
    if (pinsOf(rack) === PINS) rack = [];
  }
  return rack;
}

/** Pins that face the frame's next ball; null where nobody looked. */
function standingFor(balls: readonly Ball[]): readonly number[] | null {
  const last = atRack(balls).at(-1);
  return last ? last.left : FULL_RACK;
}

export function isStrike(balls: readonly Ball[]): boolean {
  return balls[0]?.pins === PINS;
}

export function isSpare([first, second]: readonly Ball[]): boolean {
  return first !== undefined && second !== undefined && (first.pins ?? 0) + (second.pins ?? 0) === PINS;
}

/** Whether a frame has had all its balls; fill balls are of the traditional counting alone. */
export function isFinished(number: number, balls: readonly Ball[], counting: Counting): boolean {
  if (number < FRAMES || counting === "current-frame") return isStrike(balls) || balls.length === 2;
  return balls.length === (isStrike(balls) || isSpare(balls) ? 3 : 2);
}

function marksOf(balls: readonly Ball[]): string[] {
  return balls.map((ball, index) => {
    const before = atRack(balls.slice(0, index));
    if (ball.foul) return "F";
    if (ball.pins === null) return "?";
    if (pinsOf(before) + ball.pins === PINS) return before.length ? "/" : "X";
    return ball.pins === 0 ? "-" : String(ball.pins);
  });
}

function runningScores(frames: readonly (readonly Ball[])[], counting: Counting): (number | null)[] {
  const whole = frames.findIndex((balls, index) => !isFinished(index + 1, balls, counting));
  if (counting === "current-frame") return added(frames.map((balls, index) => (whole < 0 || index < whole ? framePins(balls) : null)));
  const inRow = frames.slice(0, whole < 0 ? FRAMES : whole + 1).flat().map(({ pins }) => pins);
  let start = 0;
  return added(frames.map((balls) => {
    const wanted = isStrike(balls) || isSpare(balls) ? 3 : 2;
    const counted = inRow.slice(start, start + wanted);
    start += balls.length;
    return counted.length < wanted ? null : total(counted);
  }));
}

/** What a frame counts by itself. */
function framePins(balls: readonly Ball[]): number | null {
  if (isStrike(balls)) return CURRENT_FRAME_STRIKE;
  return total(balls.map(({ pins }) => pins), isSpare(balls) ? (balls[0]!.pins ?? 0) : 0);
}

function total(counted: readonly (number | null)[], more = 0): number | null {
  return counted.includes(null) ? null : counted.reduce<number>((sum, pins) => sum + (pins ?? 0), more);
}

/** Sums up to each frame; null from the first that is not known. */
function added(frames: readonly (number | null)[]): (number | null)[] {
  let sum: number | null = 0;
  return frames.map((pins) => (sum = sum === null || pins === null ? null : sum + pins));
}

/** The final score if every ball still to come takes so many of the pins that face it; null where balls are
 * missing or were not seen. */
export function finalScore(frames: readonly (readonly Ball[])[], counting: Counting, taken: (left: number) => number): number | null {
  const last = frames.findLastIndex((balls) => balls.length > 0);
  const filled = frames.map((balls, index) => {
    const held = [...balls];
    while (index >= last && !isFinished(index + 1, held, counting)) held.push(plainBall(taken(PINS - pinsOf(atRack(held)))));
    return held;
  });
  return runningScores(filled, counting)[FRAMES - 1] ?? null;
}

/** A ball of which only its pins are known. */
export function plainBall(pins: number): Ball {
  return { root: null, pins, foul: false, split: false, left: null };
}

export function pinsOf(balls: readonly Ball[]): number {
  return balls.reduce((sum, { pins }) => sum + (pins ?? 0), 0);
}

function pinsLeft(left: number): number {
  return left;
}

function nextPlace(frames: readonly (readonly Ball[])[], last: number, counting: Counting): Place | null {
  const open = (from: number) => frames.findIndex((balls, index) => index >= from && !isFinished(index + 1, balls, counting));
  const ahead = open(Math.max(last, 0));
  const index = ahead >= 0 ? ahead : open(0);
  if (index < 0) return null;
  const balls = frames[index]!;
  return { frame: index + 1, delivery: balls.length + 1, standing: standingFor(balls) ?? FULL_RACK };
}

/** Where the next practice ball is bowled: frames without end, two balls each. */
export function nextInPractice(bowled: readonly Bowled[]): Place {
  const last = bowled.at(-1)?.shot;
  if (!last) return { frame: 1, delivery: 1, standing: FULL_RACK };
  const left = last.foul ? last.standing_before : last.standing_after;
  if (last.delivery === 1 && left && left.length > 0) {
    return { frame: last.frame, delivery: 2, standing: left };
  }
  return { frame: last.frame + 1, delivery: 1, standing: FULL_RACK };
}

/** The lane of a frame: the pair's lanes by turns, as the shots logged so far go. */
export function laneOf(bowled: readonly Bowled[], lanes: readonly [number, number], frame: number): number {
  const last = bowled.at(-1)?.shot;
  if (!last || !lanes.includes(last.lane)) return lanes[(frame - 1) % 2]!;
  const [here, beside] = last.lane === lanes[0] ? lanes : [lanes[1], lanes[0]];
  return Math.abs(frame - last.frame) % 2 ? beside : here;
}
