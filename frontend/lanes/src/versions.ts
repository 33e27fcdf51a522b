/** Which program made the page and the plan, and which one answers at home, in words. */

import { dateWords } from "$shared/words";
import type { Pocket, Status } from "$shared/types";

/** The program that this page was built for: "nextpair 1.0". */
export const PAGE_PROGRAM: string = __NEXTPAIR_PROGRAM__;

type Plan = Pick<Pocket, "made_at" | "model_version">;
type Home = Pick<Status, "version" | "model_version">;

/** The foot of a screen, a sentence a line. */
export function versionLines(page: string, plan: Plan | null, home: Home | null): string[] {
  const lines = [`This page is of ${page}.`];
  if (plan) lines.push(`The plan was made on ${madeWords(plan.made_at)} with model ${plan.model_version}.`);
  if (home) lines.push(`At home runs nextpair ${home.version} with model ${home.model_version}.`);
  if (plan && home && plan.model_version !== home.model_version) {
    lines.push("The two models of lane, ball and pins differ: what home shows of this event may differ from this plan. To have one plan in both places, open the event here again.");
  }
  return lines;
}

function madeWords(made_at: string): string {
  const [day = "", time = ""] = made_at.split("T");
  return /^\d\d:\d\d/.test(time) ? `${dateWords(day)}, ${time.slice(0, 5)} UTC` : dateWords(day);
}

/** Whether one version comes before another: by their numbers, from the left. */
export function isOlder(one: string, other: string): boolean {
  const [ones, others] = [numbersOf(one), numbersOf(other)];
  for (let place = 0; place < Math.max(ones.length, others.length); place += 1) {
    const step = (ones[place] ?? 0) - (others[place] ?? 0);
    if (step !== 0) return step < 0;
  }
  return false;
}

function numbersOf(version: string): number[] {
  return (/\d+(\.\d+)*/.exec(version)?.[0] ?? "0").split(".").map(Number);
}

/** Why the program at home did not take an entry, and what becomes of it. */
export function refusedWords(why: string, page: string, home: Home | null): string {
  const told = `The laptop did not take it: ${why || "no reason told"}`;
  if (home && isOlder(home.version, page)) {
    return `${told}. The program at home is older than this page (nextpair ${home.version} there, ${page} here). It stays on this phone, and is sent by itself once a newer program answers.`;
  }
  return `${told}. It stays on this phone, and is sent again once another version of the program answers.`;
}
