/** The field's scores as they were jotted down, and what the cut asks. */

import type { Standing } from "$shared/journal";

/** Somebody's games, with the handicap added. */
export interface Player {
  name: string;
  isMe: boolean;
  scores: Map<number, number>;
  total: number;
  /** 1 for the best; the same for the same total. */
  place: number;
}

/** What a place asks of the games to come. */
export interface Cut {
  place: number;
  /** Total of whoever would hold the place without me, on the games that I have bowled. */
  total: number;
  /** My total less that. */
  ahead: number;
  /** Pins a game that I need from here, if the place goes on at its own average; null with none left. */
  needed_a_game: number | null;
}

/** The field, best total first. My own scores are the log's, whatever was jotted under my name. */
export function playersOf(log: readonly Standing[], me: string, mine: ReadonlyMap<number, number>): Player[] {
  const scores = new Map<string, Map<number, number>>();
  for (const { jotting } of log) {
    const { name, game, score, handicap } = jotting.payload;
    if (jotting.kind !== "score" || typeof name !== "string" || name === me) continue;
    const games = scores.get(name) ?? new Map<number, number>();
    scores.set(name, games.set(Number(game), Number(score) + Number(handicap ?? 0)));
  }
  scores.set(me, new Map(mine));
  const players = [...scores].map(([name, games]) => ({ name, isMe: name === me, scores: games, total: sum(games.values()) }));
  players.sort((one, other) => other.total - one.total || one.name.localeCompare(other.name));
  return players.map((player) => ({
    ...player,
    place: players.findIndex(({ total }) => total === player.total) + 1,
  }));
}

/** What it takes to hold a place after all games; null while too few scores are known. */
export function cutOf(players: readonly Player[], place: number, games: number): Cut | null {
  const me = players.find(({ isMe }) => isMe);
  if (!me || me.scores.size === 0) return null;
  const bowled = [...me.scores.keys()];
  const totals = players
    .filter(({ isMe, scores }) => !isMe && bowled.every((game) => scores.has(game)))
    .map(({ scores }) => sum(bowled.map((game) => scores.get(game) ?? 0)))
    .sort((one, other) => other - one);
  const mine = sum(me.scores.values());
  const held = totals[place - 1];
  if (held === undefined) return null;
  const left = games - bowled.length;
  const goal = (held / bowled.length) * games;
  return {
    place,
    total: held,
    ahead: mine - held,
    needed_a_game: left > 0 ? (goal - mine) / left : null,
  };
}

function sum(numbers: Iterable<number>): number {
  return [...numbers].reduce((total, number) => total + number, 0);
}
