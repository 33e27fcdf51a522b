/** The packing list of an event as the server tells it to its owner, and what the screen says of it. */

import type { CaseWeight, PackingItem } from "$shared/types";
import { counted } from "$shared/words";
import type { Table } from "./parts/form";

export interface OwnItem extends PackingItem {
  /** What is nobody else's business: it is never ticked or noted, since that would stand in a log. */
  private: boolean;
}

/** A stock that runs low. */
export interface Reorder {
  item: string;
  words: string;
}

export interface Packing {
  bag_from: "sheet" | "old sheet" | "no sheet";
  /** By which kit it is packed; null where none is kept. */
  kit: string | null;
  kits: string[];
  done: string[];
  /** What was missing at this event. */
  noted: string[];
  packing: {
    event: string;
    hours: number;
    items: OwnItem[];
    missing: string[];
    reorders: Reorder[];
    cases: CaseWeight[];
    cautions: string[];
  };
}

/** The address of a list, by a kit of a name or by the first one. */
export function packingPath(event: string, kit: string | null): string {
  return `/events/${event}/packing${kit === null ? "" : `?${new URLSearchParams({ kit })}`}`;
}

/** How many of some items are packed, of those that can be ticked. */
export function countWords(items: readonly OwnItem[], done: ReadonlySet<string>): string {
  const ticked = items.filter((one) => !one.private);
  return ticked.length ? `${ticked.filter(({ item }) => done.has(item)).length} of ${ticked.length}` : "";
}

/** Why no ball is on the list; nothing where the sheet's bag is. */
export function bagWords(from: Packing["bag_from"]): string {
  if (from === "sheet") return "";
  const why = from === "no sheet" ? "No sheet has chosen a bag yet" : "The sheet is of an event that has changed since";
  return `${why}, so the list has no balls, no pads for their surfaces and no weights of cases.`;
}

/** "2 lines, 3 in stock, 50 lb a case": a kit in a line. */
export function kitWords(kit: Table): string {
  const many = (key: string) => (Array.isArray(kit[key]) ? kit[key].length : 0);
  const limit = typeof kit["case_limit_lb"] === "number" ? `, ${kit["case_limit_lb"]} lb a case` : "";
  return `${counted(many("items"), "line")}, ${many("stock")} in stock${limit}`;
}
