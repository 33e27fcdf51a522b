/** The packing list by headings, what was missing first; and what of a log belongs to it. */

import type { Standing } from "./journal";
import type { CaseWeight, PackingItem } from "./types";

export const MISSING_ABOUT = "missing";

export interface Heading<I> {
  title: string;
  items: I[];
}

/** A name as things are told apart by: whatever its case and spaces. */
export function known(item: string): string {
  return item.trim().split(/\s+/).join(" ").toLowerCase();
}

/** Items under their headings, in their order; those that were missing before stand first. */
export function headings<I extends PackingItem>(items: readonly I[], missing: readonly string[]): Heading<I>[] {
  const first = items.filter(({ item }) => missing.includes(item));
  const rest = items.filter(({ item }) => !missing.includes(item));
  const told = first.length ? [{ title: "missing last time", items: first }] : [];
  for (const title of new Set(rest.map(({ group }) => group))) {
    told.push({ title, items: rest.filter(({ group }) => group === title) });
  }
  return told;
}

/** What is packed, by the ticks of a log. */
export function packed(standing: readonly Standing[]): Set<string> {
  const done = new Map<string, boolean>();
  for (const { jotting } of standing) {
    if (jotting.kind === "tick") done.set(String(jotting.payload["item"]), jotting.payload["done"] === true);
  }
  return new Set([...done].filter(([, is]) => is).map(([item]) => item));
}

/** The notes of a log that say that a thing was missing, by its name: the id of each. */
export function missingNotes(standing: readonly Standing[]): Map<string, string> {
  const notes = standing.filter(({ jotting }) => jotting.kind === "note" && jotting.payload["about"] === MISSING_ABOUT);
  return new Map(notes.map(({ jotting }) => [String(jotting.payload["text"]), jotting.id]));
}

/** The ids of those notes that are of a thing, however its name was written. */
export function notesOf(notes: ReadonlyMap<string, string>, item: string): string[] {
  return [...notes].filter(([name]) => known(name) === known(item)).map(([, id]) => id);
}

/** "Kestrel, Saltmarsh: 55 lb of 50 lb, 5 lb too much." */
export function caseWords({ balls, weight_lb, limit_lb, over_lb }: CaseWeight): string {
  const over = over_lb > 0 ? `, ${round(over_lb)} lb too much` : "";
  return `${balls.join(", ")}: ${round(weight_lb)} lb of ${round(limit_lb)} lb${over}.`;
}

function round(pounds: number): number {
  return Math.round(10 * pounds) / 10;
}
