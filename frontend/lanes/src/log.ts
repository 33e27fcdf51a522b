/** The append-only log of an event, on the phone: written durably before it is shown, never changed.
 *
 * What is unsent is whatever no server has named; `LogBox` hands it to the sender. */

import { clockOf, uuid7 } from "$shared/ids";
import type { Numbered, Outbox } from "$shared/sync";
import type { Jotting, JottingKind, Receipt } from "$shared/types";
import { keepOwn, own, type Database, type Row } from "./database";

export const SCHEMA_VERSION = 1;

/** Something to write down; the rest of a jotting is the device's to add. */
export interface Draft {
  kind: JottingKind;
  payload: Record<string, unknown>;
  supersedes?: string | null;
}

interface Device {
  name: string;
  lastSeq: number;
}

/** Write jottings down: all or none, on the disk when this resolves. The device's count is taken in the
 * transaction that keeps the rows, so two tabs never take one number. */
export async function write(database: Database, event: string, drafts: readonly Draft[]): Promise<Row[]> {
  const transaction = database.transaction(["log", "own"], "readwrite", { durability: "strict" });
  const [log, things] = [transaction.objectStore("log"), transaction.objectStore("own")];
  try {
    const device = ((await things.get("device")) as Device | undefined) ?? { name: uuid7(), lastSeq: 0 };
    const rows = rowsFor(event, drafts, device.name, device.lastSeq);
    const lastSeq = device.lastSeq + rows.length;
    await Promise.all([things.put({ ...device, lastSeq }, "device"), ...rows.map(async (row) => log.add(row))]);
    await transaction.done;
    return rows;
  } catch (cause) {
    transaction.done.catch(() => {});
    abort(transaction);
    throw cause;
  }
}

/** A request that cannot even be made leaves its transaction open, and what was asked before it. */
function abort(transaction: { abort(): void }): void {
  try {
    transaction.abort();
  } catch {
    return;
  }
}

/** The rows of what is to be written down, counted on from a device's last number. */
export function rowsFor(event: string, drafts: readonly Draft[], device: string, lastSeq: number): Row[] {
  return drafts.map((draft, index) => rowOf(event, draft, device, lastSeq + index + 1));
}

function rowOf(event: string, draft: Draft, device: string, device_seq: number): Row {
  const id = uuid7();
  const jotting: Jotting = {
    id, event, device, device_seq,
    kind: draft.kind,
    payload: draft.payload,
    supersedes: draft.supersedes ?? null,
    schema_version: SCHEMA_VERSION,
    client_time: new Date(clockOf(id)).toISOString(),
  };
  return { id, event, sent: "unsent", seq: null, why: "", jotting };
}

/** The row of what another device wrote. */
export function rowOfStranger(jotting: Jotting): Row {
  return { id: jotting.id, event: jotting.event, sent: "unsent", seq: null, why: "", jotting };
}

/** Every jotting of an event on this phone. */
export async function rowsOf(database: Database, event: string): Promise<Row[]> {
  return database.getAllFromIndex("log", "event", event);
}

/** Take in jottings that another device wrote, from a file or from codes. Returns how many are new. */
export async function takeInFile(database: Database, jottings: readonly Jotting[]): Promise<number> {
  const transaction = database.transaction("log", "readwrite", { durability: "strict" });
  let added = 0;
  for (const jotting of jottings) {
    if (await transaction.store.get(jotting.id)) continue;
    await transaction.store.add(rowOfStranger(jotting));
    added += 1;
  }
  await transaction.done;
  return added;
}

/** Try once more to send what was turned away. */
export async function sendAgain(database: Database, ids: readonly string[]): Promise<void> {
  const transaction = database.transaction("log", "readwrite", { durability: "strict" });
  for (const id of ids) {
    const row = await transaction.store.get(id);
    if (row) await transaction.store.put({ ...row, sent: "unsent", why: "" });
  }
  await transaction.done;
}

const REFUSED_BY = "refused by";
const cursorName = (event: string) => `cursor ${event}`;

/** The log as the sender sees it. `changed` is called after every change that it makes. */
export class LogBox implements Outbox {
  private readonly database: Database;
  private readonly changed: (events: readonly string[]) => void;

  constructor(database: Database, changed: (events: readonly string[]) => void) {
    this.database = database;
    this.changed = changed;
  }

  async unsent(most: number): Promise<Jotting[]> {
    const rows = await this.database.getAllFromIndex("log", "sent", "unsent", most);
    return rows.map(({ jotting }) => jotting).sort((one, other) => one.device_seq - other.device_seq);
  }

  async settle(receipts: Receipt[]): Promise<void> {
    const transaction = this.database.transaction("log", "readwrite", { durability: "strict" });
    const events = new Set<string>();
    for (const { id, answer, seq, why } of receipts) {
      const row = await transaction.store.get(id);
      if (!row) continue;
      const named = { stored: "sent", duplicate: "sent", conflict: "conflict", refused: "refused" } as const;
      const sent = named[answer] ?? "unsent";
      await transaction.store.put({ ...row, sent, why: why ?? "", seq: sent === "sent" ? seq : row.seq });
      events.add(row.event);
    }
    await transaction.done;
    this.changed([...events]);
  }

  async refuser(): Promise<string | null> {
    const refused = await this.database.countFromIndex("log", "sent", "refused");
    return refused ? ((await own<string>(this.database, REFUSED_BY)) ?? "") : null;
  }

  async refusedBy(program: string): Promise<void> {
    await keepOwn(this.database, REFUSED_BY, program);
  }

  async takeUpAgain(): Promise<void> {
    const refused = await this.database.getAllFromIndex("log", "sent", "refused");
    await sendAgain(this.database, refused.map(({ id }) => id));
    this.changed([...new Set(refused.map(({ event }) => event))]);
  }

  async cursors(): Promise<{ event: string; after: number }[]> {
    const events = await this.database.getAllKeys("pockets");
    return Promise.all(
      events.map(async (event) => ({ event, after: (await own<number>(this.database, cursorName(event))) ?? 0 })),
    );
  }

  async takeIn(event: string, items: Numbered[], next: number): Promise<void> {
    const transaction = this.database.transaction(["log", "own"], "readwrite", { durability: "strict" });
    const log = transaction.objectStore("log");
    for (const { seq, jotting } of items) {
      const row = await log.get(jotting.id);
      if (!row) await log.add({ id: jotting.id, event, sent: "sent", seq, why: "", jotting });
      else if (row.sent === "sent" && row.seq !== seq) await log.put({ ...row, seq });
    }
    await transaction.objectStore("own").put(next, cursorName(event));
    await transaction.done;
    this.changed([event]);
  }
}
