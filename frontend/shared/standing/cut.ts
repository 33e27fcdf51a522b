/** The cut, by how many of the others are likely to pass a total.
 *
 * Somebody's pins to come are normal; the others of a squad are independent of each other but for what its
 * lanes give or take, which is taken at seven points. So the number of a squad's bowlers above a total is a
 * sum of independent chances at each point, and squads add up. tournament/totals.py and tournament/cut.py do
 * the same by draws. */

import { below, NO_DOUBT, NODES, type Node } from "./normal";

const HIGHEST = 300;
/** Whole totals that the own one is told apart by are put into so many cells. */
const CELLS = 32;
const NEARLY_NEVER = 0.001;

/** What is believed of one bowler's games to come. */
export interface Prospect {
  total: number;
  games_left: number;
  form_pins: number;
  form_sd_pins: number;
  handicap: number;
  squad: string;
  /** Doubt of what its squad's lanes give or take, where that is not the contest's. */
  shift_sd_pins?: number;
}

/** A field before its cut: the first `places` go on. */
export interface Contest {
  me: Prospect;
  others: readonly Prospect[];
  places: number;
  game_sd_pins: number;
  squad_sd_pins: number;
}

export interface Line {
  projected_pins: number;
  interval_80_pins: [number, number];
}

/** Counts of bowlers, from none to one under the places: chances, and the rest is more. */
type Counts = Float64Array;

/** One bowler's total at the end: what it is now where nothing is left to bowl. */
interface Runner {
  total: number;
  isDone: boolean;
  middle: number;
  spread: number;
  /** Pins to come for each that the squad's lanes give a game, in deviations of the doubt of it. */
  pull: number;
  most: number;
}

interface Squad {
  name: string;
  runners: readonly Runner[];
  nodes: readonly Node[];
}

/** The race for the places of a cut. */
export class Race {
  private readonly places: number;
  private readonly me: Runner;
  private readonly others: readonly Runner[];
  private readonly foreign: readonly Squad[];
  private readonly beside: Squad;
  private readonly bounds: [number, number];

  constructor(contest: Contest) {
    const { me, others, places } = contest;
    const squads = squadsOf(contest, others);
    const beside = squads.find(({ name }) => name === me.squad)?.runners ?? [];
    this.places = places;
    this.me = runnerOf(contest, me);
    this.others = squads.flatMap(({ runners }) => runners);
    this.foreign = squads.filter(({ name }) => name !== me.squad);
    this.beside = { name: me.squad, runners: beside, nodes: nodesOf([this.me, ...beside]) };
    this.bounds = [Math.min(...others.map(({ total }) => total)), Math.max(...this.others.map(({ most }) => most)) + 1];
  }

  /** The chance to make the cut. */
  chance(): number {
    if (this.places > this.others.length) return 1;
    if (this.me.isDone) return this.hold(this.me.total);
    const [low, high] = [this.needed(NEARLY_NEVER), this.needed(1 - NEARLY_NEVER)];
    const width = Math.max(1, Math.ceil((high - low) / CELLS));
    const { nodes } = this.beside;
    const passed = (pins: number) => nodes.map(({ at }) => passes(this.me, pins - 0.5, at));
    let chance = 0;
    let before = passed(low);
    for (let from = low; from < high; from += width) {
      const held = this.heldAt(from + (width - 1) / 2);
      const after = passed(from + width);
      nodes.forEach(({ weight }, node) => (chance += weight * (before[node]! - after[node]!) * held[node]!));
      before = after;
    }
    nodes.forEach(({ weight }, node) => (chance += weight * before[node]!));
    return Math.min(Math.max(chance, 0), 1);
  }

  /** The lowest total that holds the cut with a chance. */
  needed(chance: number): number {
    return this.places > this.others.length ? this.bounds[0] : lowest(...this.bounds, (pins) => this.hold(pins) >= chance);
  }

  /** Where the cut's line will be: what the last one who goes on will have. */
  line(): Line {
    const places = Math.min(this.places, this.others.length + 1);
    const own = { ...this.beside, runners: [this.me, ...this.beside.runners] };
    const under = remembered((pins) => [...this.foreign, own].map((squad) => mixed(squad, pins - 0.5, places)).reduce(together).reduce(add));
    const [low, high] = [Math.min(this.me.total, this.bounds[0]), Math.max(this.me.most + 1, this.bounds[1])];
    const quantile = (share: number) => lowest(low, high, (pins) => under(pins + 1) >= share);
    return { projected_pins: quantile(0.5), interval_80_pins: [quantile(0.1), quantile(0.9)] };
  }

  private readonly hold = remembered((pins) => {
    const { nodes } = this.beside;
    return this.heldAt(pins).map((one, node) => one * nodes[node]!.weight).reduce(add);
  });

  /** Chance that a total holds the cut, at each point of the own squad's lanes. A tie with those who are
   * done is shared, as a roll-off between equals would have it. */
  private heldAt(pins: number): number[] {
    const foreign = this.foreign.map((squad) => mixed(squad, pins, this.places)).reduce(together, none(this.places));
    const level = this.others.reduce((many, { isDone, total }) => many + Number(isDone && total === pins), 0);
    const shares = foreign.map((_, many) => Math.min(1, (this.places - many) / (level + 1)));
    return this.beside.nodes.map(({ at }) => {
      const above = together(foreign, counted(this.beside.runners, pins, at, this.places));
      return above.reduce((held, chance, many) => held + chance * shares[many]!, 0);
    });
  }
}

function squadsOf(contest: Contest, bowlers: readonly Prospect[]): Squad[] {
  return [...new Set(bowlers.map(({ squad }) => squad))].map((name) => {
    const runners = bowlers.filter(({ squad }) => squad === name).map((bowler) => runnerOf(contest, bowler));
    return { name, runners, nodes: nodesOf(runners) };
  });
}

function nodesOf(runners: readonly Runner[]): readonly Node[] {
  return runners.every(({ isDone }) => isDone) ? NO_DOUBT : NODES;
}

function runnerOf({ game_sd_pins, squad_sd_pins }: Contest, bowler: Prospect): Runner {
  const { total, games_left, form_pins, form_sd_pins, handicap, shift_sd_pins = squad_sd_pins } = bowler;
  const spread = Math.sqrt((games_left * form_sd_pins) ** 2 + games_left * game_sd_pins ** 2);
  return {
    total, spread,
    isDone: games_left === 0,
    middle: total + games_left * form_pins,
    pull: (games_left * shift_sd_pins) / spread,
    most: total + games_left * (HIGHEST + handicap),
  };
}

/** Chance of a bowler to pass a total, at a point of the squad's lanes. */
function passes({ total, isDone, middle, spread, pull, most }: Runner, pins: number, at: number): number {
  if (isDone) return total > pins ? 1 : 0;
  return pins >= most ? 0 : below((middle - pins) / spread + at * pull);
}

/** How many of a squad are above a total, at a point of its lanes. */
function counted(runners: readonly Runner[], pins: number, at: number, places: number): Counts {
  const counts = none(places);
  let last: Runner | null = null;
  let [chance, most] = [0, 0];
  for (const runner of runners) {
    if (!last || !isAlike(runner, last)) chance = passes(runner, pins, at);
    last = runner;
    if (!chance) continue;
    most = Math.min(most + 1, places - 1);
    for (let many = most; many > 0; many -= 1) counts[many] = counts[many]! * (1 - chance) + counts[many - 1]! * chance;
    counts[0] = counts[0]! * (1 - chance);
  }
  return counts;
}

function isAlike(one: Runner, other: Runner): boolean {
  return one.middle === other.middle && one.spread === other.spread && one.most === other.most;
}

/** The same over all points. */
function mixed({ runners, nodes }: Squad, pins: number, places: number): Counts {
  const counts = new Float64Array(places);
  for (const { at, weight } of nodes) {
    const here = counted(runners, pins, at, places);
    for (let many = 0; many < places; many += 1) counts[many] = counts[many]! + weight * here[many]!;
  }
  return counts;
}

/** Counts of two squads as one. */
function together(one: Counts, other: Counts): Counts {
  const counts = new Float64Array(one.length);
  for (let many = 0; many < one.length; many += 1) {
    const chance = one[many]!;
    if (!chance) continue;
    for (let more = 0; many + more < one.length; more += 1) counts[many + more] = counts[many + more]! + chance * other[more]!;
  }
  return counts;
}

function none(places: number): Counts {
  const counts = new Float64Array(places);
  counts[0] = 1;
  return counts;
}

function add(one: number, other: number): number {
  return one + other;
}

function remembered(told: (pins: number) => number): (pins: number) => number {
  const known = new Map<number, number>();
  return (pins) => {
    const found = known.get(pins) ?? told(pins);
    known.set(pins, found);
    return found;
  };
}

/** The lowest whole number for which something holds that holds for all above it. */
function lowest(low: number, high: number, holds: (pins: number) => boolean): number {
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}
