/** Which screen the address after the # asks for. Other anchors are left alone. */

import { SCREENS, type Screen } from "./routes";

export interface Found {
  screen: Screen;
  params: Record<string, string>;
}

/** The screen of a path, literal parts before named ones; null where there is none. */
export function screenAt(path: string, screens: readonly Screen[] = SCREENS): Found | null {
  const parts = path.split("/").filter(Boolean);
  const found = screens.flatMap((screen) => {
    const params = paramsOf(screen.path.split("/").filter(Boolean), parts);
    return params ? [{ screen, params }] : [];
  });
  found.sort((one, other) => Object.keys(one.params).length - Object.keys(other.params).length);
  return found[0] ?? null;
}

function paramsOf(pattern: string[], parts: string[]): Record<string, string> | null {
  if (pattern.length !== parts.length) return null;
  const params: Record<string, string> = {};
  for (const [place, wanted] of pattern.entries()) {
    const part = parts[place]!;
    if (wanted.startsWith(":")) params[wanted.slice(1)] = decodeURIComponent(part);
    else if (wanted !== part) return null;
  }
  return params;
}

/** The link to a path of this page: `#/events`. */
export function href(path: string): string {
  return `#${path}`;
}

class Router {
  path = $state("/events");
  query = $state.raw(new URLSearchParams());
  /** How many screens were opened since the page was loaded. */
  moves = $state(0);
  found = $derived(screenAt(this.path));

  constructor() {
    this.read();
    addEventListener("hashchange", () => this.read());
  }

  /** Go to a path, as if its link had been followed. */
  goTo(path: string): void {
    location.hash = path;
  }

  /** Keep something of the screen in its address, without a step in the history. */
  keep(name: string, value: string): void {
    const query = new URLSearchParams(this.query);
    query.set(name, value);
    this.query = query;
    history.replaceState(null, "", `#${this.path}?${query}`);
  }

  private read(): void {
    if (location.hash && !location.hash.startsWith("#/")) return;
    const [path = "", query = ""] = (location.hash.slice(1) || "/events").split("?", 2);
    this.query = new URLSearchParams(query);
    if (path !== this.path) {
      this.path = path;
      this.moves += 1;
    }
  }
}

export const router = new Router();
