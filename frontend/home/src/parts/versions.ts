/** Two versions of a record side by side: what differs, in words. */

import type { Table } from "./form";

export interface Difference {
  key: string;
  mine: string;
  theirs: string;
}

/** The keys in which two documents differ. */
export function differences(mine: Table, theirs: Table): Difference[] {
  const keys = [...new Set([...Object.keys(mine), ...Object.keys(theirs)])];
  return keys
    .filter((key) => JSON.stringify(mine[key]) !== JSON.stringify(theirs[key]))
    .map((key) => ({ key, mine: told(mine[key]), theirs: told(theirs[key]) }));
}

function told(value: unknown): string {
  if (value === undefined || value === null) return "left out";
  if (Array.isArray(value)) return value.length > 4 ? `${value.length} rows` : value.map(told).join("; ");
  if (typeof value === "object") {
    return Object.entries(value)
      .map(([key, inner]) => `${words(key)} ${told(inner)}`)
      .join(", ");
  }
  return String(value);
}

/** A key in words: "surface_age_years" is "surface age years". */
export function words(key: string): string {
  return key.replaceAll("_", " ");
}
