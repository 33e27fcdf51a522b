/** The choices that several forms offer, in the words of the files. */

import type { Choice } from "../parts/form";

export const HANDS: readonly Choice[] = [
  { value: "right", label: "right" },
  { value: "left", label: "left" },
];

export const STYLES: readonly Choice[] = [
  { value: "one-handed", label: "one-handed" },
  { value: "two-handed", label: "two-handed" },
  { value: "no-thumb", label: "no thumb" },
];

export const COVERS: readonly Choice[] = [
  { value: "plastic", label: "plastic" },
  { value: "urethane", label: "urethane" },
  { value: "pearl", label: "pearl" },
  { value: "hybrid", label: "hybrid" },
  { value: "solid", label: "solid" },
];

export const TOOLS: readonly Choice[] = [
  { value: "spinner", label: "on a spinner" },
  { value: "hand", label: "with a pad by hand" },
];
