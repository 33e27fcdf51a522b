/** A game under way: what it will be by the bowler's own odds, and its pace. The sums of
 * scoring/unfinished.py and scoring/statistics.py, where the numbers are sourced; cases of
 * tools/game_cases.py hold both to each other. */

import { atRack, FRAMES, finalScore, isFinished, isSpare, isStrike, PINS, plainBall, type Ball, type Game } from "./game";
import type { Counting } from "./types";

const PRIOR_RACKS = 30;
const USUAL_STRIKE_CHANCE = 0.475;
const USUAL_PINS = [0.01, 0.005, 0.005, 0.01, 0.015, 0.025, 0.05, 0.1, 0.22, 0.56];
const USUAL_SPARES = [0.25, 0.25, 0.25, 0.3, 0.3, 0.4, 0.5, 0.6, 0.65, 0.87];
const BISECTIONS = 60;
const STEEPEST = 40;
const CURRENT_FRAME_STRIKE = 30;

/** What the next two balls count, by what came before: open, spare, strike, two strikes. */
const [OPEN, SPARE, STRIKE, TWO_STRIKES] = [0, 1, 2, 3] as const;
const BALL_COUNTS = [[1, 1], [2, 1], [2, 2], [3, 2]] as const;

/** Counts over games. */
export interface Counts {
  first_balls: number;
  first_ball_pins: number;
  strikes: number;
  spare_tries: number;
  spares: number;
}

/** Chance of every count of a rack's first ball, and after it of the second. */
export interface Odds {
  first: number[];
  second: number[][];
}

/** Ten frames at the rate of those whose score is known; null before the first. */
export function paceOf({ frames }: Game): number | null {
  const known = frames.flatMap(({ running }) => running ?? []);
  return known.length ? Math.floor((FRAMES * known.at(-1)!) / known.length) : null;
}

/** Counts over all racks; one whose second ball is still to come is left out. */
export function countsOf(games: Iterable<Game>): Counts {
  const counts = { first_balls: 0, first_ball_pins: 0, strikes: 0, spare_tries: 0, spares: 0 };
  for (const { frames, score } of games) {
    for (const { balls } of frames) countFrame(counts, balls, score !== null);
  }
  return counts;
}

function countFrame(counts: Counts, frame: readonly Ball[], isOver: boolean): void {
  const balls = frame.map(({ pins }) => pins);
  while (balls.length) {
    const first = balls.shift()!;
    if (first === null || (first < PINS && !balls.length && !isOver)) return;
    counts.first_balls += 1;
    counts.first_ball_pins += first;
    if (first === PINS) counts.strikes += 1;
    else if (balls.length) {
      const second = balls.shift();
      if (second == null) return;
      counts.spare_tries += 1;
      counts.spares += Number(first + second === PINS);
    }
  }
}

/** Odds of a rack by one's own counts, beside the usual ones worth 30 racks: the usual shape, tilted until
 * strikes, pins and spares are in all what the counts say. */
export function oddsOf(counts: Counts): Odds {
  const others = counts.first_balls - counts.strikes;
  const strike = share(counts.strikes, counts.first_balls, USUAL_STRIKE_CHANCE);
  const meanPins = share(counts.first_ball_pins - PINS * counts.strikes, others, mean(USUAL_PINS));
  const spare = share(counts.spares, counts.spare_tries, product(USUAL_PINS, USUAL_SPARES));
  const pins = tilted(withOdds, mean, meanPins);
  const chances = tilted(
    (tilt) => USUAL_SPARES.map((usual) => 1 / (1 + (1 / usual - 1) * Math.exp(-tilt))),
    (tried) => product(pins, tried),
    spare,
  );
  return {
    first: [...pins.map((one) => (1 - strike) * one), strike],
    second: chances.map((made, count) => [...Array<number>(PINS - count).fill((1 - made) / (PINS - count)), made]),
  };
}

/** Mean final score of a game whose racks to come all have these odds; null where balls are missing or were
 * not seen. */
export function expectedFinish(game: Game, odds: Odds, counting: Counting): number | null {
  if (game.best === null) return null;
  const frames = game.frames.map(({ balls }) => balls).filter((balls) => balls.length > 0);
  const values = valuesOf(odds, counting);
  return finish(frames, 1, odds, counting, values);
}

/** The frame under way is played out ball by ball; what follows is worth its value. */
function finish(frames: readonly (readonly Ball[])[], chance: number, odds: Odds, counting: Counting, values: number[][]): number {
  const last = frames.at(-1) ?? [];
  if (frames.length && !isFinished(frames.length, last, counting)) {
    const faced = atRack(last);
    const row = faced.length ? odds.second[faced[0]!.pins ?? 0]! : odds.first;
    return row.reduce((sum, one, pins) => (one ? sum + finish([...frames.slice(0, -1), [...last, plainBall(pins)]], chance * one, odds, counting, values) : sum), 0);
  }
  const ten = Array.from({ length: FRAMES }, (_, index) => frames[index] ?? []);
  return chance * ((finalScore(ten, counting, () => 0) ?? 0) + values[frames.length]![endedWith(frames)]!);
}

function endedWith(frames: readonly (readonly Ball[])[]): number {
  const last = frames.at(-1) ?? [];
  if (isStrike(last)) return isStrike(frames.at(-2) ?? []) ? TWO_STRIKES : STRIKE;
  return isSpare(last) ? SPARE : OPEN;
}

/** Mean pins that the frames after the first so many add, by what came before them. */
function valuesOf(odds: Odds, counting: Counting): number[][] {
  const values = [BALL_COUNTS.map(() => 0)];
  for (let number = FRAMES; number >= 1; number -= 1) {
    const after = values[0]!;
    values.unshift(BALL_COUNTS.map((_, before) => (counting === "traditional" ? frameValue(odds, before, after, number === FRAMES) : currentFrameValue(odds) + after[OPEN]!)));
  }
  return values;
}

function frameValue({ first, second }: Odds, before: number, after: readonly number[], isTenth: boolean): number {
  const [one, two] = BALL_COUNTS[before]!;
  const fill = mean(first);
  const strikes = first[PINS]!;
  const two_balls = first.reduce((sum, chance, pins) => sum + chance * (two * pins + (pins < PINS ? mean(second[pins]!) : fill)), 0);
  let value = strikes * (PINS * one + (isTenth ? two_balls : after[before >= STRIKE ? TWO_STRIKES : STRIKE]!));
  second.forEach((row, pins) => row.forEach((chance, more) => {
    const spare = pins + more === PINS;
    const next = isTenth ? (spare ? fill : 0) : after[spare ? SPARE : OPEN]!;
    value += first[pins]! * chance * (pins * one + more * two + next);
  }));
  return value;
}

function currentFrameValue({ first, second }: Odds): number {
  return second.reduce(
    (sum, row, pins) => sum + first[pins]! * row.reduce((both, chance, more) => both + chance * (pins + (pins + more === PINS ? PINS : more)), 0),
    CURRENT_FRAME_STRIKE * first[PINS]!,
  );
}

/** A rate, with the usual one weighed in. */
function share(found: number, tried: number, usual: number): number {
  return (found + PRIOR_RACKS * usual) / (tried + PRIOR_RACKS);
}

/** The shape whose measure, which rises with the tilt, is the one that is wanted. */
function tilted(shape: (tilt: number) => number[], measure: (shape: number[]) => number, wanted: number): number[] {
  let [low, high] = [-STEEPEST, STEEPEST];
  for (let step = 0; step < BISECTIONS; step += 1) {
    const middle = (low + high) / 2;
    if (measure(shape(middle)) < wanted) low = middle;
    else high = middle;
  }
  return shape((low + high) / 2);
}

/** Shares of the usual counts, each likelier than the one below by the tilt. */
function withOdds(tilt: number): number[] {
  const top = USUAL_PINS.length - 1;
  const pulls = USUAL_PINS.map((one, count) => one * Math.exp(tilt * (count - (tilt > 0 ? top : 0))));
  const all = pulls.reduce((sum, pull) => sum + pull, 0);
  return pulls.map((pull) => pull / all);
}

function mean(shares: readonly number[]): number {
  return product(shares, shares.map((_, count) => count)) / shares.reduce((sum, one) => sum + one, 0);
}

function product(one: readonly number[], other: readonly number[]): number {
  return one.reduce((sum, factor, at) => sum + factor * other[at]!, 0);
}
