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
  /** The key that goes there. */
  key?: string;
  load: () => Promise<{ default: Component<ScreenProps> | Component<Record<string, never>> }>;
}

export const SCREENS: readonly Screen[] = [
  { path: "/events", title: "Events", nav: "main", key: "1", load: () => import("./screens/Events.svelte") },

  { path: "/events/new", title: "New event", load: () => import("./screens/NewEvent.svelte") },
  { path: "/events/:event", title: "Overview", nav: "event", key: "o", load: () => import("./screens/Event.svelte") },
];
