import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { Entry } from "./entry.svelte";
import type { Memory } from "./parts/draft.svelte";

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

const asked: string[] = [];

beforeEach(() => {
  asked.length = 0;
  vi.stubGlobal("document", { baseURI: "http://here.test/" });
  vi.stubGlobal("fetch", (_url: string, { body }: { body: string }) => {
    asked.push((JSON.parse(body) as { balls: string }).balls);
    const checked = { game: 1, frames: [], total: null, so_far: 0, max_possible: 300, min_possible: 0, problems: [] };
    return Promise.resolve(new Response(JSON.stringify(checked), { headers: { "x-nextpair": "1" } }));
  });
});

afterEach(() => vi.unstubAllGlobals());

describe("a game that is entered", () => {
  it("leads from frame to frame, and takes back across them", () => {
    const entry = new Entry("e", 1, "traditional", new Tab());
    for (const mark of ["X", "8", "/"]) entry.add(mark);
    expect([entry.at, entry.text]).toEqual([3, "X, 8 /,"]);
    entry.takeBack();
    entry.markSplit();
    expect([entry.at, entry.text]).toEqual([2, "X, (8),"]);
    entry.takeBack();
    entry.takeBack();
    expect([entry.at, entry.text]).toEqual([1, ""]);
  });

  it("goes on in empty frames, and never over what is written", () => {
    const entry = new Entry("e", 1, "traditional", new Tab());
    entry.type(1, "xx9/");
    expect(entry.text).toBe("X, X, 9 /,");
    entry.type(1, "x5");
    expect(entry.text).toBe("X 5, X, 9 /,");
    entry.type(1, "X, 7 2, 9 -");
    expect(entry.text).toBe("X, 7 2, 9 -,");
  });

  it("asks what the last text is worth, and shows no answer to another one", async () => {
    const entry = new Entry("e", 1, "traditional", new Tab());
    entry.add("X");
    entry.add("X");
    await vi.waitFor(() => expect(asked.at(-1)).toBe("X, X,"));
    await vi.waitFor(() => expect(entry.checked).not.toBeNull());
    entry.begin(2);
    expect(entry.checked).toBeNull();
  });

  it("is found again in this tab until it is kept or emptied", () => {
    const tab = new Tab();
    new Entry("e", 3, "traditional", tab).add("X");
    expect(new Entry("e", 1, "traditional", tab).text).toBe("X,");
    expect(new Entry("e", 1, "traditional", tab).game).toBe(3);
    expect(new Entry("other", 1, "traditional", tab).text).toBe("");
    new Entry("e", 1, "traditional", tab).begin(4);
    expect(tab.held.size).toBe(0);
  });
});
