/** What is shared with others, and what others share. */

import type { Hand, Problem, Standing } from "$shared/types";

export interface Somebody {
  id: string;
  name: string;
}

/** Who may read what; all events where `event` is null. */
export interface Share {
  reader: Somebody;
  event: string | null;
  since: string;
}

export interface GuestLink {
  digest: string;
  event: string;
  made_at: string;
  expires_at: string;
}

/** A link that was just made: its address is told this once. */
export interface NewGuestLink extends GuestLink {
  url: string;
  qr_svg: string;
}

export interface EventLine {
  id: string;
  name: string;
  date: string;
}

export interface Athlete {
  owner: Somebody;
  events: number;
  next: EventLine | null;
}

export interface AthletePage {
  page: number;
  pages: number;
  total: number;
  items: Athlete[];
}

export interface SharedEvent extends EventLine {
  owner: Somebody;
  bowler: string;
  hand: Hand;
  house: string;
  patterns: string[];
  pairs: { game: number; pair: string }[];
  squad_size: number;
  problems: Problem[];
  sheet: Standing | null;
  debrief: Standing | null;
  shots: number;
}

export const LINK_DAYS = { fewest: 1, usual: 7, most: 30 };

/** Those who may read one event, each once for it and once for all events. */
export function readersOf(shares: readonly Share[], event: string): Share[] {
  return shares.filter((share) => share.event === null || share.event === event);
}

/** Address of what is read of another's event. */
export function sharedPath(owner: string, event: string, part = ""): string {
  const path = `/shared/${encodeURIComponent(owner)}/events/${encodeURIComponent(event)}`;
  return part ? `${path}/${part}` : path;
}

/** The address of a page of athletes. */
export function athletesPath(search: string, page: number): string {
  return `/shared?${new URLSearchParams({ search: search.trim(), page: String(page) })}`;
}
