/** The form of squad.csv. */

import type { CellField, FormPlan } from "../parts/form";
import { COVERS, HANDS, STYLES } from "./choices";

export const ENTRANT: readonly CellField[] = [
  { kind: "text", key: "pair", label: "Pair", needed: true, share: 1, help: "As 13-14." },
  { kind: "text", key: "name", label: "Name", guess: "somebody", share: 2.4 },
  { kind: "choice", key: "hand", label: "Hand", choices: HANDS, share: 1.3 },
  { kind: "choice", key: "style", label: "Style", choices: STYLES },
  { kind: "number", key: "rev_rate_rpm", label: "Rev rate", unit: "rpm", allowed: [0, 750] },
  { kind: "number", key: "speed_mph", label: "Speed", unit: "mph", allowed: [8, 26] },
  { kind: "choice", key: "cover", label: "Cover", choices: COVERS },
];

export const SQUAD: FormPlan = [
  { title: "The squad", fields: [{ kind: "text", key: "name", label: "Name", needed: true }] },
  {
    title: "Who bowls where",
    help: "Everybody on the lanes, you too, one a row, on the pair of the first game. What you leave empty is drawn from a typical field, and the sheet says so. A row with only a pair is somebody you do not know.",
    fields: [{ kind: "rows", key: "rows", label: "Bowlers", row: "bowler", columns: ENTRANT }],
  },
];
