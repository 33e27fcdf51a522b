/** What a file that comes to the phone is. */

import type { LogFile } from "$shared/log_file";
import type { Pocket } from "$shared/types";

/** The form of pockets and logs that this page reads. */
const FORM = 1;

export function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new Error("This file is not one of nextpair's: it holds no JSON.");
  }
}

export function isPocket(told: unknown): told is Pocket {
  const pocket = told as Partial<Pocket> | null;
  return pocket?.app === "nextpair" && pocket.pocket === FORM && typeof pocket.event_id === "string" && Array.isArray(pocket.games);
}

export function isLog(told: unknown): told is LogFile {
  const log = told as Partial<LogFile> | null;
  return log?.app === "nextpair" && log.log === FORM && Array.isArray(log.jottings);
}

/** Whether it is a pocket or a log in a form that came after this page. */
export function isNewer(told: unknown): boolean {
  const document = told as { app?: unknown; pocket?: unknown; log?: unknown } | null;
  return document?.app === "nextpair" && [document.pocket, document.log].some((form) => typeof form === "number" && form > FORM);
}
