/** Keeping a phone's log and the server's in step, over networks that lose answers, hang, or show a
 * sign-in page of their own.
 *
 * A jotting counts as sent only if the answer is ours and names it. Jottings never change, so sending
 * one again is harmless, and two logs merge by their union. */

import { apiUrl } from "./api";
import type { Jotting, Problem, Receipt, Status } from "./types";

export const LARGEST_BATCH = 500;
export const PATIENCE_MS = 10_000;
const SHORTEST_WAIT_MS = 2_000;
const LONGEST_WAIT_MS = 60_000;
/** Where no server was ever met there may be none: a plain folder on the web. */
const LONGEST_WAIT_FOR_A_STRANGER_MS = 600_000;

/** A jotting of the server's log. */
export interface Numbered {
  seq: number;
  jotting: Jotting;
}

/** What the sender needs of the place where jottings are kept. */
export interface Outbox {
  unsent(most: number): Promise<Jotting[]>;
  settle(receipts: Receipt[]): Promise<void>;
  /** Events whose log is wanted, each with the last number known. */
  cursors(): Promise<{ event: string; after: number }[]>;
  takeIn(event: string, items: Numbered[], next: number): Promise<void>;
  /** The program that turned away what stands refused: empty where nobody knows which, null where
   * nothing stands refused. */
  refuser(): Promise<string | null>;
  refusedBy(program: string): Promise<void>;
  /** Have what was turned away sent again. */
  takeUpAgain(): Promise<void>;
}

/** How it stands with the server: not asked yet, in step, out of reach (no network, or a sign-in page
 * of the house's own network), waiting for us to sign in, or refusing what we send. */
export type Reach = "unknown" | "inStep" | "away" | "signIn";

/** An answer to `POST /sync`. */
interface SyncAnswer {
  app: "nextpair";
  receipts: Receipt[];
}

interface LogAnswer {
  app: "nextpair";
  items: Numbered[];
  next: number;
}

/** Why there was no answer to use: nobody of ours answered, we are not signed in, or the server turned
 * the whole request away. */
class Unanswered extends Error {
  readonly why: "away" | "signIn" | "turnedAway";

  constructor(why: "away" | "signIn" | "turnedAway", words: string = why) {
    super(words);
    this.why = why;
  }
}

/** Send what is unsent, then take in what others wrote. What a program turned away is sent again once
 * another one answers. Never throws for the network's sake. `met` hears who answers, when that is asked. */
export async function exchange(box: Outbox, met: (status: Status) => void = () => {}): Promise<Reach> {
  const status = statusOnce(met);
  try {
    const refuser = await box.refuser();
    if (refuser !== null && programOf(await status()) !== refuser) await box.takeUpAgain();
    const { sent, refused } = await sendAll(box);
    if (refused) await box.refusedBy(programOf(await status()));
    const wanted = await box.cursors();
    for (const { event, after } of wanted) await takeInAll(box, event, after);
    if (!sent && wanted.length === 0) {
      const { needs_sign_in, account } = await status();
      if (needs_sign_in && !account) return "signIn";
    }
    return "inStep";
  } catch (cause) {
    if (!(cause instanceof Unanswered)) throw cause;
    return cause.why === "signIn" ? "signIn" : "away";
  }
}

/** What tells program and version apart from any other. */
function programOf({ version, model_version }: Status): string {
  return `${version} ${model_version}`;
}

/** Asks who answers, once. */
function statusOnce(met: (status: Status) => void): () => Promise<Status> {
  let told: Status | null = null;
  return async () => {
    if (!told) met((told = await answerOf<Status>("/status")));
    return told;
  };
}

/** Send every batch; whether there was one, and whether any jotting was turned away. A batch that is turned away whole is sent in halves, down
 * to the jotting that it is turned away for: that one is kept as refused, the others go on. */
async function sendAll(box: Outbox): Promise<{ sent: boolean; refused: boolean }> {
  let most = LARGEST_BATCH;
  let refused = false;
  const settle = async (receipts: Receipt[]) => {
    refused ||= receipts.some(({ answer }) => answer === "refused");
    await box.settle(receipts);
  };
  for (let sent = false; ; sent = true) {
    const batch = await box.unsent(most);
    if (batch.length === 0) return { sent, refused };
    try {
      await settle(await receiptsOf(batch));
      most = LARGEST_BATCH;
    } catch (cause) {
      if (!(cause instanceof Unanswered) || cause.why !== "turnedAway") throw cause;
      if (batch.length > 1) most = Math.ceil(batch.length / 2);
      else await settle([{ id: batch[0]!.id, answer: "refused", seq: null, why: cause.message }]);
    }
  }
}

/** What the server says of jottings of this batch; an answer that names none of them is no answer. */
async function receiptsOf(batch: Jotting[]): Promise<Receipt[]> {
  const { receipts } = await answerOf<SyncAnswer>("/sync", { jottings: batch });
  const ids = new Set(batch.map(({ id }) => id));
  const ours = Array.isArray(receipts) ? receipts.filter(({ id }) => ids.has(id)) : [];
  if (ours.length === 0) throw new Unanswered("away");
  return ours;
}

async function takeInAll(box: Outbox, event: string, after: number): Promise<void> {
  for (let known = after; ; ) {
    const { items, next } = await answerOf<LogAnswer>(`/events/${event}/log?after=${known}`);
    if (!Array.isArray(items) || items.length === 0) return;
    await box.takeIn(event, items, next);
    if (!(next > known)) return;
    known = next;
  }
}

const TURNED_AWAY = [400, 413, 422];

async function wordsOf(answer: Response): Promise<string> {
  const told: unknown = await answer.json().catch(() => null);
  const [problem] = (told as { problems?: Problem[] } | null)?.problems ?? [];
  return problem?.words ?? `The server answered ${answer.status}.`;
}

/** The answer of our own server, or Unanswered: status 200, JSON, and marked as ours. */
async function answerOf<A extends { app: "nextpair" }>(path: string, body?: unknown): Promise<A> {
  const answer = await fetch(apiUrl(path), {
    method: body === undefined ? "GET" : "POST",
    redirect: "error",
    credentials: "same-origin",
    cache: "no-store",
    signal: AbortSignal.timeout(PATIENCE_MS),
    headers: body === undefined ? {} : { "content-type": "application/json" },
    body: body === undefined ? null : JSON.stringify(body),
  }).catch(() => {
    throw new Unanswered("away");
  });
  if (answer.headers.get("x-nextpair") === "1") {
    if (answer.status === 401 || answer.status === 403) throw new Unanswered("signIn");
    if (TURNED_AWAY.includes(answer.status)) throw new Unanswered("turnedAway", await wordsOf(answer));
  }
  const isJson = /^application\/json\b/.test(answer.headers.get("content-type") ?? "");
  const told: unknown = answer.status === 200 && isJson ? await answer.json().catch(() => null) : null;
  if ((told as Partial<A> | null)?.app !== "nextpair") throw new Unanswered("away");
  return told as A;
}

/** Keeps exchanging: when asked, when the network or the page comes back, and after a wait that grows
 * while nobody answers. One exchange at a time, over all tabs where the browser can lock. */
export class Sender {
  private readonly box: Outbox;
  private readonly tell: (reach: Reach) => void;
  private readonly met: (status: Status) => void;
  private known: boolean;
  private timer: ReturnType<typeof setTimeout> | undefined;
  private pause_ms = SHORTEST_WAIT_MS;
  private backoff_ms = SHORTEST_WAIT_MS;
  private underWay = false;
  private again = false;

  /** `known`: whether a server of ours was ever met at this address. */
  constructor(box: Outbox, known: boolean, tell: (reach: Reach) => void, met: (status: Status) => void = () => {}) {
    this.box = box;
    this.met = met;
    this.known = known;
    this.tell = tell;
  }

  /** Begin, and go on whenever something says that it may work now. Returns what ends it. */
  start(): () => void {
    const now = () => void this.soon();
    const seen = () => document.visibilityState === "visible" && now();
    window.addEventListener("online", now);
    window.addEventListener("pageshow", now);
    document.addEventListener("visibilitychange", seen);
    now();
    return () => {
      window.removeEventListener("online", now);
      window.removeEventListener("pageshow", now);
      document.removeEventListener("visibilitychange", seen);
      clearTimeout(this.timer);
    };
  }

  /** Exchange now, or as soon as the exchange under way is over. */
  async soon(): Promise<void> {
    this.again = true;
    if (this.underWay) return;
    this.underWay = true;
    clearTimeout(this.timer);
    try {
      while (this.again) {
        this.again = false;
        this.heard(await alone(() => exchange(this.box, this.met)));
      }
    } finally {
      this.underWay = false;
      this.timer = setTimeout(() => void this.soon(), this.pause_ms);
    }
  }

  /** Null: another tab is at it, perhaps without what was written since. */
  private heard(reach: Reach | null): void {
    this.pause_ms = SHORTEST_WAIT_MS;
    if (reach === null) return;
    this.known ||= reach !== "away";
    const longest = this.known ? LONGEST_WAIT_MS : LONGEST_WAIT_FOR_A_STRANGER_MS;
    this.pause_ms = reach === "inStep" ? LONGEST_WAIT_MS : this.backoff_ms;
    this.backoff_ms = reach === "inStep" ? SHORTEST_WAIT_MS : Math.min(this.backoff_ms * 2, longest);
    this.tell(reach);
  }
}

/** Do it while no other tab does; null where one does it already. */
async function alone<T>(work: () => Promise<T>): Promise<T | null> {
  if (!("locks" in navigator)) return work();
  return navigator.locks.request("nextpair-sync", { ifAvailable: true }, (lock) => (lock ? work() : null));
}
