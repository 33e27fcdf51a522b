/** A film as a picture: the printed sheet's steps of colour, smooth between boards and feet. */

import { FILM_COLOURS, FILM_STEPS_UNITS } from "../palette";
import lane from "./lane.json";

export const FILM_ROWS_FT = 60;
const BOARDS = lane.boards;
const ACROSS_PX = 6;
const ALONG_PX = 8;
const WIDTH_PX = BOARDS * ACROSS_PX;
const HEIGHT_PX = FILM_ROWS_FT * ALONG_PX;
const THICKEST = FILM_COLOURS.length - 1;

/**
 * Step of the film's colours at every foot from the foul line and every board from the right, with
 * its share of the way to the next step: 2.5 is half way from the second step to the third.
 */
export type Levels = Float32Array;

/** Levels of a film in units, 60 rows of 39 boards. */
export function levelsOfUnits(units: readonly (readonly number[])[]): Levels {
  return levelsOf((foot, board) => levelOf(units[foot]?.[board] ?? 0));
}

/** Levels of a film told in steps: 60 rows of 39 hex digits. */
export function levelsOfSteps(rows: readonly string[]): Levels {
  return levelsOf((foot, board) => Number.parseInt(rows[foot]?.[board] ?? "0", 16) + 0.5);
}

/** Levels on the way from one film to another. */
export function levelsBetween(before: Levels, after: Levels, share: number): Levels {
  const between = new Float32Array(after.length);
  for (let cell = 0; cell < after.length; cell += 1) {
    between[cell] = before[cell]! + share * (after[cell]! - before[cell]!);
  }
  return between;
}

/** What lies under a place in words: "5 to 8 units". */
export function filmWords(levels: Levels, board: number, ft: number): string {
  const row = Math.min(Math.max(Math.floor(ft), 0), FILM_ROWS_FT - 1);
  const column = Math.min(Math.max(Math.round(board), 1), BOARDS) - 1;
  const step = Math.min(Math.floor(levels[row * BOARDS + column]!), THICKEST);
  if (step === 0) return "dry";
  if (step === THICKEST) return `over ${FILM_STEPS_UNITS[step - 1]} units`;
  return `${FILM_STEPS_UNITS[step - 1]} to ${FILM_STEPS_UNITS[step]} units`;
}

/** A film as a picture, to be laid on lanes of any size: pins above, board 1 at the right. */
export class FilmPicture {
  readonly canvas = document.createElement("canvas");
  readonly #image = new ImageData(WIDTH_PX, HEIGHT_PX);
  readonly #pixels = new Uint32Array(this.#image.data.buffer);

  constructor(levels: Levels) {
    this.canvas.width = WIDTH_PX;
    this.canvas.height = HEIGHT_PX;
    this.show(levels);
  }

  show(levels: Levels): void {
    paint(levels, this.#pixels);
    this.canvas.getContext("2d")?.putImageData(this.#image, 0, 0);
  }
}

/** Fill pixels, row by row from the pins down, with the colours of a film. */
export function paint(levels: Levels, pixels: Uint32Array): void {
  const row = new Float32Array(BOARDS + 2);
  let pixel = 0;
  for (let y = 0; y < HEIGHT_PX; y += 1) {
    acrossAt(levels, FILM_ROWS_FT - (y + 0.5) / ALONG_PX, row);
    for (let board = 0; board <= BOARDS; board += 1) {
      const level = row[board]!;
      const rise = row[board + 1]! - level;
      const end = board === BOARDS ? ACROSS_PX / 2 : ACROSS_PX;
      for (let x = board === 0 ? ACROSS_PX / 2 : 0; x < end; x += 1) {
        pixels[pixel++] = PIXEL_COLOURS[(level + ((x + 0.5) / ACROSS_PX) * rise) | 0]!;
      }
    }
  }
}

/** The film across the lane at one distance, from left to right, each edge board twice. */
function acrossAt(levels: Levels, ft: number, row: Float32Array): void {
  const centred = Math.min(Math.max(ft - 0.5, 0), FILM_ROWS_FT - 1);
  const near = Math.min(Math.floor(centred), FILM_ROWS_FT - 2);
  const share = centred - near;
  for (let board = 0; board < BOARDS; board += 1) {
    const cell = near * BOARDS + board;
    row[BOARDS - board] = levels[cell]! + share * (levels[cell + BOARDS]! - levels[cell]!);
  }
  row[0] = row[1]!;
  row[BOARDS + 1] = row[BOARDS]!;
}

function levelsOf(levelAt: (foot: number, board: number) => number): Levels {
  const levels = new Float32Array(FILM_ROWS_FT * BOARDS);
  for (let cell = 0; cell < levels.length; cell += 1) {
    levels[cell] = levelAt(Math.floor(cell / BOARDS), cell % BOARDS);
  }
  return levels;
}

function levelOf(units: number): number {
  let begins = 0;
  for (const [step, ends] of FILM_STEPS_UNITS.entries()) {
    if (units < ends) return step + Math.max(units - begins, 0) / (ends - begins);
    begins = ends;
  }
  return THICKEST;
}

/** As image data holds them on the little-endian machines that browsers run on: alpha first. */
const PIXEL_COLOURS = Uint32Array.from([...FILM_COLOURS, FILM_COLOURS[THICKEST]!], (colour) => {
  const rgb = Number.parseInt(colour.slice(1), 16);
  return (0xff000000 | ((rgb & 0xff) << 16) | (rgb & 0xff00) | (rgb >> 16)) >>> 0;
});
