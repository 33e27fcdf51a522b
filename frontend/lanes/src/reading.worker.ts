/** Reads the lanes beside the page, which stays quick meanwhile. */

import { readAtTheLanes, type ReadingTables } from "$shared/reading";
import type { ShotPayload } from "$shared/types";

interface Question {
  tables: ReadingTables;
  shots: ShotPayload[];
  next: { game: number; lane: number };
}

addEventListener("message", ({ data: { tables, shots, next } }: MessageEvent<Question>) => {
  postMessage(readAtTheLanes(tables, shots, next));
});
