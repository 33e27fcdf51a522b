import { afterEach, describe, expect, it, vi } from "vitest";
import type { Kept } from "$shared/types";
import { Draft, type Memory } from "./draft.svelte";
import type { Table } from "./form";

class Tab implements Memory {
  readonly held = new Map<string, string>();
  getItem(key: string): string | null {
    return this.held.get(key) ?? null;
  }
  setItem(key: string, value: string): void {
    this.held.set(key, value);
  }
  removeItem(key: string): void {
    this.held.delete(key);
  }
}

function kept(document: Table, revision = 1): Kept<Table> {
  return {
    id: "h-1", kind: "house", name: "Kelp Lanes", revision, saved_at: "2026-11-28T09:00:00Z",
    deleted: false, document, links: [],
  };
}

function answer(status: number, body: unknown): void {
  vi.stubGlobal("document", { baseURI: "http://here.test/" });
  vi.stubGlobal("fetch", () =>
    Promise.resolve(new Response(JSON.stringify(body), { status, headers: { "x-nextpair": "1" } })),
  );
}

afterEach(() => vi.unstubAllGlobals());

describe("a draft", () => {
  it("brings changes back when its screen comes back, and drops them", () => {
    const tab = new Tab();
    const first = new Draft("house", kept({ name: "Kelp Lanes", lanes: 12 }), tab);
    expect(first.changed).toBe(false);
    first.document["lanes"] = 14;
    first.remember();

    const second = new Draft("house", kept({ name: "Kelp Lanes", lanes: 12 }), tab);
    expect(second.found).toBe(true);
    expect(second.document["lanes"]).toBe(14);
    second.drop();
    expect(second.document["lanes"]).toBe(12);
    expect(tab.held.size).toBe(0);
  });

  it("keeps nothing of a record that was not changed", () => {
    const tab = new Tab();
    const draft = new Draft("house", kept({ name: "Kelp Lanes" }), tab);
    draft.document["lanes"] = 14;
    draft.remember();
    delete draft.document["lanes"];
    draft.remember();
    expect(tab.held.size).toBe(0);
  });

  it("forgets its changes once they are saved", async () => {
    const tab = new Tab();
    const draft = new Draft("house", { name: "Kelp Lanes" }, tab);
    draft.document["lanes"] = 14;
    draft.remember();
    answer(201, kept({ name: "Kelp Lanes", lanes: 14 }));
    expect((await draft.save())?.id).toBe("h-1");
    expect([draft.id, draft.revision, draft.changed, tab.held.size]).toEqual(["h-1", 1, false, 0]);
  });

  it("shows a version that was saved meanwhile, and saves over it when told to", async () => {
    const tab = new Tab();
    const draft = new Draft("house", kept({ name: "Kelp Lanes", lanes: 12 }), tab);
    draft.document["lanes"] = 14;
    answer(409, { problems: [], current: kept({ name: "Kelp Lanes", lanes: 16 }, 5) });
    expect(await draft.save()).toBeNull();
    expect(draft.stale?.document["lanes"]).toBe(16);
    expect(draft.document["lanes"]).toBe(14);

    let sent: unknown;
    vi.stubGlobal("fetch", (_url: string, asked: { body: string }) => {
      sent = JSON.parse(asked.body);
      const record = kept({ name: "Kelp Lanes", lanes: 14 }, 6);
      return Promise.resolve(new Response(JSON.stringify(record), { headers: { "x-nextpair": "1" } }));
    });
    expect((await draft.keepMine())?.revision).toBe(6);
    expect(sent).toEqual({ document: { name: "Kelp Lanes", lanes: 14 }, revision: 5 });
    expect(draft.stale).toBeNull();
  });

  it("goes on from the other version when told to", async () => {
    const draft = new Draft("house", kept({ lanes: 12 }), new Tab());
    draft.document["lanes"] = 14;
    answer(409, { problems: [], current: kept({ lanes: 16 }, 5) });
    await draft.save();
    draft.takeTheirs();
    expect([draft.document["lanes"], draft.revision, draft.changed]).toEqual([16, 5, false]);
  });

  it("keeps everything when the server is away", async () => {
    const tab = new Tab();
    const draft = new Draft("house", kept({ lanes: 12 }), tab);
    draft.document["lanes"] = 14;
    draft.remember();
    vi.stubGlobal("document", { baseURI: "http://here.test/" });
    vi.stubGlobal("fetch", () => Promise.reject(new TypeError("no network")));
    expect(await draft.save()).toBeNull();
    expect(draft.failure).toContain("could not be reached");
    expect(tab.held.size).toBe(1);
  });
});
