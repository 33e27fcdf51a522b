/** The normal distribution, as far as totals of a field need it. */

const TURN = 0.2316419;
const TERMS = [0.31938153, -0.356563782, 1.781477937, -1.821255978, 1.330274429] as const;

/** Chance of a standard normal to be at most `x`, to within 1e-7: Zelen and Severo's polynomial, formula
 * 26.2.17 of Abramowitz and Stegun's tables. */
export function below(x: number): number {
  const t = 1 / (1 + TURN * Math.abs(x));
  const sum = TERMS.reduceRight((rest, term) => (rest + term) * t, 0);
  const beyond = (Math.exp(-x * x / 2) / Math.sqrt(2 * Math.PI)) * sum;
  return x < 0 ? beyond : 1 - beyond;
}

/** Standard deviations from the middle of a normal to the end of its middle 80 %. */
export const HALF_OF_80 = 1.2816;

export interface Node {
  /** In standard deviations from the middle. */
  at: number;
  weight: number;
}

/** Gauss and Hermite's five points: they stand for a standard normal in a mean over it. */
export const NODES: readonly Node[] = [
  { at: -2.856970013872806, weight: 0.01125741132772069 },
  { at: -1.355626179974266, weight: 0.2220759220056126 },
  { at: 0, weight: 8 / 15 },
  { at: 1.355626179974266, weight: 0.2220759220056126 },
  { at: 2.856970013872806, weight: 0.01125741132772069 },
];

export const NO_DOUBT: readonly Node[] = [{ at: 0, weight: 1 }];
