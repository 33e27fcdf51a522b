/** Files that come to the phone and leave it: pockets and logs. */

import type { Jotting } from "$shared/types";
import { isJotting, logFile } from "$shared/log_file";
import { isLog, isNewer, isPocket, parsed } from "./documents";
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
  if (isNewer(told)) throw new Error("A newer nextpair made this file. Load this page anew from the program that made it, then open the file again.");
  throw new Error("This is neither a pocket nor a log of nextpair.");
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
