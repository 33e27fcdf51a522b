/** What everybody is believed to score in a game to come: the sums of tournament/form.py, where they are
 * told of and sourced. */

const GAME = { sd_pins: 27.4, weight: 20 };
const BOWLER = { sd_pins: 14, weight: 10, least_sd_pins: 3 };
const AVERAGE = { slope: 0.7, weight: BOWLER.weight * BOWLER.sd_pins ** 2 };
const USUAL_MEAN_PINS = 200;
export const SQUAD_SD_PINS = 5;

/** Somebody's games, in pins. */
export interface Bowled {
  pins: readonly number[];
  squad: string;
  average: number | null;
}

/** What is believed of a field; `level_pins` and the doubt of it are everybody's, in their order. */
export interface Form {
  mean_pins: number;
  mean_sd_pins: number;
  level_pins: number[];
  level_sd_pins: number[];
  game_sd_pins: number;
  bowler_sd_pins: number;
}

/** Everybody's form. */
export function formOf(field: readonly Bowled[]): Form {
  const seen = field.map(({ pins }) => pins.length > 0);
  if (!seen.includes(true)) return unseen(field);
  const means = field.map(({ pins }) => mean(pins));
  const game_variance = gameVariance(field, means);
  const promised = averageEffects(field, means);
  const rests = means.map((one, at) => one - (promised[at] ?? 0));
  const noise = field.map(({ pins }) => game_variance / Math.max(pins.length, 1));
  const of = (values: readonly number[], wanted: (at: number) => boolean) => values.filter((_, at) => seen[at] && wanted(at));
  const mean_pins = mean(of(rests, () => true));
  const unexplained = unexplainedVariances(promised, (at) => seen[at] ?? false, field);
  const squads = [...new Set(field.filter((_, at) => seen[at]).map(({ squad }) => squad))];
  const bySquad = squads.map((squad) => ({
    squad,
    rests: of(rests, (at) => field[at]?.squad === squad),
    unexplained: of(unexplained, (at) => field[at]?.squad === squad),
  }));
  const added = bySquad.map(({ unexplained: of_squad }) => mean(of_squad) * (of_squad.length - 1));
  const bowler_variance = bowlerVariance(bySquad.map((one) => one.rests), mean(of(noise, () => true)), sum(added));
  const variances = unexplained.map((more) => bowler_variance + more);
  const doubts = variances.map((variance, at) => variance + (noise[at] ?? 0));
  const shifts = new Map(bySquad.map((one) => {
    const doubt = mean(of(doubts, (at) => field[at]?.squad === one.squad)) / one.rests.length;
    return [one.squad, (SQUAD_SD_PINS ** 2 / (SQUAD_SD_PINS ** 2 + doubt)) * (mean(one.rests) - mean_pins)];
  }));
  const kept = field.map((_, at) => (seen[at] ? (variances[at] ?? 0) / (doubts[at] ?? 1) : 0));
  const bowlers = seen.filter(Boolean).length;
  return {
    mean_pins,
    mean_sd_pins: Math.sqrt(mean(of(doubts, () => true)) / bowlers + SQUAD_SD_PINS ** 2 / squads.length),
    level_pins: field.map(({ squad }, at) => {
      const expected = mean_pins + (promised[at] ?? 0) + (shifts.get(squad) ?? 0);
      return seen[at] ? expected + (kept[at] ?? 0) * ((means[at] ?? 0) - expected) : expected;
    }),
    level_sd_pins: kept.map((share, at) => Math.sqrt((variances[at] ?? 0) * (1 - share))),
    game_sd_pins: Math.sqrt(game_variance),
    bowler_sd_pins: Math.sqrt(bowler_variance),
  };
}

/** Pins that everybody's average promises over the field's mean; 0 for all where fewer than half of those
 * seen told theirs. */
function averageEffects(field: readonly Bowled[], means: readonly number[]): number[] {
  const both = field.flatMap(({ average, squad, pins }, at) => (average === null || !pins.length ? [] : [{ average, squad, scored: means[at] ?? 0 }]));
  const seen = field.filter(({ pins }) => pins.length > 0).length;
  if (2 * both.length < Math.max(seen, 1)) return field.map(() => 0);
  const middle = mean(both.map(({ average }) => average));
  const level = new Map([...new Set(both.map(({ squad }) => squad))].map((one) => [
    one, mean(both.filter(({ squad }) => squad === one).map(({ scored }) => scored)),
  ]));
  let [product, square] = [AVERAGE.slope * AVERAGE.weight, AVERAGE.weight];
  for (const { average, squad, scored } of both) {
    product += (average - middle) * (scored - (level.get(squad) ?? 0));
    square += (average - middle) ** 2;
  }
  const slope = Math.min(Math.max(product / square, 0), 1);
  return field.map(({ average }) => (average === null ? 0 : slope * (average - middle)));
}

/** By how much levels vary more where no average was told: as much as averages explain of those who are
 * known and told theirs. */
function unexplainedVariances(promised: readonly number[], known: (at: number) => boolean, field: readonly Bowled[]): number[] {
  const told = promised.filter((_, at) => known(at) && field[at]?.average !== null);
  const variance = told.length > 1 ? squaresAbout(told, mean(told)) / (told.length - 1) : 0;
  return field.map(({ average }) => (average === null ? variance : 0));
}

/** Of one game about its bowler's level, drawn toward the published one. */
function gameVariance(field: readonly Bowled[], means: readonly number[]): number {
  let [squares, freedom] = [GAME.weight * GAME.sd_pins ** 2, GAME.weight];
  field.forEach(({ pins }, at) => {
    squares += squaresAbout(pins, means[at] ?? 0);
    freedom += Math.max(pins.length - 1, 0);
  });
  return squares / freedom;
}

/** Of levels about their squad's mean, once the noise of their games is taken off, and what those add who
 * told no average. */
function bowlerVariance(ofSquads: readonly (readonly number[])[], noise: number, added: number): number {
  let [known, freedom] = [BOWLER.weight * BOWLER.sd_pins ** 2 - added, BOWLER.weight];
  for (const levels of ofSquads) {
    known += squaresAbout(levels, mean(levels)) - (levels.length - 1) * noise;
    freedom += levels.length - 1;
  }
  return Math.max(known / freedom, BOWLER.least_sd_pins ** 2);
}

/** Before anybody bowled: averages, where they are told, and published spreads. */
function unseen(field: readonly Bowled[]): Form {
  const told = field.flatMap(({ average }) => average ?? []);
  const mean_pins = told.length ? mean(told) : USUAL_MEAN_PINS;
  const promised = field.map(({ average }) => (average === null ? 0 : AVERAGE.slope * (average - mean_pins)));
  return {
    mean_pins,
    mean_sd_pins: SQUAD_SD_PINS,
    level_pins: promised.map((pins) => mean_pins + pins),
    level_sd_pins: unexplainedVariances(promised, () => true, field).map((more) => Math.sqrt(BOWLER.sd_pins ** 2 + more)),
    game_sd_pins: GAME.sd_pins,
    bowler_sd_pins: BOWLER.sd_pins,
  };
}

/** Not a number for none. */
export function mean(values: readonly number[]): number {
  return sum(values) / values.length;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

export function squaresAbout(values: readonly number[], middle: number): number {
  return values.reduce((sum, value) => sum + (value - middle) ** 2, 0);
}
