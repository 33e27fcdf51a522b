/** Films of patterns, as the server measures them. */

import { type Trace, ruleOf31 } from "$shared/lane/trace";
import { levelsOfUnits } from "$shared/lane/film";
import { ask } from "../asking.svelte";
import type { Table } from "./form";
import { rounded } from "./numbers";

/** What `nextpair film --json` tells, as far as these screens show it. */
export interface FilmCard {
  name: string;
  length_ft: number;
  volume_ml: number;
  ratio: number | null;
  sport_class: string;
  viscosity_cp: number;
  forward_to_ft: number | null;
  buff_ft: number;
  right_side_ratio: number | null;
  left_side_ratio: number | null;
  rule_of_31_exit_board_right_hander: number;
  rule_of_31_exit_board_left_hander: number;
  film_units: number[][];
}

export interface LibraryPattern {
  /** As an event names it: "library: Mill Race 35". */
  name: string;
  document: Table;
  length_ft: number;
  volume_ml: number;
  ratio: number | null;
  description: string;
}

export type FilmAsked = { document: Table } | { name: string };

/** How the name of a library pattern begins, where it could be one of the bowler's own. */
export const LIBRARY_MARK = "library: ";

/** The name of a pattern as it is said. */
export function plainName(name: string): string {
  return name.startsWith(LIBRARY_MARK) ? name.slice(LIBRARY_MARK.length) : name;
}

export function filmOf(asked: FilmAsked, signal?: AbortSignal): Promise<FilmCard> {
  return ask("/patterns/film", { method: "POST", body: asked, ...(signal ? { signal } : {}) });
}

export async function library(): Promise<LibraryPattern[]> {
  return (await ask<{ items: LibraryPattern[] }>("/library")).items;
}

/** A film without a path: what LanePicture draws of it. */
export function traceOfFilm(card: FilmCard): Trace {
  return {
    label: `${card.name}, fresh`,
    levels: levelsOfUnits(card.film_units),
    path: [],
    band: [],
    slideBoard: null,
    breakpoint: null,
    rule: ruleOf31(card.length_ft, "right"),
    ghost: [],
  };
}

/** Inside over outside, as "3.1:1". */
export function ratioWords(ratio: number | null): string {
  return ratio === null ? "dry outside" : `${rounded(ratio, 1)}:1`;
}

/** "43 ft, 26.1 mL, 3.1:1". */
export function filmNumbers(card: Pick<FilmCard, "length_ft" | "volume_ml" | "ratio">): string {
  return `${rounded(card.length_ft, 1)} ft, ${rounded(card.volume_ml, 1)} mL, ${ratioWords(card.ratio)}`;
}

/** A library pattern as one of the bowler's own, under a name that is free. */
export function ownCopy(pattern: LibraryPattern, taken: readonly string[]): Table {
  const plain = plainName(pattern.name);
  let name = plain;
  for (let count = 2; taken.includes(name); count += 1) name = `${plain}, ${count}`;
  return { ...structuredClone(pattern.document), name };
}
