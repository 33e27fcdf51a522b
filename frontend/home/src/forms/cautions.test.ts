import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { expect, it } from "vitest";
import * as cautions from "./cautions";

/** The texts of the sheet's cautions, as its module holds them. */
const MODULE = readFileSync(resolve(import.meta.dirname, "../../../../src/nextpair/application/cautions.py"), "utf8");

it.each(Object.entries(cautions))("%s is in the words of the sheet", (name, words) => {
  const [, body = ""] = new RegExp(`^${name} = \\(\\n([^)]*)\\)`, "m").exec(MODULE) ?? [];
  const told = [...body.matchAll(/"([^"]*)"/g)].map((match) => match[1]).join("");
  expect(words).toBe(told);
});
