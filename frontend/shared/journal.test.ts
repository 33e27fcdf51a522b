import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { expect, test } from "vitest";
import { standing, type KeptJotting } from "./journal";
import type { JottingKind } from "./types";

interface Written {
  seq?: number;
  id: string;
  kind: JottingKind;
  supersedes?: string;
}

interface Case {
  name: string;
  log: Written[];
  stands: [string, string][];
  unsent?: Written[];
  stands_on_the_phone?: [string, string][];
}

const { cases } = JSON.parse(
  readFileSync(resolve(import.meta.dirname, "../../tests/journal_cases.json"), "utf-8"),
) as { cases: Case[] };

function kept({ seq, id, kind, supersedes = undefined }: Written, index: number): KeptJotting {
  return {
    seq: seq ?? null,
    jotting: {
      id, kind, event: "event", device: "phone", device_seq: index + 1, payload: {},
      supersedes: supersedes ?? null, schema_version: 1, client_time: "",
    },
  };
}

function stands(log: KeptJotting[]): [string, string][] {
  return standing(log).map(({ root, jotting }) => [root, jotting.id]);
}

test.each(cases)("$name", ({ log, stands: expected }) => {
  expect(stands(log.map(kept))).toEqual(expected);
});

test.each(cases.filter((one) => one.unsent))("on the phone: $name", (one) => {
  const log = [...one.log, ...one.unsent!].map(kept);
  expect(stands(log)).toEqual(one.stands_on_the_phone);
  expect(stands(log.reverse())).toEqual(one.stands_on_the_phone);
});
