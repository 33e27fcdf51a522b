/** Deleting records so that it can be taken back. */

import type { Kept, Kind } from "$shared/types";
import { ask } from "./asking.svelte";
import { notices } from "./notices.svelte";

/** Delete a record and offer to take it back; `changed` is called after either. */
export async function deleteRecord(kind: Kind, record: Kept, changed: () => void): Promise<void> {
  await ask<Kept>(recordPath(kind, record.id), { method: "DELETE" });
  changed();
  notices.tell(`Deleted ${record.name}.`, () => restoreRecord(kind, record, changed));
}

/** Bring a deleted record back. */
export async function restoreRecord(kind: Kind, record: Kept, changed: () => void): Promise<void> {
  await ask<Kept>(`${recordPath(kind, record.id)}/restore`, { method: "POST", body: {} });
  changed();
  notices.tell(`${record.name} is back.`);
}

/** Address of one record in the API. */
export function recordPath(kind: Kind, id: string): string {
  return `/records/${kind}/${encodeURIComponent(id)}`;
}
