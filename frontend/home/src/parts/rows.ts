/** Rows of a table that is edited: added, copied, moved, taken away. */

import type { Table } from "./form";

/** A row added at a place, like the one before it but for the keys that tell rows apart. */
export function addRow(rows: Table[], after: number, fresh: Table): void {
  rows.splice(after + 1, 0, { ...fresh });
}

/** Take a row away; it is returned, so that it can be put back. */
export function takeRow(rows: Table[], index: number): Table | undefined {
  return rows.splice(index, 1)[0];
}

/** Move a row up (-1) or down (1); false where it stands at the end already. */
export function moveRow(rows: Table[], index: number, step: -1 | 1): boolean {
  const row = rows[index];
  const other = rows[index + step];
  if (row === undefined || other === undefined) return false;
  rows[index] = other;
  rows[index + step] = row;
  return true;
}

export type RowKey = "up" | "down" | "moveUp" | "moveDown" | "next" | null;

/** What a key does in a cell: arrows and Enter go from row to row, with Alt they move the row. */
export function rowKey(event: Pick<KeyboardEvent, "key" | "altKey" | "shiftKey" | "ctrlKey" | "metaKey">): RowKey {
  if (event.ctrlKey || event.metaKey) return null;
  if (event.key === "ArrowUp") return event.altKey ? "moveUp" : "up";
  if (event.key === "ArrowDown") return event.altKey ? "moveDown" : "down";
  if (event.key === "Enter") return event.shiftKey ? "up" : "next";
  return null;
}
