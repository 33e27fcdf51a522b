/** A log as it stands: which jottings count, once corrections and what was taken back are seen to.
 *
 * The laptop has the same rule in application/journal.py; both are held to tests/journal_cases.json. */

import type { Jotting } from "./types";

/** A jotting and its place in the server's count; null while only this device has it. */
export interface KeptJotting {
  seq: number | null;
  jotting: Jotting;
}

/** What counts of one thing written down: its newest version, and the id it began under. */
export interface Standing {
  root: string;
  jotting: Jotting;
}

/** Oldest first: by the server's count, then what it has not seen yet, by the device's own. */
export function inOrder<K extends KeptJotting>(log: Iterable<K>): K[] {
  return [...log].sort(
    (one, other) =>
      (one.seq ?? Infinity) - (other.seq ?? Infinity) ||
      one.jotting.device_seq - other.jotting.device_seq,
  );
}

/** For each thing written down its newest version, in the order in which things were first written.
 *
 * Newest is the last of those that no other one supersedes: a correction may come in before what it
 * corrects. One that supersedes a jotting that is not here begins a thing of its own, under the id
 * that is missing: it is not lost, and joins once the other arrives. */
export function standing(log: Iterable<KeptJotting>): Standing[] {
  const kept = inOrder(log).map((one) => one.jotting);
  const before = new Map(kept.map((one) => [one.id, one.supersedes]));
  const corrected = new Set(before.values());
  const newest = new Map<string, Jotting>();
  for (const jotting of kept) {
    const root = rootOf(jotting.id, before);
    const held = newest.get(root);
    if (!held || corrected.has(held.id) || !corrected.has(jotting.id)) newest.set(root, jotting);
  }
  return [...newest]
    .filter(([, jotting]) => jotting.kind !== "void")
    .map(([root, jotting]) => ({ root, jotting }));
}

/** The first of a chain of versions; of a chain that bites its tail, its least id. */
function rootOf(id: string, before: ReadonlyMap<string, string | null>): string {
  const seen = new Set<string>();
  for (let earlier = before.get(id); earlier != null; earlier = before.get(id)) {
    if (seen.has(id)) return [...seen].sort()[0]!;
    seen.add(id);
    id = earlier;
  }
  return id;
}
