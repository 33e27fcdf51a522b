/** What to do on the next shot of a lane, by what is believed: one option of each kind, best first. */

import type { Grit } from "../types";
import { PinValues } from "./impacts";
import { type Drawn, type Lane, type Place, type ReadingTables, drawsOn, laneOf } from "./tables";
import { AS_TABLED, type Change, Lines } from "./values";

export type MoveKind = "stay" | "feet and target" | "ball" | "speed" | "hand";

export interface MoveLine {
  laydown_board: number;
  slide_board: number;
  target_board: number;
  launch_angle_deg: number;
  breakpoint_board: number;
  entry_board: number;
  speed_mph: number;
}

export interface Move {
  kind: MoveKind;
  ball: string;
  surface_grit: Grit;
  line: MoveLine;
  /** Positive toward the bowler's inside. */
  feet_boards: number;
  target_boards: number;
  speed_change_mph: number;
  axis_rotation_change_deg: number;
  expected_pins_per_game: number;
  gain_pins_per_game: number;
  better_probability: number;
  words: string;
}

/** Where somebody stands: a lane's table of the ball in hand, and the line thrown last. */
export interface Stand {
  lane: Lane;
  line: Place;
}

const DRAWS = 48;
const SPEEDS_MPH = [-1, -0.5, 0.5, 1];
const FEET_FIRST_PINS = 2;
const ALIKE_PINS = 0.5;
const BOARDS_A_DEGREE = 3;
const SMALLEST_TOLD_BOARDS = 0.25;
const MIRRORED_BOARDS = 40;

interface Found {
  kind: MoveKind;
  lane: Lane;
  line: Place;
  change: Change;
  values: number[];
}

/** So many draws by weight, evenly. */
export function drawn(weights: Float64Array, count = DRAWS): number[] {
  const total = weights.reduce((sum, one) => sum + one, 0);
  const picked: number[] = [];
  let along = 0;
  weights.forEach((weight, draw) => {
    along += weight / total;
    while (picked.length < count && (picked.length + 0.5) / count <= along) picked.push(draw);
  });
  return picked;
}

const kept = new WeakMap<ReadingTables, PinValues>();

/** One option of each kind, the one worth most first. */
export function movesOf(tables: ReadingTables, stand: Stand, draws: readonly number[], share: number): Move[] {
  const pins = kept.get(tables) ?? new PinValues(tables.pins);
  kept.set(tables, pins);
  const { game, lane, ball } = stand.lane.table;
  const every = drawsOn(tables, lane);
  const believed = draws.flatMap((draw) => every[draw] ?? []);
  const valued = (lines: Lines, change = AS_TABLED): Float64Array[] =>
    believed.map(({ numbers, inside }) => lines.values(pins, numbers, inside, share, change));
  const own = new Lines(tables, stand.lane);
  const grids = valued(own);
  const at = (lines: Lines, found: Float64Array[], line: Place): number[] => found.map((values) => lines.read(values, line));
  const staying: Found = { kind: "stay", lane: stand.lane, line: stand.line, change: AS_TABLED, values: at(own, grids, stand.line) };
  const found: Found[] = [staying];
  const moved = best(own, grids, stand.line);
  if (shows(stand, moved)) {
    found.push({ ...staying, kind: "feet and target", line: moved, values: at(own, grids, moved) });
  }
  for (const other of tables.lanes.filter((one) => one.game === game && one.lane === lane && one.ball !== ball)) {
    const opened = laneOf(tables, game, lane, other.ball);
    if (opened === null) continue;
    const lines = new Lines(tables, opened);
    const values = valued(lines);
    const line = best(lines, values, stand.line);
    found.push({ kind: "ball", lane: opened, line, change: AS_TABLED, values: at(lines, values, line) });
  }
  const around = new Lines(tables, stand.lane, stand.line);
  for (const { kind, change } of changes(tables)) {
    found.push({ ...staying, kind, change, values: at(around, valued(around, change), stand.line) });
  }
  return told(tables, found, staying, believed, share);
}

/** Whether a move is one that feet or eyes can follow, told in half boards as it is. */
function shows({ lane, line }: Stand, moved: Place): boolean {
  const aim = lane.target(moved) - lane.target(line);
  return Math.max(Math.abs(moved.laydown - line.laydown), Math.abs(aim)) >= SMALLEST_TOLD_BOARDS;
}

function changes(tables: ReadingTables): { kind: MoveKind; change: Change }[] {
  const [slowest, fastest] = tables.reach.speed_change_mph;
  const speeds = SPEEDS_MPH.filter((mph) => mph >= slowest && mph <= fastest);
  const hands = tables.reach.axis_rotation_change_deg.filter((degrees) => degrees !== 0);
  return [
    ...speeds.map((speedMph) => ({ kind: "speed" as const, change: { speedMph, rotationDeg: 0 } })),
    ...hands.map((rotationDeg) => ({ kind: "hand" as const, change: { speedMph: 0, rotationDeg } })),
  ];
}

/** The best line by all draws; of those that score alike the one nearest to where one stands. */
function best(lines: Lines, grids: readonly Float64Array[], stand: Place): Place {
  const mean = lines.within.map((within, at) =>
    within ? grids.reduce((sum, values) => sum + (values[at] ?? 0), 0) / grids.length : -Infinity,
  );
  const most = Math.max(...mean);
  let nearest = stand;
  let least = Infinity;
  mean.forEach((value, at) => {
    const place = lines.place(at);
    const far = Math.abs(place.laydown - stand.laydown) + BOARDS_A_DEGREE * Math.abs(place.angle - stand.angle);
    if (value >= most - ALIKE_PINS && far < least) [nearest, least] = [place, far];
  });
  return nearest;
}

function told(
  tables: ReadingTables,
  found: readonly Found[],
  staying: Found,
  believed: readonly Drawn[],
  share: number,
): Move[] {
  const moves = found.map((one) => moveOf(tables, one, staying, believed, share));
  const worth = (move: Move): number =>
    move.gain_pins_per_game - (move.kind === "stay" || move.kind === "feet and target" ? 0 : FEET_FIRST_PINS);
  const first = new Set<MoveKind>();
  return moves
    .sort((one, other) => worth(other) - worth(one))
    .filter((move) => !first.has(move.kind) && first.add(move.kind));
}

function moveOf(tables: ReadingTables, one: Found, staying: Found, believed: readonly Drawn[], share: number): Move {
  const gains = one.values.map((value, at) => value - (staying.values[at] ?? 0));
  const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
  const move = {
    kind: one.kind,
    ball: one.lane.table.ball,
    surface_grit: one.lane.table.surface_grit,
    line: lineOf(tables, one, believed, share),
    feet_boards: one.line.laydown - staying.line.laydown,
    target_boards: one.lane.target(one.line) - staying.lane.target(staying.line),
    speed_change_mph: one.change.speedMph,
    axis_rotation_change_deg: one.change.rotationDeg,
    expected_pins_per_game: mean(one.values),
    gain_pins_per_game: mean(gains),
    better_probability: gains.filter((gain) => gain > 0).length / gains.length,
  };
  return { ...move, words: wordsOf(tables, move) };
}

function lineOf(tables: ReadingTables, one: Found, believed: readonly Drawn[], share: number): MoveLine {
  const right = tables.hand === "right";
  const board = (own: number): number => (right ? own : MIRRORED_BOARDS - own);
  const numbers = tables.numbers.map((_, at) => believed.reduce((sum, each) => sum + (each.numbers[at] ?? 0), 0) / believed.length);
  const inside = believed.reduce((sum, each) => sum + each.inside, 0) / believed.length;
  const now = [...numbers, 2 * share - 1];
  const mark = (of: Lane["entry"]): number =>
    of.planned(one.line) + of.slopes(one.line).reduce((sum, slope, at) => sum + slope * (now[at] ?? 0), 0) + of.bent(now);
  const laydown = board(one.line.laydown);
  return {
    laydown_board: laydown,
    slide_board: laydown + (right ? 1 : -1) * tables.slide_to_laydown_boards,
    target_board: board(one.lane.target(one.line)),
    launch_angle_deg: one.line.angle,
    breakpoint_board: board(mark(one.lane.breakpoint)),
    entry_board: board(mark(one.lane.entry) + inside),
    speed_mph: tables.speed_mph + one.lane.table.speed_change_mph + one.change.speedMph,
  };
}

function wordsOf(tables: ReadingTables, move: Omit<Move, "words">): string {
  const [inward, outward] = tables.hand === "right" ? ["left", "right"] : ["right", "left"];
  const side = (boards: number): string => {
    const size = Math.round(2 * Math.abs(boards)) / 2;
    return size === 0 ? "as it is" : `${size} ${boards > 0 ? inward : outward}`;
  };
  const where = `feet ${side(move.feet_boards)}, target ${side(move.target_boards)}`;
  switch (move.kind) {
    case "stay":
      return "Stay";
    case "feet and target":
      return `F${where.slice(1)}`;
    case "ball":
      return `${move.ball} @ ${move.surface_grit}, ${where}`;
    case "speed":
      return `${Math.abs(move.speed_change_mph)} mph ${move.speed_change_mph > 0 ? "harder" : "softer"}, no move`;
    case "hand":
      return `${Math.abs(move.axis_rotation_change_deg)} degrees ${move.axis_rotation_change_deg > 0 ? "more" : "less"} axis rotation, no move`;
  }
}
