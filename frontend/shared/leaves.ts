/** Leaves: pins that stand after a ball, and what the rule book calls them. The same rules as
 * scoring/leaves.py. */

export const FULL_RACK: readonly number[] = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];

/** A pin, and the two side by side right behind it. */
const PAIRS_BEHIND = [[1, 2, 3], [2, 4, 5], [3, 5, 6], [4, 7, 8], [5, 8, 9], [6, 9, 10]] as const;
const DIRECTLY_BEHIND = [[1, 5], [2, 8], [3, 9]] as const;
/** Three pins side by side. */
const GAPS_IN_A_ROW = [[4, 5, 6], [7, 8, 9], [8, 9, 10]] as const;

/** A leave as its pins joined by hyphens, lowest first: the key of a pocket's spares. */
export function leaveText(pins: readonly number[]): string {
  return [...pins].sort((one, other) => one - other).join("-");
}

/** A leave as it is said: "3-10", "nothing", "all ten". */
export function leaveWords(pins: readonly number[]): string {
  if (pins.length === 0) return "nothing";
  return pins.length === FULL_RACK.length ? "all ten" : leaveText(pins);
}

/** Whether a leave of a first ball is a split: the head pin is down, and a pin is down between or
 * immediately ahead of two or more that stand. */
export function isSplit(pins: readonly number[]): boolean {
  const stands = new Set(pins);
  if (stands.has(1) || stands.size < 2) return false;
  return (
    PAIRS_BEHIND.some(([ahead, left, right]) => !stands.has(ahead) && stands.has(left) && stands.has(right)) ||
    GAPS_IN_A_ROW.some(([left, between, right]) => !stands.has(between) && stands.has(left) && stands.has(right)) ||
    !hangTogether(stands)
  );
}

function neighbours(pin: number): number[] {
  const beside = PAIRS_BEHIND.flatMap(([ahead, left, right]) =>
    pin === ahead ? [left, right] : pin === left || pin === right ? [ahead] : [],
  );
  const behind = DIRECTLY_BEHIND.flatMap(([ahead, back]) =>
    pin === ahead ? [back] : pin === back ? [ahead] : [],
  );
  return [...beside, ...behind];
}

function hangTogether(stands: ReadonlySet<number>): boolean {
  const reached = new Set<number>();
  const waiting = [Math.min(...stands)];
  for (let pin = waiting.pop(); pin !== undefined; pin = waiting.pop()) {
    reached.add(pin);
    waiting.push(...neighbours(pin).filter((other) => stands.has(other) && !reached.has(other)));
  }
  return reached.size === stands.size;
}
