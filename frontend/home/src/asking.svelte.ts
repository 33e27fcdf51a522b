/** Asking the server from a screen: who is signed in, and answers that follow what is shown. */

import { type Asking, Refusal, ask as askServer } from "$shared/api";
import type { Status } from "$shared/types";
import { forgetDrafts } from "./parts/drafts";

const SIGNED_OUT = 401;
const KEPT_ANSWERS = 24;
const kept = new Map<string, unknown>();

class Session {
  status = $state.raw<Status | null>(null);
  /** Whether the server could not be reached when it was last asked who is there. */
  unreachable = $state(false);
  mustSignIn = $derived(this.status !== null && this.status.needs_sign_in && this.status.account === null);

  async open(): Promise<void> {
    try {
      this.status = await askServer<Status>("/status");
      this.unreachable = false;
    } catch {
      this.unreachable = true;
    }
  }

  async signIn(name: string, password: string): Promise<void> {
    await askServer("/sign-in", { method: "POST", body: { name, password } });
    await this.open();
  }

  async signOut(): Promise<void> {
    await askServer("/sign-out", { method: "POST", body: {} });
    forgetDrafts();
    this.forget();
  }

  /** The server no longer knows us: what it told is not shown any more. */
  forget(): void {
    kept.clear();
    if (this.status) this.status = { ...this.status, needs_sign_in: true, account: null };
  }
}

export const session = new Session();

/** Ask for JSON, as `$shared/api` does; who is signed out comes to the sign-in page. */
export async function ask<T>(path: string, asking: Asking = {}): Promise<T> {
  try {
    return await askServer<T>(path, asking);
  } catch (cause) {
    if (cause instanceof Refusal && cause.status === SIGNED_OUT) session.forget();
    throw cause;
  }
}

/**
 * The answer to a GET that a screen shows. It is asked again when what `path` reads changes, and
 * meanwhile the last answer to the same path is shown. Made while a component is being set up;
 * a path of null asks nothing.
 */
export class Asked<T> {
  value = $state.raw<T | null>(null);
  refusal = $state.raw<Refusal | null>(null);
  waiting = $state(true);
  #times = $state(0);

  constructor(path: () => string | null) {
    $effect(() => {
      void this.#times;
      const asked = path();
      if (asked === null) {
        this.waiting = false;
        return;
      }
      const end = new AbortController();
      void this.#follow(asked, end.signal);
      return () => end.abort();
    });
  }

  /** Ask once more. */
  again(): void {
    this.#times += 1;
  }

  async #follow(path: string, signal: AbortSignal): Promise<void> {
    const last = kept.get(path);
    if (last !== undefined) this.value = last as T;
    this.waiting = true;
    try {
      const answer = await ask<T>(path, { signal });
      if (signal.aborted) return;
      keep(path, answer);
      this.value = answer;
      this.refusal = null;
    } catch (cause) {
      if (signal.aborted) return;
      kept.delete(path);
      this.value = null;
      this.refusal = asRefusal(cause);
    }
    this.waiting = false;
  }
}

/** What was refused; an error of our own is thrown on. */
export function asRefusal(cause: unknown): Refusal {
  if (cause instanceof Refusal) return cause;
  throw cause;
}

function keep(path: string, answer: unknown): void {
  kept.delete(path);
  kept.set(path, answer);
  const oldest = kept.keys().next();
  if (kept.size > KEPT_ANSWERS && !oldest.done) kept.delete(oldest.value);
}
