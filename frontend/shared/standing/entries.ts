/** Everybody at an event with their games, as application/entries.py puts them together: what was written
 * down, what the squad's list adds, and those of whom nothing is known yet. */

import type { HandicapRule, PocketEntrant } from "../types";

/** A game that somebody bowled, as it was jotted down. */
export interface FieldScore {
  name: string;
  game: number;
  score: number;
  handicap: number;
  squad: string;
  average: number | null;
}

/** What is told of an event beside its scores. */
export interface FieldFacts {
  games: number;
  entries: number;
  bowler: string;
  average: number | null;
  handicap: HandicapRule | null;
  squad: readonly PocketEntrant[];
}

/** One who entered; nameless where nobody saw them yet. */
export interface Entry {
  name: string;
  isMe: boolean;
  squad: string;
  /** Scores by game; where the event has a rule, one without handicap has the bowler's. */
  games: ReadonlyMap<number, FieldScore>;
  average: number | null;
  /** Pins added to each game to come. */
  handicap: number;
  /** Pins so far, handicap added. */
  total: number;
}

const NOT_TOLD = "";

/** Everybody, the bowler among them. Scores past the games that everybody bowls are passed over. */
export function entriesOf(facts: FieldFacts, scores: readonly FieldScore[]): Entry[] {
  const of = new Map<string, Map<number, FieldScore>>();
  for (const score of scores) {
    if (score.game > facts.games) continue;
    of.set(score.name, (of.get(score.name) ?? new Map<number, FieldScore>()).set(score.game, score));
  }
  of.set(facts.bowler, of.get(facts.bowler) ?? new Map<number, FieldScore>());
  const listed = new Set(facts.squad.map(({ name }) => name));
  const own = ownSquad(of, listed);
  const named = [...of].map(([name, games]) => entryOf(facts, name, games, listed.has(name) ? own : NOT_TOLD));
  return [...named, ...nameless(facts, named, own)];
}

/** Pins a game that a rule gives to an average. */
export function handicapBy(rule: HandicapRule, average: number): number {
  const hundredths = Math.max(0, rule.base - average) * rule.percent;
  const pins = Math.floor((hundredths + (rule.rounding === "half-up" ? 50 : 0)) / 100);
  return rule.most === null ? pins : Math.min(pins, rule.most);
}

/** What scores call the squad of the event's list; a name of ours where they don't. */
function ownSquad(of: ReadonlyMap<string, ReadonlyMap<number, FieldScore>>, listed: ReadonlySet<string>): string {
  const said = new Map<string, number>();
  for (const [name, games] of of) {
    if (!listed.has(name)) continue;
    for (const { squad } of games.values()) if (squad) said.set(squad, (said.get(squad) ?? 0) + 1);
  }
  return [...said].reduce((most, one) => (one[1] > most[1] ? one : most), ["yours", 0] as const)[0];
}

function entryOf(facts: FieldFacts, name: string, bowled: ReadonlyMap<number, FieldScore>, squad: string): Entry {
  const latest = [...bowled.values()].sort((one, other) => other.game - one.game);
  const isMe = name === facts.bowler;
  const told = latest.find(({ average }) => average)?.average ?? null;
  const average = told ?? (isMe && facts.average !== null ? Math.trunc(facts.average) : null);
  const byRule = facts.handicap && average !== null ? handicapBy(facts.handicap, average) : 0;
  const handicap = latest.find((score) => score.handicap)?.handicap ?? byRule;
  const games = facts.handicap
    ? new Map([...bowled].map(([game, score]) => [game, { ...score, handicap: score.handicap || handicap }] as const))
    : bowled;
  return {
    name, isMe, games, average, handicap,
    squad: latest.find((score) => score.squad)?.squad ?? squad,
    total: [...games.values()].reduce((sum, score) => sum + score.score + score.handicap, 0),
  };
}

/** Those who entered and have no score yet: first who is missing of the own squad, then squads no larger
 * than those that are known. */
function nameless(facts: FieldFacts, named: readonly Entry[], own: string): Entry[] {
  const sizes = new Map<string, number>();
  for (const { squad } of named) sizes.set(squad, (sizes.get(squad) ?? 0) + 1);
  const ours = Math.max(0, facts.squad.length - (sizes.get(own) ?? 0));
  const missing = Math.max(facts.entries - named.length, ours);
  const size = Math.max(facts.squad.length, ...sizes.values());
  const handicap = Math.round(named.reduce((sum, one) => sum + one.handicap, 0) / named.length);
  return Array.from({ length: missing }, (_, place) => ({
    name: NOT_TOLD, isMe: false, games: new Map(), average: null, handicap, total: 0,
    squad: place < ours ? own : `to come ${1 + Math.floor((place - ours) / size)}`,
  }));
}
