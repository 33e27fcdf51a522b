/** Colours of maps, as on the printed sheet: palette.json is held to reports/palette.py by a test. */

import palette from "./palette.json";

export const FILM_STEPS_UNITS: readonly number[] = palette.film_steps_units;
export const FILM_COLOURS: readonly string[] = palette.film_colours;
export const STRIKE_STEPS: readonly number[] = palette.strike_steps;
export const STRIKE_COLOURS: readonly string[] = palette.strike_colours;

/** The path of a ball. */
export const ACCENT = palette.accent;
/** What marks on a film stand on. */
export const HALO = palette.halo;
/** Marks and words on a film, by day and by night. */
export const INK = palette.ink;
/** Paths of several balls. */
export const PATH_COLOURS: readonly string[] = palette.path_colours;

/** How many of the rising `steps` a value has reached. */
export function stepOf(value: number, steps: readonly number[]): number {
  let reached = 0;
  while (reached < steps.length && value >= steps[reached]!) reached += 1;
  return reached;
}

/** Colour of a film of so many units of oil. */
export function filmColour(units: number): string {
  return FILM_COLOURS[stepOf(units, FILM_STEPS_UNITS)]!;
}

/** Colour of a chance of a strike. */
export function strikeColour(probability: number): string {
  return STRIKE_COLOURS[stepOf(probability, STRIKE_STEPS)]!;
}
