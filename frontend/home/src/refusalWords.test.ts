import { expect, test } from "vitest";
import { Refusal } from "$shared/api";
import { refusalWords } from "./refusalWords";

/** A problem as web/errors.py words it. */
function problem(place: string, found: string, allowed: string) {
  return { file: "", place, found, allowed, words: `${place}: found ${found}, allowed: ${allowed}` };
}

test("who tries too often is told when to try again", () => {
  const refusal = new Refusal(429, [problem("tries", "too many", "again in 12 s")]);
  expect(refusalWords(refusal)).toEqual(["That was too often in a short time. Try again in 12 s."]);
});

test("a wrong password is told in plain words, and not which of the two was wrong", () => {
  const refusal = new Refusal(401, [problem("name or password", "none that lets you in", "sign in first")]);
  expect(refusalWords(refusal)).toEqual(["Nobody here has this name and password."]);
});

test("what is wrong with a file is told as it is, but for what a field shows itself", () => {
  const [games, lanes] = [problem("games", "0", "1 to 40"), problem("lanes", "0", "1 to 200 lanes")];
  const refusal = new Refusal(422, [games, lanes]);
  expect(refusalWords(refusal, ({ place }) => place === "games")).toEqual([lanes.words]);
});

test("a server that is gone, and an answer without words, are told too", () => {
  expect(refusalWords(new Refusal(0, []))[0]).toContain("does not answer");
  expect(refusalWords(new Refusal(500, []))).toEqual(["The server answered 500."]);
});
