/** A log as a file: what a phone saves or shares, and a laptop takes in. */

import type { Jotting } from "./types";

export interface LogFile {
  app: "nextpair";
  log: 1;
  event: string;
  jottings: Jotting[];
}

/** The text of an event's log. */
export function logFile(event: string, jottings: readonly Jotting[]): string {
  const file: LogFile = { app: "nextpair", log: 1, event, jottings: [...jottings] };
  return JSON.stringify(file, null, 1);
}

/** Whether something read from a file has what every jotting has. */
export function isJotting(told: unknown): told is Jotting {
  const jotting = told as Partial<Jotting> | null;
  return (
    typeof jotting?.id === "string" &&
    typeof jotting.event === "string" &&
    typeof jotting.device === "string" &&
    typeof jotting.device_seq === "number" &&
    typeof jotting.kind === "string" &&
    typeof jotting.payload === "object" &&
    jotting.payload !== null
  );
}
