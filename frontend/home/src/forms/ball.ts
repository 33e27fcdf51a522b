/** The form of a ball: a row of locker.csv. */

import type { FormPlan } from "../parts/form";
import { COVERS, TOOLS } from "./choices";

export const BALL: FormPlan = [
  {
    title: "The ball",
    fields: [
      { kind: "text", key: "name", label: "Name", needed: true },
      {
        kind: "choice",
        key: "role",
        label: "Brought for",
        choices: [
          { value: "strike", label: "strikes" },
          { value: "spare", label: "spares" },
        ],
      },
      { kind: "choice", key: "cover", label: "Cover", choices: COVERS, needed: true },
      { kind: "number", key: "weight_lb", label: "Weight", unit: "lb", allowed: [6, 16], guess: "15" },
    ],
  },
  {
    title: "Core",
    help: "From the maker\u2019s figures for this weight. Left empty, those of a middle ball of this cover are used.",
    fields: [
      { kind: "number", key: "rg_in", label: "RG about the low axis", unit: "in", allowed: [2.46, 2.8] },
      { kind: "number", key: "differential_in", label: "Differential", unit: "in", allowed: [0, 0.06] },
      {
        kind: "number",
        key: "intermediate_in",
        label: "Intermediate differential",
        unit: "in",
        allowed: [0, 0.06],
        guess: "0",
        help: "0 is a symmetric core. At most the differential.",
      },
    ],
  },
  {
    title: "Surface as it is now",
    fields: [
      {
        kind: "grit",
        key: "surface_grit",
        label: "Finish",
        help: "360 to 5000 grit, or polished.",
      },
      {
        kind: "number",
        key: "games_on_surface",
        label: "Bowled on it",
        unit: "games",
        allowed: [0, 1000],
        guess: "6",
      },
      { kind: "choice", key: "surface_by", label: "Made", choices: TOOLS, guess: "spinner" },
      {
        kind: "grit",
        key: "grit_before",
        label: "Finish before",
        help: "What it was made on, where little of it was taken off. 360 to 5000 grit, or polished.",
      },
    ],
  },
  {
    title: "Layout as it is now",
    fields: [
      { kind: "number", key: "pin_to_pap_in", label: "Pin to PAP", unit: "in", allowed: [0, 6.75], guess: "4.5" },
      { kind: "number", key: "drilling_angle_deg", label: "Drilling angle", unit: "\u00b0", allowed: [0, 180], guess: "60" },
      { kind: "number", key: "val_angle_deg", label: "VAL angle", unit: "\u00b0", allowed: [0, 90], guess: "40" },
    ],
  },
  {
    title: "Static weights",
    help: "How much heavier one half is than the other. Left empty: in balance.",
    fields: [
      { kind: "number", key: "top_weight_oz", label: "Top", unit: "oz", allowed: [-3, 3], guess: "0", help: "Toward the grip." },
      { kind: "number", key: "side_weight_oz", label: "Side", unit: "oz", allowed: [-3, 3], guess: "0", help: "Toward the side of your axis point." },
      { kind: "number", key: "finger_weight_oz", label: "Finger", unit: "oz", allowed: [-3, 3], guess: "0", help: "Negative is thumb weight." },
    ],
  },
];
