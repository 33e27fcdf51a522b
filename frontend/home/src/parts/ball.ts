/** What happens to a ball: another finish, another layout, rest. */

import type { Table } from "./form";
import { gritWords } from "./numbers";

export interface NewSurface {
  date: string;
  surface_grit: unknown;
  surface_by: string;
  note: string;
}

export interface NewLayout {
  date: string;
  pin_to_pap_in: unknown;
  drilling_angle_deg: unknown;
  val_angle_deg: unknown;
  note: string;
}

/** A finish that is put on now: the ball has it, without a game on it, and its history says so. A pad
 * by hand leaves most of the finish before; a spinner works through every step. */
export function putOnSurface(ball: Table, surface: NewSurface): void {
  const { date, surface_grit, surface_by, note } = surface;
  const before = ball["surface_grit"];
  ball["surface_history"] = [...historyOf(ball, "surface_history"), withNote({ date, surface_grit, surface_by }, note)];
  if (surface_by === "hand" && before !== undefined) ball["grit_before"] = before;
  else delete ball["grit_before"];
  ball["surface_grit"] = surface_grit;
  ball["surface_by"] = surface_by;
  ball["games_on_surface"] = 0;
}

/** A layout that the ball is drilled to now. */
export function drillAnew(ball: Table, layout: NewLayout): void {
  const { note, ...drilled } = layout;
  ball["layout_history"] = [...historyOf(ball, "layout_history"), withNote(drilled, note)];
  const { date: _date, ...angles } = drilled;
  Object.assign(ball, angles);
}

/** The history of a ball under a key, oldest first. */
export function historyOf(ball: Table, key: "surface_history" | "layout_history"): Table[] {
  return Array.isArray(ball[key]) ? (ball[key] as Table[]) : [];
}

function withNote(entry: Table, note: string): Table {
  return note.trim() === "" ? entry : { ...entry, note: note.trim() };
}

/** In which part of the locker a ball is listed. */
export function shelfOf(ball: Table): string {
  if (ball["retired"] === true) return "Retired";
  const role = ball["role"] ?? (ball["cover"] === "plastic" ? "spare" : "strike");
  return role === "spare" ? "For spares" : "For strikes";
}

/** "solid, 2000 grit, 8 games on it". */
export function ballWords(ball: Table): string {
  const grit = ball["surface_grit"] === undefined ? "finish not known" : gritWords(ball["surface_grit"]);
  const games = ball["games_on_surface"];
  const worn = typeof games === "number" ? `, ${games} ${games === 1 ? "game" : "games"} on it` : "";
  return `${String(ball["cover"])}, ${grit}${worn}`;
}
