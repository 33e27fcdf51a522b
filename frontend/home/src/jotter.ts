/** Jottings made at home: corrections of shots, and logs that come home as files and codes. */

import { uuid7 } from "$shared/ids";
import { type KeptJotting, type Standing, standing } from "$shared/journal";
import { isJotting } from "$shared/log_file";
import { LARGEST_BATCH } from "$shared/sync";
import type { Jotting, JottingKind, Receipt, ShotPayload } from "$shared/types";
import { ask } from "./asking.svelte";

const KEY = "nextpair-home-device";

interface Device {
  name: string;
  seq: number;
}

/** The next jotting of this browser. */
export function nextJotting(
  event: string,
  kind: JottingKind,
  payload: Record<string, unknown>,
  supersedes: string | null,
  memory: Pick<Storage, "getItem" | "setItem"> = localStorage,
): Jotting {
  const held = memory.getItem(KEY);
  const device: Device = held ? (JSON.parse(held) as Device) : { name: `home-${uuid7().slice(-6)}`, seq: 0 };
  device.seq += 1;
  memory.setItem(KEY, JSON.stringify(device));
  const client_time = new Date().toISOString();
  return {
    id: uuid7(), event, device: device.name, device_seq: device.seq, kind, payload, supersedes,
    schema_version: 1, client_time,
  };
}

/** Send jottings, as many at a time as the server takes; its answers in their order. */
export async function send(jottings: readonly Jotting[]): Promise<Receipt[]> {
  const receipts: Receipt[] = [];
  for (let start = 0; start < jottings.length; start += LARGEST_BATCH) {
    const body = { jottings: jottings.slice(start, start + LARGEST_BATCH) };
    const told = await ask<{ receipts: Receipt[] }>("/sync", { method: "POST", body });
    receipts.push(...told.receipts);
  }
  return receipts;
}

/** Everything of an event's log. */
export async function logOf(event: string): Promise<KeptJotting[]> {
  const log: KeptJotting[] = [];
  for (let after = 0; ; ) {
    const told = await ask<{ items: KeptJotting[]; next: number }>(`/events/${event}/log?after=${after}`);
    log.push(...told.items);
    if (told.items.length === 0 || told.next === after) return log;
    after = told.next;
  }
}

export type Shot = Standing & { jotting: Jotting<ShotPayload> };

/** The shots of a log that stand, in the order in which they were thrown. */
export function shotsOf(log: readonly KeptJotting[]): Shot[] {
  const isShot = (one: Standing): one is Shot => one.jotting.kind === "shot";
  const place = ({ jotting: { payload } }: Shot) => 1e4 * payload.game + 10 * payload.frame + payload.delivery;
  return standing(log).filter(isShot).toSorted((one, other) => place(one) - place(other));
}

/** The jottings in the text of a phone's log file. Throws an Error that says what is wrong. */
export function jottingsIn(text: string): Jotting[] {
  let told: unknown;
  try {
    told = JSON.parse(text);
  } catch {
    throw new Error("This file is no log: it is not JSON.");
  }
  const list = Array.isArray(told) ? told : (told as { jottings?: unknown } | null)?.jottings;
  if (!Array.isArray(list)) throw new Error("This file is no log: it holds no list of jottings.");
  if (!list.every(isJotting)) throw new Error("This file holds something that is no jotting; nothing was taken in.");
  return list;
}

/** "12 stored, 3 here already": what became of what was sent. */
export function receiptWords(receipts: readonly Receipt[]): string {
  const count = (answer: Receipt["answer"]) => receipts.filter((one) => one.answer === answer).length;
  const said = [
    [count("stored"), "stored"],
    [count("duplicate"), "here already"],
    [count("conflict"), "not taken: another one of the same id is here"],
    [count("refused"), "refused"],
  ] as const;
  const words = said.filter(([many]) => many > 0).map(([many, what]) => `${many} ${what}`);
  const why = [...new Set(receipts.filter((one) => one.answer === "refused").map((one) => one.why))];
  if (words.length === 0) return "There was nothing in it.";
  return `${words.join(", ")}${why.length ? ` (${why.slice(0, 3).join("; ")})` : ""}.`;
}
