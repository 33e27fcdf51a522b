/** Which field of a form a problem belongs to. */

import type { Problem } from "$shared/types";

/** Whether a problem is told of this place or of something inside it: "pass" holds "pass 2". */
export function isAt(problem: Problem, place: string): boolean {
  if (problem.place === place) return true;
  return problem.place.startsWith(place) && /^[^\w]/.test(problem.place.slice(place.length));
}
