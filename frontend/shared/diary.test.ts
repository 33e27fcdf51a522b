import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { LONGEST_ENTRY, PROMPTS } from "./diary";

it("asks what the program at home asks", () => {
  const home = readFileSync(new URL("../../src/nextpair/application/diary.py", import.meta.url), "utf-8");
  const asked = /PROMPTS = \{(.*?)\n\}/s.exec(home)?.[1] ?? "";
  const told = [...asked.matchAll(/(?:"(\w+)"|FREE): "(.*?)",/g)].map(([, key, words]) => ({ key: key ?? "free", words }));
  expect(PROMPTS).toEqual(told);
  expect(home).toContain(`LONGEST_TEXT = ${LONGEST_ENTRY}`);
});
