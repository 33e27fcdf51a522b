/** Long work on the server: started, followed while it runs, cancelled. */

import { Refusal, apiUrl } from "$shared/api";
import type { Job, JobKind } from "$shared/types";
import { ask } from "./asking.svelte";

const ASK_AGAIN_MS = 1000;

class Jobs {
  items = $state.raw<Job[]>([]);
  /** How many jobs have ended since the page was loaded: read it to ask again for what they make. */
  ended = $state(0);

  /** Follow what was running before the page was loaded. */
  async open(): Promise<void> {
    const { items } = await ask<{ items: Job[] }>("/jobs?active=true");
    for (const job of items) this.#follow(job);
  }

  async start(event: string, kind: JobKind, how: { seed?: number; with_log?: boolean } = {}): Promise<void> {
    const body = { kind, ...how };
    this.#follow(await ask<Job>(`/events/${event}/jobs`, { method: "POST", body }));
  }

  async cancel(job: Job): Promise<void> {
    this.#note(await ask<Job>(`/jobs/${job.id}`, { method: "DELETE" }));
  }

  /** The last job of an event, of these kinds, that this page knows of. */
  of(event: string, ...kinds: JobKind[]): Job | null {
    return this.items.findLast((job) => job.event === event && kinds.includes(job.kind)) ?? null;
  }

  /** Take a job that has ended off the page. */
  close(job: Job): void {
    this.items = this.items.filter((other) => other.id !== job.id);
  }

  #follow(job: Job): void {
    this.#note(job);
    if (isOver(job)) return;
    const told = new EventSource(apiUrl(`/jobs/${job.id}/progress`));
    told.addEventListener("job", (event: MessageEvent<string>) => {
      const now = JSON.parse(event.data) as Job;
      this.#note(now);
      if (isOver(now)) told.close();
    });
    told.addEventListener("error", () => {
      told.close();
      void this.#poll(job.id);
    });
  }

  /** Ask now and then instead, where the stream broke off. */
  async #poll(id: string): Promise<void> {
    for (;;) {
      const known = this.items.find((job) => job.id === id);
      if (!known || isOver(known)) return;
      try {
        this.#note(await ask<Job>(`/jobs/${id}`));
      } catch (cause) {
        if (!(cause instanceof Refusal && cause.status === 0)) return;
      }
      await new Promise((wake) => setTimeout(wake, ASK_AGAIN_MS));
    }
  }

  #note(job: Job): void {
    const before = this.items.find((other) => other.id === job.id);
    if (before && isOver(before)) return;
    this.items = before ? this.items.map((other) => (other.id === job.id ? job : other)) : [...this.items, job];
    if (isOver(job)) this.ended += 1;
  }
}

/** Whether a job has come to its end, good or bad. */
export function isOver(job: Job): boolean {
  return job.state !== "waiting" && job.state !== "running";
}

export const jobs = new Jobs();
