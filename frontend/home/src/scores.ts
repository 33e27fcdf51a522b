/** Scores as they are written down and read: which jotting says what, and the field's table. */

import { type KeptJotting, type Standing, standing } from "$shared/journal";
import type { FieldRow, Jotting, ScorePayload } from "$shared/types";

/** A score that stands in a log. */
export type WrittenScore = Standing & { jotting: Jotting<ScorePayload> };

/** What a log says of each bowler's games: the last word on each. */
export function writtenScores(log: readonly KeptJotting[]): WrittenScore[] {
  const isScore = (one: Standing): one is WrittenScore => one.jotting.kind === "score";
  const seqOf = new Map(log.map(({ seq, jotting }) => [jotting.id, seq ?? Infinity]));
  const last = new Map<string, WrittenScore>();
  const byArrival = (one: WrittenScore) => seqOf.get(one.jotting.id) ?? Infinity;
  for (const score of standing(log).filter(isScore).toSorted((one, other) => byArrival(one) - byArrival(other))) {
    last.set(keyOf(score.jotting.payload), score);
  }
  return [...last.values()].toSorted((one, other) => one.jotting.payload.game - other.jotting.payload.game);
}

const keyOf = ({ name, game }: ScorePayload) => JSON.stringify([name.trim(), game]);

/** The jotted scores of one bowler, by game. */
export function scoresOf(name: string, written: readonly WrittenScore[]): WrittenScore[] {
  return written.filter(({ jotting }) => jotting.payload.name.trim() === name);
}

/** Squads that a table names, in order. */
export function squadsIn(rows: readonly FieldRow[]): string[] {
  return [...new Set(rows.map((row) => row.squad ?? "").filter((squad) => squad !== ""))].toSorted(inWords);
}

/** A row of the field's table with its place by pins a game; equals share it. */
export interface Placed extends FieldRow {
  place: number;
  games_left?: number;
  form_pins?: number;
  cut_chance?: number | null;
}

/** Rows with their places by pins a game, since not everybody has bowled as many; what was written tells the squads. */
export function placed(rows: readonly FieldRow[], written: readonly WrittenScore[]): Placed[] {
  const told = written.flatMap(({ jotting: { payload } }) => (payload.squad ? [[payload.name.trim(), payload.squad] as const] : []));
  const squads = new Map(told);
  const rate = ({ games, total }: FieldRow) => total / Math.max(1, games.filter((game) => game !== null).length);
  return rows.map((row) => ({
    ...row,
    squad: row.squad || squads.get(row.name) || "",
    place: 1 + rows.filter((other) => rate(other) > rate(row)).length,
  }));
}

export type Order = "place" | "name" | "squad" | "total" | "form" | "cut" | number;

/** Rows in an order: by a game where it is a number; who has nothing there comes last. */
export function ordered<R extends Placed>(rows: readonly R[], by: Order, isTurned: boolean): R[] {
  const turn = isTurned ? -1 : 1;
  return rows.toSorted((one, other) => {
    if (by === "name" || by === "squad") {
      const [left, right] = by === "name" ? [one.name, other.name] : [one.squad ?? "", other.squad ?? ""];
      return turn * inWords(left, right) || one.place - other.place;
    }
    const [left, right] = [figure(one, by), figure(other, by)];
    if (left === null || right === null) return Number(left === null) - Number(right === null);
    return turn * (left - right) || one.place - other.place || inWords(one.name, other.name);
  });
}

/** What rows are ordered by: the best first where nothing is turned. */
function figure(row: Placed, by: Order): number | null {
  const negative = (value: number | null | undefined) => (value == null ? null : -value);
  if (by === "place") return row.place;
  if (by === "total") return -row.total;
  if (by === "form") return negative(row.form_pins);
  if (by === "cut") return negative(row.cut_chance);
  return typeof by === "number" ? negative(row.games[by]) : null;
}

const inWords = (one: string, other: string) => one.localeCompare(other, "en", { numeric: true });
