/** What a screen says of an answer that was no good one. */

import type { Refusal } from "$shared/api";
import type { Problem } from "$shared/types";

const SIGNED_OUT = 401;
const TOO_OFTEN = 429;
const SIGN_IN_PLACE = "name or password";

/** One text for each problem; those that `isShown` says a field shows itself are left out. */
export function refusalWords(refusal: Refusal, isShown: (problem: Problem) => boolean = () => false): string[] {
  const { status, problems } = refusal;
  if (status === 0) return ["The program does not answer. Is `nextpair serve` still running?"];
  if (problems.length === 0) return [refusal.message];
  return problems.filter((problem) => !isShown(problem)).map((problem) => wordsOf(status, problem));
}

function wordsOf(status: number, { place, allowed, words }: Problem): string {
  if (status === TOO_OFTEN) return `That was too often in a short time. Try ${allowed}.`;
  if (status === SIGNED_OUT && place === SIGN_IN_PLACE) return "Nobody here has this name and password.";
  return words;
}
