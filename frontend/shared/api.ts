/** The API of `nextpair serve`: one way to ask, one form of refusal. */

import type { Problem } from "./types";

/** What the server refused, problem by problem; `status` 0 means that it could not be reached. */
export class Refusal extends Error {
  readonly status: number;
  readonly problems: Problem[];
  readonly answer: unknown;

  constructor(status: number, problems: Problem[], answer: unknown = null) {
    super(problems.map((problem) => problem.words).join("\n") || `The server answered ${status}.`);
    this.status = status;
    this.problems = problems;
    this.answer = answer;
  }
}

/** Address of an API path, in whatever folder the page lies. */
export function apiUrl(path: string): string {
  return new URL(`api/v1${path}`, rootOf(document.baseURI)).href;
}

function rootOf(base: string): string {
  const url = new URL(".", base);
  return url.pathname.endsWith("/lanes/") ? new URL("..", url).href : url.href;
}

export interface Asking {
  method?: "GET" | "POST" | "PUT" | "DELETE";
  body?: unknown;
  signal?: AbortSignal;
}

/** Ask for JSON. Throws a Refusal for every answer but a good one. */
export async function ask<T>(path: string, { method = "GET", body, signal }: Asking = {}): Promise<T> {
  let answer: Response;
  try {
    answer = await fetch(apiUrl(path), {
      method,
      signal: signal ?? null,
      redirect: "error",
      credentials: "same-origin",
      headers: body === undefined ? {} : { "content-type": "application/json" },
      body: body === undefined ? null : JSON.stringify(body),
    });
  } catch (cause) {
    if (signal?.aborted) throw cause;
    throw new Refusal(0, []);
  }
  const isOurs = answer.headers.get("x-nextpair") === "1";
  const told: unknown = isOurs ? await answer.json().catch(() => null) : null;
  if (!answer.ok || !isOurs) throw new Refusal(isOurs ? answer.status : 0, problemsIn(told), told);
  return told as T;
}

function problemsIn(told: unknown): Problem[] {
  const problems = (told as { problems?: Problem[] } | null)?.problems;
  return Array.isArray(problems) ? problems : [];
}
