/** What a correction writes down: the shot put right, and with it the second ball, whose pins were the
 * first one's leave. */

import { FULL_RACK } from "$shared/leaves";
import { FRAMES } from "$shared/game";
import type { Standing } from "$shared/journal";
import type { ShotPayload } from "$shared/types";
import type { Draft } from "./log";

/** Jottings that put `found` right as `corrected`. */
export function corrections(found: Standing, corrected: ShotPayload, log: readonly Standing[]): Draft[] {
  const first: Draft = { kind: "shot", payload: { ...corrected }, supersedes: found.jotting.id };
  const next = log.find(({ jotting }) => jotting.kind === "shot" && follows(shotIn(jotting), corrected));
  return next ? [first, ...secondBall(next, corrected)] : [first];
}

function shotIn(jotting: Standing["jotting"]): ShotPayload {
  return jotting.payload as unknown as ShotPayload;
}

function follows(shot: ShotPayload, before: ShotPayload): boolean {
  return shot.game === before.game && shot.frame === before.frame && shot.delivery === before.delivery + 1;
}

/** The ball after it, facing what now stood; taken back where a strike leaves it no place. */
function secondBall({ jotting }: Standing, before: ShotPayload): Draft[] {
  const shot = shotIn(jotting);
  const left = before.foul ? before.standing_before : before.standing_after;
  if (!left || !shot.standing_after) return [];
  if (left.length === 0 && before.frame < FRAMES) {
    return [{ kind: "void", payload: {}, supersedes: jotting.id }];
  }
  const faced = left.length ? left : FULL_RACK;
  if (faced.length === shot.standing_before?.length && faced.every((pin) => shot.standing_before?.includes(pin))) return [];
  const after = shot.standing_after.filter((pin) => faced.includes(pin));
  const payload = { ...shot, standing_before: [...faced], standing_after: after };
  return [{ kind: "shot", payload, supersedes: jotting.id }];
}
