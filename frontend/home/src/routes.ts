/** Every screen of the page at home: its address, its name, and where it is loaded from. */

import type { Component } from "svelte";

export interface ScreenProps {
  /** What the address names: `event` of `/events/:event`. */
  params: Record<string, string>;
}

export interface Screen {
  /** Parts that begin with a colon name what stands there. */
  path: string;
  title: string;
  /** In which navigation it stands; left out where other screens lead to it. */
  nav?: "main" | "event";
  /** Of use only where accounts sign in. */
  signedIn?: true;
  /** The key that goes there. */
  key?: string;
  load: () => Promise<{ default: Component<ScreenProps> | Component<Record<string, never>> }>;
}

export const SCREENS: readonly Screen[] = [
  { path: "/events", title: "Events", nav: "main", key: "1", load: () => import("./screens/Events.svelte") },
  { path: "/locker", title: "Locker", nav: "main", key: "2", load: () => import("./screens/Locker.svelte") },
  { path: "/houses", title: "Houses", nav: "main", key: "3", load: () => import("./screens/Houses.svelte") },
  { path: "/patterns", title: "Patterns", nav: "main", key: "4", load: () => import("./screens/Patterns.svelte") },
  { path: "/bowlers", title: "Bowlers", nav: "main", key: "5", load: () => import("./screens/Bowlers.svelte") },
  { path: "/squads", title: "Squads", nav: "main", key: "6", load: () => import("./screens/Squads.svelte") },
  { path: "/money", title: "Money", nav: "main", key: "8", load: () => import("./screens/Ledger.svelte") },
  { path: "/season", title: "Season", nav: "main", key: "9", load: () => import("./screens/Season.svelte") },
  { path: "/shared", title: "Shared with me", nav: "main", key: "0", signedIn: true, load: () => import("./screens/Shared.svelte") },
  { path: "/settings", title: "Settings", nav: "main", key: "7", load: () => import("./screens/Settings.svelte") },

  { path: "/events/new", title: "New event", load: () => import("./screens/NewEvent.svelte") },
  { path: "/events/:event", title: "Overview", nav: "event", key: "o", load: () => import("./screens/Event.svelte") },
  { path: "/events/:event/sheet", title: "Sheet", nav: "event", key: "s", load: () => import("./screens/Sheet.svelte") },
  { path: "/events/:event/try", title: "Try it", nav: "event", key: "t", load: () => import("./screens/TryIt.svelte") },
  { path: "/events/:event/bag", title: "Bag", nav: "event", key: "b", load: () => import("./screens/Bag.svelte") },
  { path: "/events/:event/packing", title: "Packing", nav: "event", key: "k", load: () => import("./screens/Packing.svelte") },
  { path: "/events/:event/practice", title: "Practice", nav: "event", key: "p", load: () => import("./screens/Practice.svelte") },
  { path: "/events/:event/scores", title: "Scores", nav: "event", key: "c", load: () => import("./screens/Scores.svelte") },
  { path: "/events/:event/statistics", title: "Statistics", nav: "event", key: "a", load: () => import("./screens/Statistics.svelte") },
  { path: "/events/:event/standing", title: "Standing", nav: "event", key: "f", load: () => import("./screens/Standing.svelte") },
  { path: "/events/:event/reading", title: "Reading", nav: "event", key: "r", load: () => import("./screens/Reading.svelte") },
  { path: "/events/:event/debrief", title: "Debrief", nav: "event", key: "d", load: () => import("./screens/Debrief.svelte") },
  { path: "/events/:event/money", title: "Money", nav: "event", key: "m", load: () => import("./screens/Money.svelte") },
  { path: "/events/:event/recap", title: "Recap", nav: "event", key: "e", load: () => import("./screens/Recap.svelte") },
  { path: "/events/:event/edit", title: "Change", load: () => import("./screens/EventEdit.svelte") },

  { path: "/locker/:id", title: "A ball", load: () => import("./screens/Locker.svelte") },
  { path: "/houses/:id", title: "A house", load: () => import("./screens/Houses.svelte") },
  { path: "/houses/:id/book", title: "A house’s book", load: () => import("./screens/HouseBook.svelte") },
  { path: "/patterns/:id", title: "A pattern", load: () => import("./screens/Patterns.svelte") },
  { path: "/conditions", title: "Conditions", load: () => import("./screens/Conditions.svelte") },
  { path: "/season/goals", title: "Goals", load: () => import("./screens/Goals.svelte") },
  { path: "/season/goals/:id", title: "A goal", load: () => import("./screens/Goals.svelte") },
  { path: "/kit", title: "Kit", load: () => import("./screens/Kit.svelte") },
  { path: "/kit/:id", title: "A kit", load: () => import("./screens/Kit.svelte") },
  { path: "/bowlers/:id", title: "A bowler", load: () => import("./screens/Bowlers.svelte") },
  { path: "/shared/:owner", title: "An athlete", signedIn: true, load: () => import("./screens/SharedAthlete.svelte") },
  { path: "/shared/:owner/:shared", title: "A shared event", signedIn: true, load: () => import("./screens/SharedEvent.svelte") },
  { path: "/shared/:owner/:shared/:part", title: "A shared event", signedIn: true, load: () => import("./screens/SharedEvent.svelte") },
  { path: "/squads/:id", title: "A squad", load: () => import("./screens/Squads.svelte") },
];
