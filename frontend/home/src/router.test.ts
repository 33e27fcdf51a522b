import { beforeAll, expect, it, vi } from "vitest";
import type { Screen } from "./routes";

const load = () => Promise.reject(new Error("not loaded here"));
const screens: Screen[] = ["/events", "/events/:event", "/events/new", "/events/:event/try"].map((path) => ({
  path,
  title: path,
  load,
}));

let screenAt: typeof import("./router.svelte").screenAt;

beforeAll(async () => {
  vi.stubGlobal("location", { hash: "" });
  vi.stubGlobal("addEventListener", () => undefined);
  ({ screenAt } = await import("./router.svelte"));
});

it("finds the screen of a path, and what the path names", () => {
  expect(screenAt("/events", screens)?.screen.path).toBe("/events");
  expect(screenAt("/events/a%2Fb/try", screens)).toMatchObject({ params: { event: "a/b" } });
  expect(screenAt("/nowhere", screens)).toBeNull();
});

it("takes a screen's own words before a name", () => {
  expect(screenAt("/events/new", screens)?.screen.path).toBe("/events/new");
});
