/** Where a problem lies: from the place that the server tells to the path of a field. */

import type { Problem } from "$shared/types";

/** "pass 2: end_ft" is "pass.1.end_ft", "lane table 3: tilt_in" is "lane.2.tilt_in". Rows of a
 * squad lie in `rows`; a ball is a row of its own. */
export function fieldPath(place: string): string {
  return place
    .replace(/^lane table (\d+)/, "lane $1")
    .replace(/^row (\d+)/, "rows $1")
    .replace(/ (\d+)(?=:|$|\.)/g, (_found, number: string) => `.${Number(number) - 1}`)
    .replace(/: /g, ".");
}

const OF_A_BALL = /^rows\.0\./;

/** Problems by the path of their field, the first one of each. */
export function problemsByPath(problems: readonly Problem[], kind: string): Record<string, Problem> {
  const found: Record<string, Problem> = {};
  for (const problem of problems) {
    const path = fieldPath(problem.place);
    found[kind === "ball" ? path.replace(OF_A_BALL, "") : path] ??= problem;
  }
  return found;
}

/** A problem as its field says it. */
export function problemWords({ found, allowed }: Problem): string {
  if (allowed.endsWith(" (needed)")) return `Needed: ${allowed.slice(0, -" (needed)".length)}.`;
  const what = allowed.charAt(0).toUpperCase() + allowed.slice(1);
  return found === "" || found === "nothing" ? `${what}.` : `Found ${found}. Allowed: ${allowed}.`;
}
