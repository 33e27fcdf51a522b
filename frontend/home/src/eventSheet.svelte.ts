/** The newest sheet of an event, asked for only where there is one. */

import type { EventSummary, KeptSheet } from "$shared/types";
import { Asked } from "./asking.svelte";
import { jobs } from "./jobs.svelte";

export class EventSheet {
  readonly summary: Asked<EventSummary>;
  readonly kept: Asked<KeptSheet>;
  /** Whether there is a sheet; null until that is known. */
  isMade = $derived.by(() => (this.summary.value === null ? null : this.summary.value.sheet !== null));
  /** Whether something that the sheet was made of has changed since. */
  isStale = $derived.by(() => this.summary.value?.sheet?.stale ?? false);
  #id = $derived.by(() => this.summary.value?.sheet?.id ?? null);

  /** Made while a component is being set up. */
  constructor(event: () => string) {
    this.summary = new Asked<EventSummary>(() => {
      void jobs.ended;
      return `/events/${event()}/summary`;
    });
    this.kept = new Asked<KeptSheet>(() => (this.#id === null ? null : `/events/${event()}/sheet`));
  }
}
