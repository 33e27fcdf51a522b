/** The form of a visit in a house\u2019s book. */

import type { FormPlan } from "../parts/form";

export const VISIT: FormPlan = [
  {
    title: "The visit",
    fields: [
      { kind: "day", key: "date", label: "Day", needed: true },
      { kind: "text", key: "event", label: "Event" },
      { kind: "text", key: "pattern", label: "Pattern" },
      { kind: "number", key: "length_ft", label: "Its length", unit: "ft", allowed: [20, 60] },
      { kind: "number", key: "volume_ml", label: "Its oil", unit: "mL", allowed: [1, 60] },
      { kind: "number", key: "games", label: "Games", unit: "games", allowed: [0, 99], guess: "0" },
      { kind: "number", key: "pins", label: "Scored in them", unit: "pins", allowed: [0, 29_700], guess: "0" },
      { kind: "flag", key: "private", label: "Private", guess: "no", help: "Left out when the house is shared." },
    ],
  },
  {
    title: "What was seen",
    fields: [
      { kind: "prose", key: "played", label: "What you played" },
      { kind: "prose", key: "changed", label: "How it changed" },
      { kind: "prose", key: "notes", label: "Notes" },
      {
        kind: "rows",
        key: "lanes",
        label: "Single lanes",
        row: "lane",
        columns: [
          { kind: "number", key: "lane", label: "Lane", unit: "", allowed: [1, 200], needed: true },
          { kind: "text", key: "words", label: "Note", needed: true, share: 4 },
        ],
      },
    ],
  },
];
