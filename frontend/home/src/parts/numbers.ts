/** Numbers as people type them, and as they are shown. */

import type { Grit } from "$shared/types";

const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)$/;

/** The number of a text: undefined where nothing is written, null where it is none. A comma may
 * stand for the point. */
export function readNumber(text: string): number | null | undefined {
  const plain = text.trim().replace(/\u2212/g, "-");
  if (plain === "") return undefined;
  const pointed = /^[^.,]*,[^.,]*$/.test(plain) ? plain.replace(",", ".") : plain;
  return NUMBER.test(pointed) ? Number(pointed) : null;
}

/** What an input keeps of a text: its number, nothing, or the text itself, for the check to refuse. */
export function keptNumber(text: string): number | string | undefined {
  const number = readNumber(text);
  return number === null ? text : number;
}

/** What an input keeps of a finish: a grit, `polished`, nothing, or the text itself. */
export function keptGrit(text: string): Grit | string | undefined {
  return text.trim().toLowerCase() === "polished" ? "polished" : keptNumber(text);
}

/** What an input keeps of a list of numbers, with spaces or semicolons between them. */
export function keptNumbers(text: string): (number | string)[] | undefined {
  const parts = text.split(/[;\s]+|,\s+/).filter((part) => part !== "");
  return parts.length ? parts.map((part) => keptNumber(part) ?? part) : undefined;
}

/** A kept value as an input shows it. */
export function shownValue(value: unknown): string {
  if (value === undefined || value === null) return "";
  if (Array.isArray(value)) return value.map(shownValue).join(" ");
  return typeof value === "number" ? String(Number(value.toPrecision(12))) : String(value);
}

/** A finish in words: "2000 grit", "polished". */
export function gritWords(grit: unknown): string {
  return typeof grit === "number" ? `${grit} grit` : shownValue(grit);
}

/** A typical value as it stands for an empty field: three digits, a span as "7.5 to 32". */
export function typicalWords(value: unknown): string {
  if (Array.isArray(value)) return value.map(typicalWords).join(" to ");
  return typeof value === "number" ? String(Number(value.toPrecision(3))) : shownValue(value);
}

/** Rounded for the eye, without zeros at the end. */
export function rounded(value: number, decimals = 2): string {
  return String(Number(value.toFixed(decimals)));
}
