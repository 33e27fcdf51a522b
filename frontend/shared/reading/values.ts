/** What every line of a ball is worth on a lane, under one draw: pins of a game thrown so. */

import { type PinValues, blurred, offsetOf } from "./impacts";
import { type Lane, type Mark, type Place, type ReadingTables, lineTerms } from "./tables";

const FINER = 2;
const AIM_BOARDS = 0.3;
const AIM_DEG = 0.08;
const EDGE_BOARD = 1.5;
const MOST_BLUR = 5;
const NEAR_BOARDS = 3.5;
const NEAR_DEG = 1.4;
const WIDER_EACH_MPH = 0.25;
const WIDER_EACH_DEG = 0.025;
const HUNDREDTHS = 100;

/** How a ball is let go of otherwise than the table's own way. */
export interface Change {
  speedMph: number;
  rotationDeg: number;
}

export const AS_TABLED: Change = { speedMph: 0, rotationDeg: 0 };

/** The lines of a table, finer than they were rolled, and what does not depend on the draw. */
export class Lines {
  readonly laydowns: number[];
  readonly angles: number[];
  readonly within: boolean[];
  private readonly terms: Float64Array;
  private readonly breakpoint: Float64Array;
  private readonly entry: Float64Array;
  private readonly angle: Float64Array;
  private readonly blur: Float64Array;

  /** All lines, or where `about` is told those near it: as far as its value is blurred over. */
  constructor(
    private readonly tables: ReadingTables,
    readonly lane: Lane,
    about?: Place,
  ) {
    const { table } = lane;
    this.laydowns = near(finer(table.laydowns), about?.laydown, NEAR_BOARDS);
    this.angles = near(finer(table.angles), about?.angle, NEAR_DEG);
    const places = this.laydowns.flatMap((laydown) => this.angles.map((angle) => ({ laydown, angle })));
    this.within = places.map((place) => inReach(tables, place));
    this.terms = Float64Array.from(places.flatMap((place) => lineTerms(table, place)));
    const read = (mark: Mark): Float64Array => Float64Array.from(places, (place) => mark.planned(place));
    this.breakpoint = read(lane.breakpoint);
    this.entry = read(lane.entry);
    this.angle = read(lane.angle);
    this.blur = Float64Array.from(places, (place) => this.blurAt(place));
  }

  place(at: number): Place {
    const columns = this.angles.length;
    return { laydown: this.laydowns[Math.floor(at / columns)] ?? 0, angle: this.angles[at % columns] ?? 0 };
  }

  /** Value of every line under a draw, with the bowler's scatter. */
  values(pins: PinValues, numbers: readonly number[], inside: number, share: number, change = AS_TABLED): Float64Array {
    const moved = [...this.changed(numbers, change), 2 * share - 1];
    const breaks = this.moved(this.breakpoint, this.lane.breakpoint.moved(moved));
    const enters = this.moved(this.entry, this.lane.entry.moved(moved));
    const turns = this.moved(this.angle, this.lane.angle.moved(moved));
    const wider = this.wider(change);
    const sharp = new Float64Array(breaks.length);
    for (let at = 0; at < sharp.length; at++) {
      const degrees = turns[at] ?? 0;
      const blur = Math.min(wider * (this.blur[at] ?? 0), MOST_BLUR);
      sharp[at] =
        (breaks[at] ?? 0) < EDGE_BOARD ? pins.lost : pins.at(blur, offsetOf((enters[at] ?? 0) + inside, degrees), degrees);
    }
    const { scatter } = this.tables;
    return blurred(
      sharp,
      this.laydowns.length,
      this.angles.length,
      Math.hypot(wider * scatter.laydown_boards, AIM_BOARDS) / this.step(this.laydowns),
      Math.hypot(wider * scatter.launch_angle_deg, AIM_DEG) / this.step(this.angles),
    );
  }

  /** Value of any line, read between those of the table. */
  read(values: Float64Array, place: Place): number {
    const [i, along] = between(this.laydowns, place.laydown);
    const [j, across] = between(this.angles, place.angle);
    const columns = this.angles.length;
    const row = (at: number): number =>
      (1 - across) * (values[at * columns + j] ?? 0) + across * (values[at * columns + j + 1] ?? 0);
    return (1 - along) * row(i) + along * row(i + 1);
  }

  /** A mark of every line, moved by a quadratic of the line. */
  private moved(planned: Float64Array, quadratic: readonly number[]): Float64Array {
    const found = Float64Array.from(planned);
    const count = quadratic.length;
    for (let at = 0; at < found.length; at++) {
      let sum = found[at] ?? 0;
      for (let term = 0; term < count; term++) sum += (quadratic[term] ?? 0) * (this.terms[at * count + term] ?? 0);
      found[at] = sum;
    }
    return found;
  }

  private changed(numbers: readonly number[], change: Change): number[] {
    return numbers.map((value, place) => {
      const number = this.tables.numbers[place];
      if (number?.name === "speed_mps") return value + change.speedMph / number.spread;
      return number?.name === "rotation_rad" ? value + change.rotationDeg / number.spread : value;
    });
  }

  private wider(change: Change): number {
    return 1 + WIDER_EACH_MPH * Math.abs(change.speedMph) + WIDER_EACH_DEG * Math.abs(change.rotationDeg);
  }

  /** Scatter of the entry from speed, revs and rotation alone. */
  private blurAt(place: Place): number {
    const slopes = this.lane.entry.slopes(place);
    const { scatter } = this.tables;
    const own = new Map([["speed_mps", scatter.speed_mph], ["revs_log", scatter.revs_share], ["rotation_rad", scatter.axis_rotation_deg]]);
    const parts = this.tables.numbers.map((number, at) => ((slopes[at] ?? 0) * (own.get(number.name) ?? 0)) / number.spread);
    return Math.hypot(...parts);
  }

  private step(places: readonly number[]): number {
    return (places[1] ?? 1) - (places[0] ?? 0);
  }
}

function finer(places: { first: number; step: number; count: number }): number[] {
  const step = places.step / HUNDREDTHS / FINER;
  return Array.from({ length: FINER * (places.count - 1) + 1 }, (_, at) => places.first / HUNDREDTHS + at * step);
}

function near(places: number[], middle: number | undefined, reach: number): number[] {
  if (middle === undefined) return places;
  const found = places.filter((place) => Math.abs(place - middle) <= reach);
  return found.length > 1 ? found : places;
}

function inReach(tables: ReadingTables, place: Place): boolean {
  const [low, high] = tables.reach.laydown_boards;
  const [least, most] = tables.reach.launch_angle_deg;
  return place.laydown >= low - 0.01 && place.laydown <= high + 0.01 && place.angle >= least - 0.01 && place.angle <= most + 0.01;
}

function between(places: readonly number[], value: number): [number, number] {
  const first = places[0] ?? 0;
  const step = (places[1] ?? 1) - first;
  const at = Math.min(Math.max((value - first) / step, 0), places.length - 1);
  const low = Math.min(Math.floor(at), places.length - 2);
  return [low, at - low];
}
