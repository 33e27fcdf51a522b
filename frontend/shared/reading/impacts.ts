/** What impacts are worth and what they leave, by tables of offset and angle. */

import { type Places, type ReadingTables } from "./tables";

const HUNDREDTHS = 100;
const TENTHS = 10;
const THOUSANDTHS = 1000;
const RAD = Math.PI / 180;
const BOARD_M = (41.5 * 0.0254) / 39;
const CONTACT_BOARDS = (0.1085 + 2.383 * 0.0254) / BOARD_M;
const BLUR_STEP = 0.5;
const BLURS = 11;
const CENTRE_BOARD = 20;

/** Offset at first contact of a ball that would cross the head pin's row on an own board. */
export function offsetOf(ownBoard: number, angleDeg: number): number {
  const level = CENTRE_BOARD - ownBoard;
  const slope = Math.tan(RAD * angleDeg);
  const reach = CONTACT_BOARDS ** 2 * (1 + slope ** 2) - level ** 2;
  if (reach <= 0) return level;
  return level + (slope * (Math.sqrt(reach) - level * slope)) / (1 + slope ** 2);
}

function between(places: Places, value: number): [number, number] {
  const at = (HUNDREDTHS * value - places.first) / places.step;
  const inside = Math.min(Math.max(at, 0), places.count - 1);
  const low = Math.min(Math.floor(inside), Math.max(places.count - 2, 0));
  return [low, inside - low];
}

/** Pins of a game of impacts, already blurred sideways by several scatters. */
export class PinValues {
  readonly lost: number;
  private readonly maps: Float64Array[];
  private readonly angles: number;

  constructor(private readonly pins: ReadingTables["pins"]) {
    const sharp = Float64Array.from(pins.worth, (tenths) => tenths / TENTHS);
    this.angles = pins.angles.count;
    this.lost = pins.lost / TENTHS;
    const step = pins.offsets.step / HUNDREDTHS;
    this.maps = Array.from({ length: BLURS }, (_, blur) =>
      blurred(sharp, pins.offsets.count, this.angles, (blur * BLUR_STEP) / step, 0),
    );
  }

  at(blur: number, offset: number, angleDeg: number): number {
    const level = Math.min(blur / BLUR_STEP, BLURS - 1);
    const low = Math.min(Math.floor(level), BLURS - 2);
    const [i, along] = between(this.pins.offsets, offset);
    const [j, across] = between(this.pins.angles, angleDeg);
    const share = level - low;
    return (1 - share) * this.read(low, i, along, j, across) + share * this.read(low + 1, i, along, j, across);
  }

  private read(blur: number, i: number, along: number, j: number, across: number): number {
    return bilinear(this.maps[blur] ?? new Float64Array(), this.angles, i, along, j, across);
  }
}

function bilinear(map: Float64Array, columns: number, i: number, along: number, j: number, across: number): number {
  const at = i * columns + j;
  const near = (1 - across) * (map[at] ?? 0) + across * (map[at + 1] ?? 0);
  if (along === 0) return near;
  const far = (1 - across) * (map[at + columns] ?? 0) + across * (map[at + columns + 1] ?? 0);
  return (1 - along) * near + along * far;
}

const REACH = 4;

/** Values (rows, columns) under normal scatter of so many rows and columns, edges held. */
export function blurred(
  values: Float64Array,
  rows: number,
  columns: number,
  rowScatter: number,
  columnScatter: number,
): Float64Array {
  const down = alongAxis(values, rows, columns, columns, 1, rowScatter);
  return alongAxis(down, columns, rows, 1, columns, columnScatter);
}

function alongAxis(
  values: Float64Array,
  count: number,
  others: number,
  step: number,
  otherStep: number,
  scatter: number,
): Float64Array {
  if (scatter <= 0 || count < 2) return values;
  const reach = Math.floor(REACH * scatter + 0.5);
  const weights = Array.from({ length: 2 * reach + 1 }, (_, at) => Math.exp(-0.5 * ((at - reach) / scatter) ** 2));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const found = new Float64Array(values.length);
  for (let other = 0; other < others; other++) {
    for (let at = 0; at < count; at++) {
      let sum = 0;
      for (let off = -reach; off <= reach; off++) {
        const held = Math.min(Math.max(at + off, 0), count - 1);
        sum += (weights[off + reach] ?? 0) * (values[other * otherStep + held * step] ?? 0);
      }
      found[other * otherStep + at * step] = sum / total;
    }
  }
  return found;
}

/** Chance of one leave at impacts; masks as a right-hander sees them. */
export class LeaveChances {
  constructor(private readonly left: ReadingTables["left"]) {}

  /** Place of the kept leave that a leave counts as: as many pins, most of them the same. */
  kept(mask: number): number {
    const unlike = this.left.masks.map((one) => count(one ^ mask) + 20 * Math.abs(count(one) - count(mask)));
    return unlike.indexOf(Math.min(...unlike));
  }

  at(kept: number, offset: number, angleDeg: number): number {
    const { offsets, angles, masks, chances } = this.left;
    const [i, along] = between(offsets, offset);
    const [j, across] = between(angles, angleDeg);
    const read = (row: number, column: number): number =>
      (chances[(Math.min(row, offsets.count - 1) * angles.count + Math.min(column, angles.count - 1)) * masks.length + kept] ?? 0) / THOUSANDTHS;
    const near = (1 - across) * read(i, j) + across * read(i, j + 1);
    const far = (1 - across) * read(i + 1, j) + across * read(i + 1, j + 1);
    return (1 - along) * near + along * far;
  }
}

function count(mask: number): number {
  let pins = 0;
  for (let rest = mask; rest > 0; rest >>= 1) pins += rest & 1;
  return pins;
}
