/** Long work that the laptop does for the phone. */

import { ask, Refusal } from "$shared/api";
import type { Job, JobKind } from "$shared/types";

const WAIT_MS = 1500;

/** Let the laptop do something for an event, and wait for it; `tell` hears how far it is. Throws where
 * it stopped without an end. */
export async function letLaptop(event: string, kind: JobKind, tell: (words: string) => void): Promise<void> {
  let job = await ask<Job>(`/events/${event}/jobs`, { method: "POST", body: { kind } });
  while (job.state === "waiting" || job.state === "running") {
    tell(job.total > 0 ? `${job.label || "The laptop works"}: ${job.done} of ${job.total}` : "The laptop works …");
    await new Promise((done) => setTimeout(done, WAIT_MS));
    job = await ask<Job>(`/jobs/${job.id}`);
  }
  if (job.state !== "done") throw new Error(job.why || "The laptop stopped before it was done.");
}

/** Why the laptop did not answer as hoped, in words. */
export function whyNot(cause: unknown): string {
  if (cause instanceof Refusal && cause.status === 0) return "The laptop is out of reach.";
  return cause instanceof Error ? cause.message : String(cause);
}
