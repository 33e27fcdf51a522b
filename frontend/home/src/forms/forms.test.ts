/** The forms against the guide of the files: every key, its unit and what is allowed. */

import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import type { Field, Section } from "../parts/form";
import { BALL } from "./ball";
import { BOWLER } from "./bowler";
import { DECIDED, moneySections, pickSections, sidePot, TERMS } from "./event";
import { goalPlan, goalTarget } from "./goal";
import { HOUSE } from "./house";
import { KIT, KIT_ITEM, STOCK } from "./kit";
import { PASS, PATTERN } from "./pattern";
import { ENTRANT } from "./squad";

const GUIDE = readFileSync(resolve(import.meta.dirname, "../../../../docs/guide/files.md"), "utf8");

interface Listed {
  key: string;
  allowed: string;
  otherwise: string;
}

/** The rows of the table of keys under a heading. */
function listed(heading: string): Listed[] {
  const lines = GUIDE.split("\n");
  const start = lines.findIndex((line) => line.startsWith("#") && line.replace(/^#+ /, "") === heading);
  const rows: Listed[] = [];
  let inTable = false;
  for (const line of lines.slice(start + 1)) {
    if (line.startsWith("#")) break;
    if (/^\| (key|column) /.test(line)) inTable = true;
    else if (!line.startsWith("|")) inTable = false;
    const cells = line.split("|").map((cell) => cell.trim());
    const key = /^`(\w+)`$/.exec(cells[1] ?? "")?.[1];
    if (inTable && key) rows.push({ key, allowed: cells[4] ?? "", otherwise: cells[5] ?? "" });
  }
  return rows;
}

const [MONEY, POTS, BRACKETS] = moneySections("EUR") as [Section, Section, Section];
const NONE = { houses: [], patterns: [], bowlers: [], squads: [], names: [] };
const [PICKED, EARLIER_SQUADS] = pickSections({ left_pattern: "x" }, NONE) as [Section, Section];

const FORMS: [heading: string, fields: readonly Field[], elsewhere: string[]][] = [
  ["`house.toml`", HOUSE.flatMap((part) => part.fields), []],
  ["`[[lane]]` of house.toml", cells(HOUSE[1]!.fields[0]!), ["heights"]],
  ["`pattern.toml`", PATTERN.flatMap((part) => part.fields), ["film"]],
  ["`[[pass]]` of pattern.toml", PASS, []],
  ["`bowler.toml`", BOWLER.slice(0, 3).flatMap((part) => part.fields), ["scatter", "range", "care"]],
  ["`[scatter]` of bowler.toml", BOWLER[3]!.fields, []],
  ["`[range]` of bowler.toml", BOWLER[4]!.fields, []],
  ["`[care]` of bowler.toml", BOWLER[5]!.fields, []],
  ["`locker.csv`", BALL.flatMap((part) => part.fields), []],
  ["`goal`", goalPlan().flatMap((part) => part.fields), []],
  ["`squad.csv`", ENTRANT, []],
  ["`kit`", KIT.flatMap((part) => part.fields), []],
  ["`items` of a kit", KIT_ITEM, []],
  ["`stock` of a kit", STOCK, []],
  ["`event.toml`", [...TERMS.fields, ...PICKED.fields, ...EARLIER_SQUADS.fields, ...DECIDED[0]!.fields], ["pattern", "locker", "money", "handicap"]],
  ["`[[earlier_squad]]` of event.toml", cells(EARLIER_SQUADS.fields[0]!), []],
  ["`[handicap]` of event.toml", DECIDED[1]!.fields, []],
  ["`[[stage]]` of event.toml", cells(DECIDED[0]!.fields[1]!), []],
  ["`[money]` of event.toml", [...MONEY.fields, ...POTS.fields], ["brackets"]],
  ["`side_pots` of `[money]`", sidePot("EUR"), []],
  ["`brackets` of `[money]`", BRACKETS.fields, []],
];

function cells(field: Field): readonly Field[] {
  return field.kind === "rows" ? field.columns : [];
}

it("asks nothing of side pots where the bowler wants none of it", () => {
  const told = JSON.stringify(moneySections("EUR", false));
  expect(told).toContain("entry_fee");
  expect(told).not.toMatch(/side.pot|bracket/i);
});

it("asks for a goal in the unit of what is counted", () => {
  const target = (measure?: string) => goalPlan(measure ? { measure } : {})[0]!.fields.find(({ key }) => key === "target");
  expect(target("field-relative")).toMatchObject({ unit: "standard deviations", allowed: [-5, 5] });
  expect(target("strikes")).toMatchObject({ unit: "% of first balls", allowed: [0, 100] });
  expect(target()).toMatchObject({ unit: "", allowed: [-5, 365] });
  expect(goalTarget({ measure: "strikes", target: 45 })).toBe("strikes: 45 % of first balls");
  expect(goalTarget({ measure: "field-relative", target: -0.5 })).toBe("beside the field: \u22120.5 standard deviations");
});

describe.each(FORMS)("the form of %s", (heading, fields, elsewhere) => {
  const rows = listed(heading);

  it("asks for every key, and for no other", () => {
    expect(rows.length).toBeGreaterThan(0);
    const keys = [...fields.map((field) => field.key), ...elsewhere];
    expect(keys.toSorted()).toEqual(rows.map((row) => row.key).toSorted());
  });

  it("allows what the guide allows", () => {
    for (const field of fields) {
      const row = rows.find((one) => one.key === field.key)!;
      const plain = /^(-?[\d.]+) to (-?[\d.,]+)/.exec(row.allowed);
      if ((field.kind === "number" || field.kind === "span") && plain) {
        const [low, high] = plain.slice(1).map((text) => Number(text.replace(",", "")));
        expect([field.key, ...field.allowed]).toEqual([field.key, low, high]);
      }
      const named = [...row.allowed.matchAll(/`([a-z -]+)`/g)].map((match) => match[1]);
      if (field.kind === "choice") {
        if (field.choices.length) expect(field.choices.map((choice) => choice.value)).toEqual(named);
      }
    }
  });

  it("says what is needed", () => {
    for (const field of fields) {
      const row = rows.find((one) => one.key === field.key)!;
      const isOneOfTwo = ["`brackets` of `[money]`", "`[handicap]` of event.toml"].includes(heading) || field.key.endsWith("_pattern");
      if (field.kind !== "rows" && !isOneOfTwo) {
        expect([field.key, field.needed ?? false]).toEqual([field.key, row.otherwise === "needed"]);
      }
    }
  });
});
