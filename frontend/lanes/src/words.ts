/** What this page says of games and surfaces; the rest is in shared/words.ts. */

import { PRACTICE } from "$shared/game";
import type { Grit, Hand } from "$shared/types";
import { counted, countingWords, percent, sentence } from "$shared/words";

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

/** Pins a game that paces and series are held against. */
export const EVEN_PINS = 200;

/** Pins over or under an even 200 a game. */
export function evenWords(over: number): string {
  if (over === 0) return `an even ${EVEN_PINS} a game`;
  return `${counted(Math.abs(over), "pin")} ${over > 0 ? "over" : "under"} ${EVEN_PINS} a game`;
}

/** The chance of a spare. That no rolled rack made it does not say that nobody can. */
export function spareChance(probability: number): string {
  return probability < 0.005 ? "under 1 %" : percent(probability);
}
