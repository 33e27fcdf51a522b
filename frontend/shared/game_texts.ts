/** Shots made of a game as it is written, for tests. */

import type { Bowled } from "./game";
import { FULL_RACK } from "./leaves";
import type { ShotPayload } from "./types";

/** Shots of a game written as on a score sheet: frames by commas, as in the authority's file. */
export function shotsOf(text: string): Bowled[] {
  return text.split(",").flatMap((written, index) => {
    let standing: readonly number[] = FULL_RACK;
    const balls = written.trim().match(/X|\/|F|\((\d)\)|\d|-(?=\s|\/|-|$)/gi) ?? [];
    return balls.map((ball, place) => {
      const digit = /\d/.exec(ball)?.[0];
      const felled = ball === "X" || ball === "/" ? standing.length : Number(digit ?? 0);
      const before = standing;
      const after = standing.slice(felled);
      const foul = ball === "F";
      standing = after.length && !foul ? after : FULL_RACK;
      return bowled(index + 1, place + 1, before, after, foul);
    });
  });
}

export function bowled(
  frame: number,
  delivery: number,
  before: readonly number[],
  after: readonly number[] | null,
  foul = false,
  lane = 15,
): Bowled {
  const shot: ShotPayload = {
    game: 1, frame, delivery, lane, ball: "Kestrel", foul,
    standing_before: [...before],
    standing_after: after && [...after],
  };
  return { root: `${frame}.${delivery}`, shot };
}
