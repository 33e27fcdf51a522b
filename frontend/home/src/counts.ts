/** A game as it is typed by counts: where one frame ends, and what the next ball can be.
 *
 * Marks as scoring/notation.py reads them. The server judges the game; this only leads the hand. */

import type { Counting } from "$shared/types";

export const FRAMES = 10;
const PINS = 10;
const BALL = /\([1-8]\)|[0-9XF/-]/g;

/** The marks in a text, in order; what is none is passed over. */
export function ballsIn(text: string): string[] {
  return text.toUpperCase().match(BALL) ?? [];
}

/** A frame's text as it is sent: its balls parted by spaces, or as typed where it holds anything else. */
export function frameText(text: string): string {
  const balls = ballsIn(text);
  const plain = text.toUpperCase().replace(/[\s,]/g, "");
  return balls.join("") === plain ? balls.join(" ") : plain;
}

/** The game as it is sent: every frame up to the last one that holds anything. */
export function gameText(frames: readonly string[]): string {
  const last = frames.findLastIndex((frame) => frame.trim() !== "");
  const written = frames.slice(0, last + 1).map(frameText);
  return written.length ? `${written.join(", ")},` : "";
}

/** The balls bowled at the rack that the next ball faces; none where it is fresh. */
function atRack(balls: readonly string[]): string[] {
  let rack: string[] = [];
  for (const ball of balls) {
    rack.push(ball);
    if (standing(rack) <= 0) rack = [];
  }
  return rack;
}

function standing(rack: readonly string[]): number {
  return rack.reduce((left, ball) => left - pins(ball, left), PINS);
}

function pins(ball: string, left: number): number {
  if (ball === "X" || ball === "/") return left;
  return ball === "-" || ball === "F" ? 0 : Number(ball.replace(/[()]/g, ""));
}

/** Whether a frame has had all its balls, as far as their number goes. */
export function isOver(number: number, balls: readonly string[], counting: Counting): boolean {
  const isStrike = balls[0] === "X";
  if (number < FRAMES || counting === "current-frame") return isStrike || balls.length >= 2;
  const isSpare = balls.length >= 2 && !isStrike && atRack(balls.slice(0, 2)).length === 0;
  return balls.length >= (isStrike || isSpare ? 3 : 2);
}

/** The marks that can follow in a frame; none where it is over. */
export function possibleMarks(number: number, balls: readonly string[], counting: Counting): string[] {
  if (isOver(number, balls, counting)) return [];
  const rack = atRack(balls);
  const left = standing(rack);
  const counts = Array.from({ length: Math.max(left - 1, 0) }, (_, index) => String(index + 1));
  return [...counts, rack.length ? "/" : "X", "-", "F"];
}

/** The frame with its last ball marked as one that left a split, or no longer so; null where it cannot be. */
export function withSplit(balls: readonly string[]): string[] | null {
  const last = balls.at(-1);
  if (last === undefined || atRack(balls).length !== 1) return null;
  if (last.startsWith("(")) return [...balls.slice(0, -1), last.slice(1, -1)];
  return /^[1-8]$/.test(last) ? [...balls.slice(0, -1), `(${last})`] : null;
}

/** Frames from `number` on that a text fills: parted by its commas, or ball after ball. */
export function spread(text: string, number: number, counting: Counting): string[] {
  if (text.includes(",")) return text.split(",").map(frameText).slice(0, FRAMES + 1 - number);
  const frames: string[][] = [[]];
  for (const ball of ballsIn(text)) {
    const here = number + frames.length - 1;
    if (here < FRAMES && isOver(here, frames.at(-1)!, counting)) frames.push([]);
    frames.at(-1)!.push(ball);
  }
  return frames.map((frame) => frame.join(" "));
}
