/** An event's money as the server tells it: amounts are text, and are never added up here. */

import { percent } from "$shared/words";

export type Amount = string;

export interface LedgerLine {
  kind: string;
  planned: Amount;
  actual: Amount | null;
}

export interface EventLedger {
  event: string;
  date: string;
  currency: string;
  home_currency: string | null;
  rate: string | null;
  games: number;
  is_over: boolean;
  costs: LedgerLine[];
  winnings: LedgerLine[];
  planned_cost: Amount;
  cost: Amount;
  cost_per_game: Amount;
  won: Amount | null;
  result: Amount | null;
  home_cost: Amount | null;
  home_result: Amount | null;
  break_even: { prize: Amount; place: number | null; events_paid_by_winning: number | null; chance: number | null };
  expected: { prize: Amount; prize_sd: Amount; side: Amount; result: Amount } | null;
}

export interface Sums {
  events: number;
  games: number;
  cost: Amount;
  cost_per_game: Amount | null;
  won: Amount;
  result: Amount;
}

export interface CurrencyTotal {
  currency: string;
  over: Sums;
  to_come: Sums;
  costs: LedgerLine[];
  winnings: LedgerLine[];
}

export interface SeasonLedger {
  events: EventLedger[];
  totals: CurrencyTotal[];
  home: CurrencyTotal | null;
  without_rate: string[];
  left_out: string[];
}

export type Advice = "worth it" | "about even" | "not worth it" | "too late" | "not valued";

export interface StakeValue {
  entries: number;
  cost: Amount;
  returned: Amount;
  gain: Amount;
  sd: Amount;
  cash_chance: number;
}

export interface Stake {
  kind: string;
  per: "game" | "squad" | "bracket";
  fee: Amount;
  entries: number;
  places_paid: number;
  own_entries: number;
  left: number;
  advice: Advice;
  one: StakeValue | null;
  all: StakeValue | null;
  further_gain: Amount | null;
  further_advice: Advice | null;
  fair_form_pins: number | null;
  gain_chance: number | null;
  words: string[];
}

export interface Stakes {
  currency: string;
  stakes: Stake[];
  returned: Amount;
  cost: Amount;
  words: string[];
  cautions: string[];
}

export interface EventMoney {
  stakes: Stakes | null;
  money: EventLedger;
}

export interface Fact {
  name: string;
  value: string;
  /** What it is beside. */
  note?: string;
}

/** A kind as it is said: "Entry fee". */
export function kindWords(kind: string): string {
  const words = kind === "prize" ? "prizes" : kind.replaceAll("_", " ");
  return words.slice(0, 1).toUpperCase() + words.slice(1);
}

/** "High game, one a game", "Brackets of 8". */
export function stakeName(stake: Stake): string {
  return stake.per === "bracket" ? `${kindWords(stake.kind)} of ${stake.entries}` : `${kindWords(stake.kind)}, one a ${stake.per}`;
}

/** An amount with its sign, as a gain or a loss has it. */
export function signed(amount: Amount): string {
  if (/^-/.test(amount)) return amount.replace("-", "\u2212");
  return /[1-9]/.test(amount) ? `+${amount}` : amount;
}

/** What one entry of a stake is worth, in figures. */
export function stakeFacts(stake: Stake): Fact[] {
  const { one } = stake;
  const facts: Fact[] = [{ name: "Fee", value: stake.fee }];
  if (!one) return facts;
  facts.push(
    { name: "Comes back on average", value: one.returned, note: signed(one.gain) },
    { name: "Give or take", value: one.sd },
    { name: "Anything at all", value: percent(one.cash_chance) },
  );
  if (stake.fair_form_pins !== null) {
    facts.push({ name: "Fair for a form of", value: `${Math.round(stake.fair_form_pins)} pins`, note: `yours is that: ${percent(stake.gain_chance ?? 0)}` });
  }
  if (stake.further_gain !== null && stake.own_entries) facts.push({ name: "One more", value: signed(stake.further_gain) });
  return facts;
}

/** What an event costs and what would pay it, in figures. */
export function ledgerFacts(money: EventLedger): Fact[] {
  const facts: Fact[] = [{ name: "A game costs", value: `${money.cost_per_game} ${money.currency}` }];
  const { prize, place, events_paid_by_winning: paid, chance } = money.break_even;
  if (!money.is_over && /[1-9]/.test(prize)) {
    const likely = chance === null ? "" : `${percent(chance)} likely`;
    facts.push({ name: "Paid by", value: place === null ? "no place" : `place ${place} or better`, note: likely });
    if (paid) facts.push({ name: "To win pays", value: paid === 1 ? "1 such event" : `${paid} such events` });
  }
  if (money.expected) {
    facts.push({ name: "Expected after all costs", value: signed(money.expected.result), note: `an estimate; prizes ${money.expected.prize}, give or take ${money.expected.prize_sd}` });
  }
  if (money.home_cost !== null && money.home_currency !== money.currency) {
    const result = money.home_result === null ? "" : `result ${signed(money.home_result)}`;
    facts.push({ name: "At home", value: `${money.home_cost} ${money.home_currency}`, note: result });
  }
  return facts;
}

/** What events that are over, or to come, come to together. */
export function sumFacts(sums: Sums, isOver: boolean): Fact[] {
  const facts: Fact[] = [
    { name: isOver ? "Over" : "To come", value: sums.events === 1 ? "1 event" : `${sums.events} events`, note: `${sums.games} games` },
    { name: isOver ? "Cost" : "Cost, as planned", value: sums.cost, note: sums.cost_per_game === null ? "" : `${sums.cost_per_game} a game` },
  ];
  return isOver ? [...facts, { name: "Won", value: sums.won }, { name: "Result", value: signed(sums.result) }] : facts;
}

/** How wide a bar is beside others, 0 to 100. Only pictures take an amount as a number. */
export function barWidth(amount: Amount, all: readonly Amount[]): number {
  const most = Math.max(0, ...all.map(Number));
  return most > 0 ? (100 * Number(amount)) / most : 0;
}
