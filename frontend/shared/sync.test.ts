import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { exchange, LARGEST_BATCH, type Numbered, type Outbox } from "./sync";
import type { Jotting, Receipt } from "./types";

/** An outbox in memory. */
class Box implements Outbox {
  readonly settled = new Map<string, Receipt>();
  readonly taken: Numbered[] = [];
  constructor(
    readonly written: Jotting[],
    readonly wanted: { event: string; after: number }[] = [],
  ) {}

  async unsent(most: number) {
    return this.written.filter(({ id }) => !this.settled.has(id)).slice(0, most);
  }

  async settle(receipts: Receipt[]) {
    for (const receipt of receipts) this.settled.set(receipt.id, receipt);
  }

  async cursors() {
    return this.wanted;
  }

  async takeIn(_event: string, items: Numbered[]) {
    this.taken.push(...items);
  }

  private program = "";

  async refuser() {
    return [...this.settled.values()].some(({ answer }) => answer === "refused") ? this.program : null;
  }

  async refusedBy(program: string) {
    this.program = program;
  }

  async takeUpAgain() {
    for (const [id, { answer }] of this.settled) if (answer === "refused") this.settled.delete(id);
  }
}

function jottings(count: number): Jotting[] {
  return Array.from({ length: count }, (_, index) => ({
    id: `id ${index}`, event: "event", device: "phone", device_seq: index + 1, kind: "note", payload: {},
    supersedes: null, schema_version: 1, client_time: "",
  }));
}

function stored(batch: Jotting[]): Receipt[] {
  return batch.map(({ id }, index) => ({ id, answer: "stored", seq: index + 1, why: "" }));
}

const OURS = { "content-type": "application/json", "x-nextpair": "1" };

function answer(body: unknown, status = 200, headers: Record<string, string> = OURS): Response {
  return new Response(typeof body === "string" ? body : JSON.stringify(body), { status, headers });
}

type Serve = (path: string, sent: { jottings: Jotting[] }, init: RequestInit) => Response | Promise<Response>;

function serve(how: Serve): void {
  vi.stubGlobal("fetch", async (url: string, init: RequestInit) =>
    how(new URL(url).pathname + new URL(url).search, init.body ? JSON.parse(String(init.body)) : { jottings: [] }, init),
  );
}

beforeEach(() => {
  vi.stubGlobal("document", { baseURI: "http://laptop.local:8707/lanes/" });
});

afterEach(() => {
  vi.unstubAllGlobals();
});

test("everything is sent in batches, beside the page's own folder", async () => {
  const box = new Box(jottings(LARGEST_BATCH + 1));
  const sizes: number[] = [];
  serve((path, { jottings: batch }, init) => {
    expect(path).toBe("/api/v1/sync");
    expect(init.redirect).toBe("error");
    sizes.push(batch.length);
    return answer({ app: "nextpair", receipts: stored(batch) });
  });
  expect(await exchange(box)).toBe("inStep");
  expect(sizes).toEqual([LARGEST_BATCH, 1]);
  expect(box.settled.size).toBe(LARGEST_BATCH + 1);
});

describe("nothing counts as sent", () => {
  const named = { app: "nextpair", receipts: stored(jottings(2)) };
  const CASES: [string, () => Response | Promise<Response>, string][] = [
    ["when the answer is lost", () => Promise.reject(new TypeError("network")), "away"],
    ["when a page comes back", () => answer("<html>Welcome</html>", 200, { "content-type": "text/html" }), "away"],
    ["when a page says that it is JSON", () => answer("<html>", 200, { "content-type": "application/json" }), "away"],
    ["when JSON comes as something else", () => answer(named, 200, { "content-type": "text/plain" }), "away"],
    ["when the answer is not marked as ours", () => answer({ receipts: named.receipts }), "away"],
    ["when the status is another", () => answer(named, 202), "away"],
    ["when the server fails", () => answer(named, 500), "away"],
    ["when it asks who we are", () => answer({ problems: [] }, 401), "signIn"],
    ["when a stranger asks who we are", () => answer("{}", 401, { "content-type": "application/json" }), "away"],
    ["when it names others", () => answer({ app: "nextpair", receipts: [{ ...stored(jottings(1))[0], id: "other" }] }), "away"],
    ["when it names none", () => answer({ app: "nextpair" }), "away"],
  ];
  test.each(CASES)("%s", async (_name, how, reach) => {
    const box = new Box(jottings(2));
    serve(how);
    expect(await exchange(box)).toBe(reach);
    expect(box.settled.size).toBe(0);
  });
});

test("what an answer leaves out is sent again", async () => {
  const box = new Box(jottings(3));
  const sent: string[][] = [];
  serve((_path, { jottings: batch }) => {
    sent.push(batch.map(({ id }) => id));
    return answer({ app: "nextpair", receipts: stored(batch.slice(0, 1)) });
  });
  expect(await exchange(box)).toBe("inStep");
  expect(sent).toEqual([["id 0", "id 1", "id 2"], ["id 1", "id 2"], ["id 2"]]);
});

test("of a batch that is turned away only what it is turned away for is refused", async () => {
  const box = new Box(jottings(9));
  serve((_path, { jottings: batch }) =>
    batch.some(({ id }) => id === "id 4")
      ? answer({ problems: [{ words: "kind: found 'song'" }] }, 422)
      : answer({ app: "nextpair", receipts: stored(batch) }),
  );
  expect(await exchange(box)).toBe("inStep");
  expect(box.settled.size).toBe(9);
  expect([...box.settled.values()].filter((receipt) => receipt.answer !== "stored")).toEqual([
    { id: "id 4", answer: "refused", seq: null, why: "kind: found 'song'" },
  ]);
});

test("what others wrote is asked for page by page from the last number known", async () => {
  const box = new Box([], [{ event: "event", after: 7 }]);
  const [one, two] = jottings(2) as [Jotting, Jotting];
  const asked: string[] = [];
  serve((path) => {
    asked.push(path);
    const items = asked.length === 1 ? [{ seq: 8, jotting: one }] : asked.length === 2 ? [{ seq: 9, jotting: two }] : [];
    return answer({ app: "nextpair", items, next: 7 + asked.length });
  });
  expect(await exchange(box)).toBe("inStep");
  expect(asked).toEqual([8, 9, 10].map((next) => `/api/v1/events/event/log?after=${next - 1}`));
  expect(box.taken.map(({ seq }) => seq)).toEqual([8, 9]);
});

test("with nothing to send or to ask for, the server still says who it takes us for", async () => {
  serve((path) => answer({ app: "nextpair", needs_sign_in: true, account: null, path }));
  expect(await exchange(new Box([]))).toBe("signIn");
});

describe("what a program turned away", () => {
  /** A server of a version, that refuses one jotting while it does not know it. */
  function serveVersion(version: string, knows: boolean, model_version = "model"): string[] {
    const asked: string[] = [];
    serve((path, { jottings: batch }) => {
      asked.push(path);
      if (path === "/api/v1/status") return answer({ app: "nextpair", version, model_version, needs_sign_in: false, account: null });
      const receipts = stored(batch).map((one) => (one.id === "id 1" && !knows ? { ...one, answer: "refused", seq: null, why: "kind: found str" } : one));
      return answer({ app: "nextpair", receipts });
    });
    return asked;
  }

  async function refused(): Promise<Box> {
    const box = new Box(jottings(3));
    serveVersion("1.0", false);
    expect(await exchange(box)).toBe("inStep");
    expect(box.settled.get("id 1")?.answer).toBe("refused");
    return box;
  }

  test("is not sent again to the same program", async () => {
    const box = await refused();
    const asked = serveVersion("1.0", true);
    await exchange(box);
    expect(asked).toEqual(["/api/v1/status"]);
    expect(box.settled.get("id 1")?.answer).toBe("refused");
  });

  test.each([["another version", "1.1", "model"], ["another model", "1.0", "newer model"]])("is sent again to %s, by itself", async (_name, version, model) => {
    const box = await refused();
    const sent: string[][] = [];
    serve((path, { jottings: batch }) => {
      if (path === "/api/v1/status") return answer({ app: "nextpair", version, model_version: model, needs_sign_in: false, account: null });
      sent.push(batch.map(({ id }) => id));
      return answer({ app: "nextpair", receipts: stored(batch) });
    });
    expect(await exchange(box)).toBe("inStep");
    expect(sent).toEqual([["id 1"]]);
    expect(box.settled.get("id 1")?.answer).toBe("stored");
  });

  test("is asked of every other version once, where that does not know it either", async () => {
    const box = await refused();
    const asked = serveVersion("1.1", false);
    await exchange(box);
    await exchange(box);
    expect(asked.filter((path) => path === "/api/v1/sync")).toHaveLength(1);
    expect(box.settled.get("id 1")?.answer).toBe("refused");
  });

  test("stays refused while nobody answers", async () => {
    const box = await refused();
    serve(() => Promise.reject(new TypeError("network")));
    expect(await exchange(box)).toBe("away");
    expect(box.settled.get("id 1")?.answer).toBe("refused");
  });

  test("is told together with who answered", async () => {
    const met: string[] = [];
    serveVersion("1.0", false);
    await exchange(new Box(jottings(3)), ({ version }) => met.push(version));
    expect(met).toEqual(["1.0"]);
  });
});
