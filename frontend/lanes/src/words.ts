/** What this page says of games and surfaces; the rest is in shared/words.ts. */

import { PRACTICE } from "$shared/game";
import type { Grit, Hand } from "$shared/types";
import { countingWords, sentence } from "$shared/words";

export function gritWords(grit: Grit | null): string {
  return grit === null ? "" : `@ ${grit}`;
}

export function gameWords(game: number): string {
  return game === PRACTICE ? "Practice" : `Game ${game}`;
}

/** Which edge the boards on this page count from. */
export function edgeWords(hand: Hand): string {
  return sentence(countingWords(hand));
}

/** "1 entry", "12 entries". */
export function entries(count: number): string {
  return count === 1 ? "1 entry" : `${count} entries`;
}
