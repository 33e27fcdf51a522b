/** Where the phone's things are kept: in the browser's store, or, where that is not to be had, in the
 * open page alone. */

import { uuid7 } from "$shared/ids";
import type { Jotting, Pocket } from "$shared/types";
import { keepOwn, keepPocket, own, pockets, type Database, type KeptPocket, type Row } from "./database";
import { rowOfStranger, rowsFor, rowsOf, sendAgain, takeInFile, write, type Draft } from "./log";

export interface Keeping {
  pockets(): Promise<KeptPocket[]>;
  keepPocket(pocket: Pocket): Promise<void>;
  own<T>(name: string): Promise<T | undefined>;
  keepOwn(name: string, value: unknown): Promise<void>;
  rowsOf(event: string): Promise<Row[]>;
  write(event: string, drafts: readonly Draft[]): Promise<Row[]>;
  takeIn(jottings: readonly Jotting[]): Promise<number>;
  sendAgain(ids: readonly string[]): Promise<void>;
}

export function inBrowser(database: Database): Keeping {
  return {
    pockets: () => pockets(database),
    keepPocket: (pocket) => keepPocket(database, pocket),
    own: (name) => own(database, name),
    keepOwn: (name, value) => keepOwn(database, name, value),
    rowsOf: (event) => rowsOf(database, event),
    write: (event, drafts) => write(database, event, drafts),
    takeIn: (jottings) => takeInFile(database, jottings),
    sendAgain: (ids) => sendAgain(database, ids),
  };
}

/** Kept as long as the page is open, and no longer. */
export function inPage(): Keeping {
  const kept = new Map<string, KeptPocket>();
  const things = new Map<string, unknown>();
  const rows = new Map<string, Row>();
  const device = uuid7();
  let lastSeq = 0;
  return {
    pockets: async () => [...kept.values()],
    keepPocket: async (pocket) => {
      kept.set(pocket.event_id, { event: pocket.event_id, opened_at: new Date().toISOString(), pocket });
    },
    own: async <T>(name: string) => things.get(name) as T | undefined,
    keepOwn: async (name, value) => {
      things.set(name, value);
    },
    rowsOf: async (event) => [...rows.values()].filter((row) => row.event === event),
    write: async (event, drafts) => {
      const written = rowsFor(event, drafts, device, lastSeq);
      lastSeq += written.length;
      for (const row of written) rows.set(row.id, row);
      return written;
    },
    takeIn: async (jottings) => {
      const strangers = jottings.filter(({ id }) => !rows.has(id));
      for (const jotting of strangers) rows.set(jotting.id, rowOfStranger(jotting));
      return strangers.length;
    },
    sendAgain: async () => {},
  };
}
