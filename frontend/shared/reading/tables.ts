/** Lanes in tables, as a pocket carries them. Whole numbers are hundredths; boards are the bowler's own. */

import type { Grit, Hand } from "../types";

export interface Places {
  first: number;
  step: number;
  count: number;
}

export interface MarkTable {
  base: number[];
  slopes: number[];
  bends: number[];
  missed: number;
}

export interface LaneTable {
  game: number;
  lane: number;
  ball: string;
  surface_grit: Grit;
  planned: boolean;
  laydown: number;
  angle: number;
  laydowns: Places;
  angles: Places;
  target_off: number;
  speed_change_mph: number;
  axis_rotation_change_deg: number;
  breakpoint: MarkTable;
  entry: MarkTable;
  entry_angle: MarkTable;
}

export interface TableNumber {
  name: string;
  said: string;
  more: string;
  less: string;
  spread: number;
}

export interface ReadingTables {
  hand: Hand;
  speed_mph: number;
  slide_to_laydown_boards: number;
  practice_shots: number;
  scatter: {
    laydown_boards: number;
    launch_angle_deg: number;
    speed_mph: number;
    revs_share: number;
    axis_rotation_deg: number;
  };
  reach: {
    laydown_boards: [number, number];
    launch_angle_deg: [number, number];
    speed_change_mph: [number, number];
    axis_rotation_change_deg: [number, number];
  };
  numbers: TableNumber[];
  own: TableNumber[];
  draws: number[][];
  own_draws: number[][];
  pins: { offsets: Places; angles: Places; worth: number[]; lost: number };
  left: { offsets: Places; angles: Places; masks: number[]; chances: number[] };
  lanes: LaneTable[];
}

/** Where a line lies: own lay-down board and launch angle. */
export interface Place {
  laydown: number;
  angle: number;
}

const HUNDREDTHS = 100;
const LINE_BOARDS = 6;
const LINE_DEG = 1.5;
const TERMS = 6;
const BOARDS_AT_ARROWS = (15 * 12) / (41.5 / 39);
const RAD = Math.PI / 180;

/** Boards at the arrows that a degree of launch angle moves a straight path by. */
export const BOARDS_PER_DEG = BOARDS_AT_ARROWS * RAD;

/** Places in their own unit. */
export function placesOf(places: Places): number[] {
  return Array.from({ length: places.count }, (_, at) => (places.first + at * places.step) / HUNDREDTHS);
}

/** One mark of a lane's table, ready to be read anywhere. */
export class Mark {
  readonly missed: number;
  private readonly base: Float64Array;
  private readonly rows: number;
  private readonly columns: number;

  constructor(
    private readonly table: LaneTable,
    private readonly mark: MarkTable,
  ) {
    this.rows = table.laydowns.count;
    this.columns = table.angles.count;
    this.base = summed(mark.base, this.rows, this.columns);
    this.missed = mark.missed / HUNDREDTHS;
  }

  /** The mark of a line thrown as planned: cubic between the lines that were rolled. */
  planned(at: Place): number {
    const row = (HUNDREDTHS * at.laydown - this.table.laydowns.first) / this.table.laydowns.step;
    const column = (HUNDREDTHS * at.angle - this.table.angles.first) / this.table.angles.step;
    const [i, along] = whole(row, this.rows);
    const [j, across] = whole(column, this.columns);
    let sum = 0;
    for (let di = -1; di <= 2; di++) {
      const weight = cubic(along, di);
      if (weight === 0) continue;
      const from = inside(i + di, this.rows) * this.columns;
      for (let dj = -1; dj <= 2; dj++) {
        sum += weight * cubic(across, dj) * (this.base[from + inside(j + dj, this.columns)] ?? 0);
      }
    }
    return sum;
  }

  /** How the mark moves for one deviation of each number, and for time. */
  slopes(at: Place): number[] {
    const line = lineTerms(this.table, at);
    const count = this.mark.slopes.length / TERMS;
    return Array.from({ length: count }, (_, number) => {
      let sum = 0;
      for (let term = 0; term < TERMS; term++) sum += (this.mark.slopes[number * TERMS + term] ?? 0) * (line[term] ?? 0);
      return sum / HUNDREDTHS;
    });
  }

  /** What some numbers move the mark by, as a quadratic of the line. */
  moved(numbers: readonly number[]): number[] {
    const quadratic = new Array<number>(TERMS).fill(0);
    numbers.forEach((value, number) => {
      for (let term = 0; term < TERMS; term++) {
        quadratic[term] = (quadratic[term] ?? 0) + (value * (this.mark.slopes[number * TERMS + term] ?? 0)) / HUNDREDTHS;
      }
    });
    quadratic[0] = (quadratic[0] ?? 0) + this.bent(numbers);
    return quadratic;
  }

  /** The part of it that products of two numbers make, wherever the line lies. */
  bent(numbers: readonly number[]): number {
    let sum = 0;
    let place = 0;
    for (let one = 0; one < numbers.length; one++) {
      for (let other = one; other < numbers.length; other++, place++) {
        sum += (this.mark.bends[place] ?? 0) * (numbers[one] ?? 0) * (numbers[other] ?? 0);
      }
    }
    return sum / HUNDREDTHS;
  }
}

/** One ball on one lane in one game, ready to be read. */
export class Lane {
  readonly breakpoint: Mark;
  readonly entry: Mark;
  readonly angle: Mark;
  readonly own: Place;

  constructor(readonly table: LaneTable) {
    this.breakpoint = new Mark(table, table.breakpoint);
    this.entry = new Mark(table, table.entry);
    this.angle = new Mark(table, table.entry_angle);
    this.own = { laydown: table.laydown / HUNDREDTHS, angle: table.angle / HUNDREDTHS };
  }

  /** The launch angle from a lay-down that crosses a target. */
  angleOver(laydown: number, target: number): number {
    return Math.atan((laydown - target - this.table.target_off / HUNDREDTHS) / BOARDS_AT_ARROWS) / RAD;
  }

  /** Own board at the arrows of a line. */
  target(at: Place): number {
    return at.laydown - BOARDS_AT_ARROWS * Math.tan(at.angle * RAD) - this.table.target_off / HUNDREDTHS;
  }
}

/** The six terms of a line that quadratics count. */
export function lineTerms(table: LaneTable, at: Place): number[] {
  const l = (at.laydown - table.laydown / HUNDREDTHS) / LINE_BOARDS;
  const a = (at.angle - table.angle / HUNDREDTHS) / LINE_DEG;
  return [1, l, a, l * l, l * a, a * a];
}

const opened = new WeakMap<LaneTable, Lane>();

/** The table of a ball on a lane in a game; nothing where the pocket has none. */
export function laneOf(tables: ReadingTables, game: number, lane: number, ball: string): Lane | null {
  const table = tables.lanes.find((one) => one.game === game && one.lane === lane && one.ball === ball);
  if (table === undefined) return null;
  const kept = opened.get(table) ?? new Lane(table);
  opened.set(table, kept);
  return kept;
}

const OWN_STRIDE = 37;

/** Where a lane takes what it has for itself for a draw: each lane from a place of its own on. */
export function ownPlace(lane: number, draw: number, count: number): number {
  return (draw + OWN_STRIDE * lane) % Math.max(count, 1);
}

/** One draw as a lane's tables count it: numbers without time, and boards inside. */
export interface Drawn {
  numbers: number[];
  inside: number;
}

const counted = new WeakMap<ReadingTables, Map<number, Drawn[]>>();

/** All draws on a lane. */
export function drawsOn(tables: ReadingTables, lane: number): Drawn[] {
  const lanes = counted.get(tables) ?? new Map<number, Drawn[]>();
  counted.set(tables, lanes);
  const found = lanes.get(lane) ?? tables.draws[0]?.map((_, draw) => drawnOn(tables, lane, draw)) ?? [];
  lanes.set(lane, found);
  return found;
}

function drawnOn(tables: ReadingTables, lane: number, draw: number): Drawn {
  const place = ownPlace(lane, draw, tables.draws[0]?.length ?? 1);
  const own = tables.own.map((number, at) => ((tables.own_draws[at]?.[place] ?? 0) / HUNDREDTHS) * number.spread);
  const numbers = tables.numbers.map((number, at) => {
    const shared = (tables.draws[at]?.[draw] ?? 0) / HUNDREDTHS;
    const beside = tables.own.findIndex((one) => one.name === number.name);
    return beside < 0 ? shared : shared + (own[beside] ?? 0) / number.spread;
  });
  const inside = tables.own.findIndex((one) => one.name === "inside_boards");
  return { numbers, inside: inside < 0 ? 0 : (own[inside] ?? 0) };
}

function summed(base: number[], rows: number, columns: number): Float64Array {
  const values = new Float64Array(rows * columns);
  for (let row = 0; row < rows; row++) {
    let value = base[row * columns] ?? 0;
    let step = 0;
    values[row * columns] = value / HUNDREDTHS;
    for (let column = 1; column < columns; column++) {
      step += base[row * columns + column] ?? 0;
      value += step;
      values[row * columns + column] = value / HUNDREDTHS;
    }
  }
  return values;
}

function whole(place: number, count: number): [number, number] {
  const low = Math.min(Math.max(Math.floor(place), 0), Math.max(count - 2, 0));
  return [low, Math.min(Math.max(place - low, -1), 2)];
}

function inside(at: number, count: number): number {
  return Math.min(Math.max(at, 0), count - 1);
}

/** Weight of a neighbour, `at` -1 to 2, for a place from 0 to 1 between 0 and 1: Catmull and Rom's. */
function cubic(place: number, at: number): number {
  const off = Math.abs(place - at);
  if (off < 1) return 1.5 * off ** 3 - 2.5 * off ** 2 + 1;
  return off < 2 ? -0.5 * off ** 3 + 2.5 * off ** 2 - 4 * off + 2 : 0;
}
