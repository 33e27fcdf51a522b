/** Records on the server: listed, read, saved, checked, put away and taken back. */

import { ask } from "../asking.svelte";
import type { Kept, Kind, Problem } from "$shared/types";
import type { Table } from "./form";

export interface Checked {
  problems: Problem[];
  guessed: string[];
  /** What stands for values that are left out, by the path of their field. */
  typical: Record<string, unknown>;
}

export async function recordsOf(kind: Kind, deleted = false): Promise<Kept<Table>[]> {
  const query = deleted ? "?deleted=true" : "";
  return (await ask<{ items: Kept<Table>[] }>(`/records/${kind}${query}`)).items;
}

export function recordOf(kind: Kind, id: string): Promise<Kept<Table>> {
  return ask(`/records/${kind}/${id}`);
}

export function addRecord(kind: Kind, document: Table): Promise<Kept<Table>> {
  return ask(`/records/${kind}`, { method: "POST", body: { document } });
}

export function saveRecord(
  kind: Kind,
  id: string,
  document: Table,
  revision: number,
): Promise<Kept<Table>> {
  return ask(`/records/${kind}/${id}`, { method: "PUT", body: { document, revision } });
}

export function deleteRecord(kind: Kind, id: string): Promise<Kept<Table>> {
  return ask(`/records/${kind}/${id}`, { method: "DELETE" });
}

export function checkRecord(kind: Kind, document: Table, signal?: AbortSignal): Promise<Checked> {
  const asking = { method: "POST", body: { document } } as const;
  return ask(`/records/${kind}/check`, signal ? { ...asking, signal } : asking);
}
