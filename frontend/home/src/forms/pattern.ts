/** The form of pattern.toml. */

import type { CellField, FormPlan } from "../parts/form";

export const PASS: readonly CellField[] = [
  {
    kind: "choice",
    key: "direction",
    label: "Direction",
    needed: true,
    choices: [
      { value: "forward", label: "forward" },
      { value: "reverse", label: "reverse" },
    ],
  },
  { kind: "number", key: "from_board", label: "From", unit: "board", allowed: [1, 39], needed: true },
  { kind: "number", key: "to_board", label: "To", unit: "board", allowed: [1, 39], needed: true },
  { kind: "number", key: "loads", label: "Loads", unit: "", allowed: [1, 60], needed: true },
  { kind: "number", key: "oil_ul", label: "Oil", unit: "\u00b5L", allowed: [0.1, 200], needed: true },
  { kind: "number", key: "start_ft", label: "Start", unit: "ft", allowed: [0, 60], needed: true },
  { kind: "number", key: "end_ft", label: "End", unit: "ft", allowed: [0, 60], needed: true },
  { kind: "number", key: "taper_start_ft", label: "Taper at start", unit: "ft", allowed: [0, 60], guess: "0" },
  { kind: "number", key: "taper_end_ft", label: "Taper at end", unit: "ft", allowed: [0, 60], guess: "0" },
];

export const PATTERN: FormPlan = [
  {
    title: "The pattern",
    fields: [
      { kind: "text", key: "name", label: "Name", needed: true },
      {
        kind: "number",
        key: "length_ft",
        label: "Length",
        unit: "ft",
        allowed: [20, 60],
        needed: true,
        help: "Where the oil ends.",
      },
      {
        kind: "number",
        key: "viscosity_cp",
        label: "Viscosity of the oil",
        unit: "cP",
        allowed: [5, 150],
        guess: "35",
        help: "At 21 \u00b0C. A heavier oil holds more.",
      },
      {
        kind: "number",
        key: "buff_ft",
        label: "Buffing",
        unit: "ft",
        allowed: [0, 20],
        guess: "0",
        help: "Length over which the oil that the brush still holds falls to a third (1/e), on its way to the pattern's length.",
      },
      {
        kind: "choice",
        key: "shape",
        label: "Shape across",
        help: "In your words; it moves no number.",
        choices: [
          { value: "flat", label: "flat" },
          { value: "crowned", label: "crowned" },
          { value: "stepped", label: "stepped" },
          { value: "house-like", label: "house-like" },
          { value: "reversed", label: "reversed" },
        ],
      },
      { kind: "prose", key: "description", label: "What it is to play", help: "At most 600 characters." },
    ],
  },
  {
    title: "Passes of the lane machine",
    help: "Boards from the right edge, for left-handers too. Start and end are places on the lane, whichever way the machine travels. Oil is on one board, each time the head crosses it.",
    fields: [{ kind: "rows", key: "pass", label: "Passes", row: "pass", columns: PASS }],
  },
];
