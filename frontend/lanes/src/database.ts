/** What the phone keeps: the log, the pockets, and a few things of its own. */

import type { Jotting, Pocket } from "$shared/types";
import { openDB, type DBSchema, type IDBPDatabase } from "idb";

/** How it stands with a jotting: not yet at the server; there; there under its id with other content;
 * or turned away. The last two are kept and shown. */
export type Sent = "unsent" | "sent" | "conflict" | "refused";

/** A jotting on this phone. */
export interface Row {
  id: string;
  event: string;
  sent: Sent;
  seq: number | null;
  why: string;
  jotting: Jotting;
}

/** An event that was opened here. */
export interface KeptPocket {
  event: string;
  opened_at: string;
  pocket: Pocket;
}

interface Schema extends DBSchema {
  log: { key: string; value: Row; indexes: { event: string; sent: Sent } };
  pockets: { key: string; value: KeptPocket };
  own: { key: string; value: unknown };
}

export type Database = IDBPDatabase<Schema>;

/** One origin has one store for all its folders, so the name is one that nobody else takes. */
export const DATABASE = "nextpair-at-the-lanes";

/** Open it. `outdated` is called when another tab needs this one to let go. */
export async function openDatabase(outdated: () => void = () => {}): Promise<Database> {
  return openDB<Schema>(DATABASE, 1, {
    upgrade(database) {
      const log = database.createObjectStore("log", { keyPath: "id" });
      log.createIndex("event", "event");
      log.createIndex("sent", "sent");
      database.createObjectStore("pockets", { keyPath: "event" });
      database.createObjectStore("own");
    },
    blocking(_current, _blocked, event) {
      (event.target as IDBDatabase).close();
      outdated();
    },
  });
}

/** A thing of the phone's own, by name; undefined where it was never kept. */
export async function own<T>(database: Database, name: string): Promise<T | undefined> {
  return (await database.get("own", name)) as T | undefined;
}

export async function keepOwn(database: Database, name: string, value: unknown): Promise<void> {
  await database.put("own", value, name);
}

export async function keepPocket(database: Database, pocket: Pocket): Promise<void> {
  await database.put("pockets", { event: pocket.event_id, opened_at: new Date().toISOString(), pocket });
}

/** Events opened here, the newest first. */
export async function pockets(database: Database): Promise<KeptPocket[]> {
  const kept = await database.getAll("pockets");
  return kept.sort((one, other) => other.opened_at.localeCompare(one.opened_at));
}
