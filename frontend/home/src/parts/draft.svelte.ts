/** A record while it is edited: what was changed is kept in this tab until it is saved or dropped. */

import { Refusal } from "$shared/api";
import type { Kept, Kind, Problem } from "$shared/types";
import type { Table } from "./form";
import { DRAFTS } from "./drafts";
import { addRecord, checkRecord, saveRecord } from "./keeping";

interface Remembered {
  revision: number;
  document: Table;
}

/** Where changes outlive the screen: the tab's own storage, but for tests. */
export type Memory = Pick<Storage, "getItem" | "setItem" | "removeItem">;

export class Draft {
  readonly kind: Kind;
  readonly #memory: Memory;
  id: string | null = $state(null);
  revision = $state(0);
  document: Table = $state({});
  problems: Problem[] = $state([]);
  typical: Record<string, unknown> = $state({});
  /** What went wrong beside the fields. */
  failure = $state("");
  /** What somebody else saved since this was read. */
  stale: Kept<Table> | null = $state(null);
  saving = $state(false);
  /** Whether saving was tried, so that fields that are needed say so. */
  tried = $state(false);
  /** Whether changes of before were found in this tab. */
  found = $state(false);
  #saved = $state("{}");
  readonly changed = $derived(JSON.stringify(this.document) !== this.#saved);

  constructor(kind: Kind, start: Kept<Table> | Table, memory: Memory = sessionStorage) {
    this.kind = kind;
    this.#memory = memory;
    if (isKept(start)) this.#take(start);
    else {
      this.document = structuredClone(start);
      this.#saved = JSON.stringify(start);
    }
    this.#recall();
  }

  get #key(): string {
    return `${DRAFTS}${this.kind}.${this.id ?? "new"}`;
  }

  #take(record: Kept<Table>): void {
    this.id = record.id;
    this.revision = record.revision;
    this.#saved = JSON.stringify(record.document);
    this.document = JSON.parse(this.#saved) as Table;
  }

  #recall(): void {
    const text = this.#memory.getItem(this.#key);
    if (text === null) return;
    const { revision, document } = JSON.parse(text) as Remembered;
    this.document = document;
    if (this.id !== null) this.revision = revision;
    this.found = this.changed;
  }

  /** Keep what was changed for when this screen comes back. */
  remember(): void {
    if (this.changed) {
      const { revision, document } = this;
      this.#memory.setItem(this.#key, JSON.stringify({ revision, document }));
    } else this.#memory.removeItem(this.#key);
  }

  /** Drop all changes. */
  drop(): void {
    this.document = JSON.parse(this.#saved) as Table;
    this.found = false;
    this.tried = false;
    this.failure = "";
    this.#memory.removeItem(this.#key);
  }

  /** Ask the server what is wrong with it as it is. */
  async check(signal: AbortSignal): Promise<void> {
    try {
      const document = $state.snapshot(this.document);
      const told = await checkRecord(this.kind, document, signal);
      this.problems = told.problems;
      this.typical = told.typical;
    } catch {
      if (!signal.aborted) this.problems = [];
    }
  }

  /** Save it; the record where that went well. */
  async save(): Promise<Kept<Table> | null> {
    this.tried = true;
    this.saving = true;
    this.failure = "";
    const key = this.#key;
    try {
      const document = $state.snapshot(this.document);
      const record =
        this.id === null
          ? await addRecord(this.kind, document)
          : await saveRecord(this.kind, this.id, document, this.revision);
      this.#memory.removeItem(key);
      this.#take(record);
      this.problems = [];
      this.tried = false;
      this.found = false;
      this.stale = null;
      return record;
    } catch (cause) {
      if (!(cause instanceof Refusal)) throw cause;
      this.#refused(cause);
      return null;
    } finally {
      this.saving = false;
    }
  }

  #refused(refusal: Refusal): void {
    const current = (refusal.answer as { current?: Kept<Table> | null } | null)?.current;
    if (refusal.status === 409 && current) this.stale = current;
    else if (refusal.status === 422) this.problems = refusal.problems;
    else if (refusal.status === 0) {
      this.failure = "The server could not be reached. Your changes are kept here; try again.";
    } else this.failure = refusal.message;
  }

  /** After a stale save: save this version over the other one. */
  async keepMine(): Promise<Kept<Table> | null> {
    if (this.stale) this.revision = this.stale.revision;
    return this.save();
  }

  /** After a stale save: go on from what was saved meanwhile. */
  takeTheirs(): void {
    if (!this.stale) return;
    this.#memory.removeItem(this.#key);
    this.#take(this.stale);
    this.stale = null;
    this.found = false;
  }
}

function isKept(start: Kept<Table> | Table): start is Kept<Table> {
  return "revision" in start && "document" in start;
}
