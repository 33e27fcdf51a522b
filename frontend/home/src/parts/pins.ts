/** Pins as they are typed: "3-10", 0 for none, nothing where nobody looked. */

const PINS = 10;

/** The pins of a text: null where nobody looked, undefined where it is none. */
export function pinsIn(text: string): number[] | null | undefined {
  const plain = text.trim();
  if (plain === "" || plain === "?") return null;
  if (plain === "0") return [];
  const pins = plain.split(/[-\s,]+/).map(Number);
  const isPin = (pin: number) => Number.isInteger(pin) && pin >= 1 && pin <= PINS;
  if (!pins.every(isPin) || new Set(pins).size < pins.length) return undefined;
  return pins.toSorted((one, other) => one - other);
}
