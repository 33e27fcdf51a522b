/** Shots as they are told in a list. */

import { leaveWords } from "$shared/leaves";
import type { ShotPayload } from "$shared/types";

/** What a shot did: "strike", "3-10 stand", "spare". */
export function resultWords(shot: ShotPayload): string {
  const { standing_before: before, standing_after: after } = shot;
  if (shot.foul) return "foul";
  if (!after) return "not seen";
  if (after.length === 0) return !before || before.length === 10 ? "strike" : "spare";
  if (before && after.length === before.length) return before.length === 10 ? "gutter" : `missed, ${leaveWords(after)} ${stand(after)}`;
  return `${leaveWords(after)} ${stand(after)}`;
}

function stand(pins: readonly number[]): string {
  return pins.length === 1 ? "stands" : "stand";
}

/** Where a shot belongs: "Frame 4, ball 1". */
export function placeWords(shot: { frame: number; delivery: number }): string {
  return `Frame ${shot.frame}, ball ${shot.delivery}`;
}
