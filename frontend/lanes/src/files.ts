/** Files that come to the phone and leave it: pockets and logs. */

import type { Jotting, Pocket } from "$shared/types";
import { isJotting, logFile, type LogFile } from "$shared/log_file";
import { phone } from "./phone.svelte";
import { entries } from "./words";

/** Take in the text of a file; what it was, in words. Throws with words for what is neither. */
export async function takenIn(text: string): Promise<string> {
  const told = parsed(text);
  if (isPocket(told)) {
    await phone.open(told);
    return `${told.event.name} is open.`;
  }
  if (isLog(told)) {
    const added = await phone.takeIn(told.jottings.filter(isJotting));
    return `${entries(added)} taken in, ${told.jottings.length - added} were here already.`;
  }
  throw new Error("This is neither a pocket nor a log of nextpair.");
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new Error("This file is not one of nextpair's: it holds no JSON.");
  }
}

function isPocket(told: unknown): told is Pocket {
  const pocket = told as Partial<Pocket> | null;
  return pocket?.app === "nextpair" && pocket.pocket === 1 && typeof pocket.event_id === "string" && Array.isArray(pocket.games);
}

function isLog(told: unknown): told is LogFile {
  const log = told as Partial<LogFile> | null;
  return log?.app === "nextpair" && log.log === 1 && Array.isArray(log.jottings);
}

/** The open event's log as a file. */
export function ownLog(): File {
  const jottings: Jotting[] = (phone.rows ?? []).map(({ jotting }) => jotting);
  const name = (phone.pocket?.event.name ?? "log").toLowerCase().replace(/[^a-z0-9]+/g, "-");
  return new File([logFile(phone.event ?? "", jottings)], `${name}.log.json`, { type: "application/json" });
}

/** Save a file where the browser puts its downloads. */
export function save(file: File): void {
  const address = URL.createObjectURL(file);
  const link = document.createElement("a");
  link.href = address;
  link.download = file.name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** Whether this browser hands files on to other apps. */
export function canShare(): boolean {
  return navigator.canShare?.({ files: [new File(["{}"], "a.json", { type: "application/json" })] }) ?? false;
}

export async function share(file: File): Promise<void> {
  await navigator.share({ files: [file], title: file.name }).catch((cause: unknown) => {
    if (!(cause instanceof DOMException && cause.name === "AbortError")) throw cause;
  });
}
