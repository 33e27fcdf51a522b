/** The page's address: `#/now`, `#/shot/ID`. */

export const SCREENS = [
  "now", "log", "score", "spare", "more", "read", "next", "pack", "diary", "standing", "send", "shot",
] as const;
export type Screen = (typeof SCREENS)[number];

class Route {
  screen = $state<Screen>("now");
  /** What follows the screen in the address. */
  rest = $state("");

  constructor() {
    this.read();
    window.addEventListener("hashchange", () => this.read());
  }

  private read(): void {
    const [screen, ...rest] = location.hash.replace(/^#\/?/, "").split("/");
    this.screen = SCREENS.find((one) => one === screen) ?? "now";
    this.rest = rest.join("/");
  }
}

export const route = new Route();

export function goTo(screen: Screen, rest = ""): void {
  location.hash = `#/${screen}${rest && `/${rest}`}`;
}
