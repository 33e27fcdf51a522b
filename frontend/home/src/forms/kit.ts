/** The form of a kit: lines of one's own, the stock, and what the journey allows. */

import type { CellField, Choice, FormPlan } from "../parts/form";

const GROUPS = ["balls", "covers", "grip", "body", "feet", "at the table", "papers", "food", "travel"];
const USES = ["event", "game", "hour"];

function named(values: readonly string[]): readonly Choice[] {
  return values.map((value) => ({ value, label: value }));
}

export const KIT_ITEM: readonly CellField[] = [
  { kind: "text", key: "item", label: "Thing", needed: true, share: 2.2 },
  { kind: "number", key: "many", label: "How many", unit: "", allowed: [0, 99], guess: "1", share: 0.8 },
  { kind: "choice", key: "group", label: "Where", choices: named(GROUPS), guess: "at the table", share: 1.5 },
  { kind: "text", key: "why", label: "Why", guess: "Your own list.", share: 2.8 },
];

export const STOCK: readonly CellField[] = [
  { kind: "text", key: "item", label: "Thing", needed: true, share: 2.2 },
  { kind: "number", key: "have", label: "You have", unit: "", allowed: [0, 100_000], needed: true },
  { kind: "text", key: "unit", label: "Counted in", share: 1.2 },
  { kind: "number", key: "use", label: "Used up", unit: "", allowed: [0, 10_000], needed: true },
  { kind: "choice", key: "per", label: "By each", choices: named(USES), guess: "event", share: 1.2 },
  { kind: "number", key: "reorder_below", label: "Buy below", unit: "", allowed: [0, 100_000], guess: "0" },
];

export const KIT: FormPlan = [
  {
    title: "Name",
    fields: [{ kind: "text", key: "name", label: "Name", needed: true, help: "With several kits, the list packs by the first by name unless you choose." }],
  },
  {
    title: "Your own lines",
    help: "Each is put on every packing list. A line of a name that the list has already takes the place of that; 0 takes it off. What you write here is on the phone too.",
    fields: [{ kind: "rows", key: "items", label: "Lines", row: "line", columns: KIT_ITEM }],
  },
  {
    title: "Stock",
    help: "What is used up, and how fast: the list says when an event empties it.",
    fields: [{ kind: "rows", key: "stock", label: "Stock", row: "thing", columns: STOCK }],
  },
  {
    title: "Luggage",
    help: "Ask your carrier for its limit.",
    fields: [
      { kind: "number", key: "case_limit_lb", label: "One piece may weigh", unit: "lb", allowed: [5, 200], guess: "50" },
      { kind: "number", key: "case_lb", label: "An empty ball case", unit: "lb", allowed: [0, 50], guess: "10" },
      { kind: "number", key: "balls_a_case", label: "Balls in a case", unit: "balls", allowed: [1, 8], guess: "3" },
    ],
  },
];
