/** The form of house.toml. */

import type { FormPlan } from "../parts/form";

export const HOUSE: FormPlan = [
  {
    title: "The house",
    fields: [
      { kind: "text", key: "name", label: "Name", needed: true },
      { kind: "number", key: "lanes", label: "Lanes", unit: "lanes", allowed: [1, 200], needed: true },
      {
        kind: "choice",
        key: "surface",
        label: "Lane bed",
        guess: "synthetic",
        choices: [
          { value: "wood", label: "wood" },
          { value: "overlay", label: "overlay on wood" },
          { value: "synthetic", label: "synthetic" },
        ],
      },
      {
        kind: "number",
        key: "surface_age_years",
        label: "Age of the surface",
        unit: "years",
        allowed: [0, 80],
        guess: "10",
        help: "Since it was laid or resurfaced.",
      },
      {
        kind: "choice",
        key: "approach",
        label: "Approach",
        guess: "medium",
        help: "How it lets a sole slide.",
        choices: [
          { value: "tacky", label: "tacky" },
          { value: "medium", label: "medium" },
          { value: "slick", label: "slick" },
        ],
      },
      {
        kind: "choice",
        key: "pinfall",
        label: "Pins",
        guess: "free",
        help: "On strings strikes count less.",
        choices: [
          { value: "free", label: "free" },
          { value: "string", label: "on strings" },
        ],
      },
      { kind: "text", key: "lane_machine", label: "Lane machine", help: "For your notes." },
      {
        kind: "number",
        key: "temperature_c",
        label: "Temperature at the lanes",
        unit: "\u00b0C",
        allowed: [5, 40],
        guess: "21",
        help: "A colder oil holds more.",
      },
      {
        kind: "number",
        key: "friction",
        label: "Friction",
        unit: "\u00d7",
        allowed: [0.5, 1.5],
        guess: "1",
        help: "Factor on the dry friction of all its lanes. Its book learns it from your visits.",
      },
    ],
  },
  {
    title: "Single lanes",
    help: "Lanes that you know to differ. Tilt: right edge lower is positive. Friction: 1 is as the rest of the house.",
    fields: [
      {
        kind: "rows",
        key: "lane",
        label: "Single lanes",
        row: "lane",
        columns: [
          { kind: "number", key: "number", label: "Lane", unit: "", allowed: [1, 200], needed: true },
          { kind: "number", key: "tilt_in", label: "Tilt", unit: "in", allowed: [-0.2, 0.2], guess: "0" },
          { kind: "number", key: "friction", label: "Friction", unit: "\u00d7", allowed: [0.5, 1.5], guess: "1" },
          { kind: "texts", key: "notes", label: "Notes, one a line", share: 3 },
        ],
      },
    ],
  },
  {
    title: "Notes",
    help: "They move no number, so no sheet gets out of date by them.",
    fields: [
      { kind: "text", key: "ball_return", label: "Ball returns", help: "What of them gets in the way." },
      { kind: "text", key: "ceiling", label: "Ceiling", help: "Where it is too low for a swing." },
      { kind: "texts", key: "notes", label: "What else is known, one note a line" },
      { kind: "texts", key: "photos", label: "Names of picture files, one a line", help: "The pictures stay where you keep them." },
    ],
  },
  {
    title: "Private notes",
    help: "Left out when the house is shared, and from an event\u2019s folder for others.",
    isPrivate: true,
    fields: [{ kind: "texts", key: "private_notes", label: "For yourself, one note a line" }],
  },
];
