/** What was jotted down of the field, as the standing takes it. */

import type { Standing as Stands } from "$shared/journal";
import type { FieldFacts, FieldScore } from "$shared/standing";
import type { Pocket, PocketEntrant } from "$shared/types";

/** What the pocket tells of an event beside its scores; a pocket of an earlier version tells little. */
export function factsOf({ event, squad }: Pocket): FieldFacts {
  return {
    games: event.games,
    entries: event.entries ?? 1,
    bowler: event.bowler,
    average: event.average ?? null,
    handicap: event.handicap ?? null,
    squad: squad ?? [],
  };
}

/** A score that stands, and the jotting that says it. */
export interface Written extends FieldScore {
  id: string;
  /** What the jotting says, whole. */
  said: Record<string, unknown>;
}

/** The scores that were jotted down; the last one of a bowler's game counts. */
export function writtenOf(log: readonly Stands[]): Written[] {
  const scores = new Map<string, Written>();
  for (const { jotting } of log) {
    const { name, game, score, handicap, squad, average } = jotting.payload;
    if (jotting.kind !== "score" || typeof name !== "string") continue;
    scores.set(`${String(game)} ${name}`, {
      id: jotting.id, name, said: jotting.payload,
      game: Number(game),
      score: Number(score),
      handicap: Number(handicap ?? 0),
      squad: typeof squad === "string" ? squad : "",
      average: typeof average === "number" ? average : null,
    });
  }
  return [...scores.values()];
}

/** What a score says once some of it is told anew; the balls of another score go. */
export function rescored(said: Record<string, unknown>, told: Record<string, unknown>): Record<string, unknown> {
  const { balls, ...facts } = said;
  const isSame = told["score"] === undefined || told["score"] === said["score"];
  return { ...facts, ...(balls !== undefined && isSame && { balls }), ...told };
}

/** Everybody's scores. Of my own games the log's count wherever it has them whole. */
export function scoresOf(written: readonly Written[], facts: FieldFacts, mine: ReadonlyMap<number, number>): FieldScore[] {
  const name = facts.bowler;
  const others = written.filter((one) => one.name !== name || !mine.has(one.game));
  return [...others, ...[...mine].map(([game, score]) => ({ name, game, score, handicap: 0, squad: "", average: null }))];
}

/** Names to enter scores of: those who share my pairs, the rest of the squad, and others seen or added. */
export interface Names {
  pair: string[];
  squad: string[];
  others: string[];
}

export function namesOf(facts: FieldFacts, known: Iterable<string>): Names {
  const start = facts.squad.find(({ name }) => name === facts.bowler)?.pair;
  const listed = facts.squad.filter(({ name }) => name !== facts.bowler).sort(byPair);
  const squad = new Set(listed.map(({ name }) => name));
  return {
    pair: listed.filter(({ pair }) => pair === start).map(({ name }) => name),
    squad: listed.filter(({ pair }) => pair !== start).map(({ name }) => name),
    others: [...new Set(known)].filter((name) => name !== facts.bowler && !squad.has(name)).sort((one, other) => one.localeCompare(other)),
  };
}

function byPair(one: PocketEntrant, other: PocketEntrant): number {
  return parseInt(one.pair, 10) - parseInt(other.pair, 10);
}
