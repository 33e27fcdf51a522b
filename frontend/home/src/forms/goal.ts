/** The form of a goal. */

import type { Choice, FormPlan, Table } from "../parts/form";

/** What each measure counts, and the least and the most that a goal for it may be. */
const MEASURES: readonly [choice: Choice, unit: string, low: number, high: number][] = [
  [{ value: "average", label: "average" }, "pins", 0, 300],
  [{ value: "field-relative", label: "beside the field" }, "standard deviations", -5, 5],
  [{ value: "strikes", label: "strikes" }, "% of first balls", 0, 100],
  [{ value: "spares", label: "spares" }, "% of those tried", 0, 100],
  [{ value: "single-pin spares", label: "single-pin spares" }, "% of those tried", 0, 100],
  [{ value: "frames filled", label: "frames filled" }, "% of frames", 0, 100],
  [{ value: "cashes", label: "cashes" }, "events", 0, 365],
  [{ value: "events", label: "events bowled" }, "events", 0, 365],
];

/** The fields of a goal; the target's unit is that of what is counted. */
export function goalPlan({ measure }: Table = {}): FormPlan {
  const [, unit, low, high] = MEASURES.find(([{ value }]) => value === measure) ?? [null, "", -5, 365];
  return [
    {
      title: "The goal",
      fields: [
        { kind: "text", key: "name", label: "Name", needed: true },
        { kind: "choice", key: "measure", label: "What is counted", choices: MEASURES.map(([choice]) => choice), needed: true },
        { kind: "number", key: "target", label: "Target", unit, allowed: [low, high], needed: true },
        { kind: "day", key: "first_day", label: "First day that counts", needed: true },
        { kind: "day", key: "last_day", label: "Last day that counts", needed: true },
      ],
    },
  ];
}

/** What a goal is for, in a line: "strikes: 45 % of first balls". */
export function goalTarget({ measure, target }: Table): string {
  const [choice, unit] = MEASURES.find(([{ value }]) => value === measure) ?? [];
  if (choice === undefined) return String(measure);
  const said = String(target).replace("-", "\u2212");
  return `${choice.label}: ${said} ${unit}`;
}
