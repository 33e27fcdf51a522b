import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, test } from "vitest";
import { gameOf, laneOf, nextInPractice } from "./game";
import { bowled, shotsOf } from "./game_texts";
import { FULL_RACK, isSplit } from "./leaves";

const AUTHORITY = readFileSync(
  resolve(import.meta.dirname, "../../tests/reference/data/scoring.toml"),
  "utf-8",
);

/** Strings and lists of numbers under a heading of the authority's file. */
function entry(heading: string): Record<string, string> {
  const part = AUTHORITY.split(`[${heading}]\n`)[1]!.split(/\n\[/)[0]!;
  return Object.fromEntries([...part.matchAll(/^(\w+) = (.+)$/gm)].map(([, key, value]) => [key!, value!]));
}

function quoted(text: string): string[] {
  return [...text.matchAll(/"([^"]*)"/g)].map(([, words]) => words!);
}

const FIXED_GAMES = AUTHORITY.split("[[fixed_games]]\n")
  .slice(1)
  .map((part) => ({
    game: /game = "(.*)"/.exec(part)![1]!,
    score: Number(/score = (\d+)/.exec(part)![1]),
  }));

test("the authority's file gives games to hold the score to", () => {
  expect(FIXED_GAMES.length).toBeGreaterThan(15);
});

test.each(FIXED_GAMES)("$game scores $score", ({ game, score }) => {
  const told = gameOf(shotsOf(game));
  expect(told.score).toBe(score);
  expect(told.best).toBe(score);
  expect(told.next).toBeNull();
  expect(told.doubts).toEqual([]);
});

test("the rule book's game adds up frame by frame", () => {
  const book = entry("rule_book_game");
  const told = gameOf(shotsOf(quoted(book.game!)[0]!));
  const running = JSON.parse(/value = (\[.*?\])/.exec(book.running_scores!)![1]!) as number[];
  expect(told.frames.map((frame) => frame.running)).toEqual(running);
  expect(told.frames[5]!.marks).toEqual(["F", "9"]);
  expect(told.frames[6]!.marks).toEqual(["X"]);
});

test.each(quoted(entry("splits").splits!))("%s is a split", (leave) => {
  expect(isSplit(leave.split("-").map(Number))).toBe(true);
});

test.each(quoted(entry("splits").no_splits!))("%s is none", (leave) => {
  expect(isSplit(leave.split("-").map(Number))).toBe(false);
});

describe("a game under way", () => {
  test("can become 300 before its first ball", () => {
    expect(gameOf([])).toMatchObject({
      best: 300, soFar: 0, score: null, next: { frame: 1, delivery: 1, standing: FULL_RACK },
    });
  });

  test("faces what the first ball left", () => {
    const told = gameOf([bowled(1, 1, FULL_RACK, [3, 10])]);
    expect(told.next).toEqual({ frame: 1, delivery: 2, standing: [3, 10] });
    expect(told.best).toBe(290);
    expect(told.frames[0]).toMatchObject({ marks: ["8"], running: null });
    expect(told.frames[0]!.balls[0]!.split).toBe(true);
  });

  test("waits for the balls that a strike earns", () => {
    const told = gameOf(shotsOf("X, X"));
    expect(told.frames.slice(0, 2).map((frame) => frame.running)).toEqual([null, null]);
    expect(gameOf(shotsOf("X, X, 9-")).soFar).toBe(57);
  });

  test("sets the pins again after a foul", () => {
    const told = gameOf([bowled(1, 1, FULL_RACK, [7], true)]);
    expect(told.next).toEqual({ frame: 1, delivery: 2, standing: FULL_RACK });
    expect(gameOf([bowled(1, 1, FULL_RACK, [7], true), bowled(1, 2, FULL_RACK, [])]).frames[0]!.marks).toEqual(["F", "/"]);
  });

  test("gives a fill ball after a spare in the tenth", () => {
    const told = gameOf(shotsOf("X, X, X, X, X, X, X, X, X, 9/"));
    expect(told.next).toEqual({ frame: 10, delivery: 3, standing: FULL_RACK });
    expect(told.best).toBe(279);
  });

  test("faces a fresh rack after a second strike in the tenth, and what that leaves", () => {
    const tenth = shotsOf("X, X, X, X, X, X, X, X, X, X");
    const more = [...tenth, bowled(10, 2, FULL_RACK, [4, 7])];
    expect(gameOf(tenth).next).toEqual({ frame: 10, delivery: 2, standing: FULL_RACK });
    expect(gameOf(more).next).toEqual({ frame: 10, delivery: 3, standing: [4, 7] });
    expect(gameOf([...more, bowled(10, 3, [4, 7], [])]).frames[9]!.marks).toEqual(["X", "8", "/"]);
  });
});

describe("what cannot be as it is written", () => {
  test("a ball logged twice counts once and is told", () => {
    const twice = [bowled(1, 1, FULL_RACK, []), { ...bowled(1, 1, FULL_RACK, [7]), root: "again" }];
    const told = gameOf(twice);
    expect(told.frames[0]!.marks).toEqual(["9"]);
    expect(told.doubts.map((doubt) => doubt.root)).toEqual(["1.1"]);
  });

  test("a second ball after a strike is left out and told", () => {
    const told = gameOf([bowled(1, 1, FULL_RACK, []), bowled(1, 2, [7], [])]);
    expect(told.frames[0]!.marks).toEqual(["X"]);
    expect(told.doubts.map((doubt) => doubt.root)).toEqual(["1.2"]);
  });

  test("a missing ball stops the score, not the game", () => {
    const told = gameOf([...shotsOf("9-"), bowled(3, 1, FULL_RACK, [])]);
    expect(told.frames.map((frame) => frame.running).slice(0, 3)).toEqual([9, null, null]);
    expect(told.next).toEqual({ frame: 4, delivery: 1, standing: FULL_RACK });
    expect(told.best).toBeNull();
    expect(told.doubts).toEqual([{ frame: 2, words: "Ball 1 of frame 2 is missing.", root: null }]);
  });

  test("a full game with a hole asks for the ball that is missing", () => {
    const all = shotsOf("9-, 9-, 9-, 9-, 9-, 9-, 9-, 9-, 9-, 9-").filter(({ root }) => root !== "4.2");
    expect(gameOf(all).next).toEqual({ frame: 4, delivery: 2, standing: [10] });
    expect(gameOf(all).score).toBeNull();
  });

  test("a ball that nobody saw leaves the score open", () => {
    const told = gameOf([bowled(1, 1, FULL_RACK, null), ...shotsOf("9-, X").slice(2)]);
    expect(told.frames[0]!.marks).toEqual(["?"]);
    expect(told.soFar).toBe(0);
  });

  test("pins that stand up again are told", () => {
    const told = gameOf([bowled(1, 1, FULL_RACK, [7]), bowled(1, 2, [7], [10])]);
    expect(told.doubts.map((doubt) => doubt.root)).toEqual(["1.2"]);
  });
});

describe("lanes and practice", () => {
  test("lanes go by turns from the left one", () => {
    expect([1, 2, 3, 10].map((frame) => laneOf([], [15, 16], frame))).toEqual([15, 16, 15, 16]);
  });

  test("who starts on the right goes on by turns from there", () => {
    const started = [bowled(1, 1, FULL_RACK, [], false, 16)];
    expect([1, 2, 3].map((frame) => laneOf(started, [15, 16], frame))).toEqual([16, 15, 16]);
  });

  test("practice has no last frame", () => {
    expect(nextInPractice([])).toMatchObject({ frame: 1, delivery: 1 });
    expect(nextInPractice([bowled(12, 1, FULL_RACK, [10])])).toEqual({ frame: 12, delivery: 2, standing: [10] });
    expect(nextInPractice([bowled(12, 2, [10], [10])])).toMatchObject({ frame: 13, standing: FULL_RACK });
  });
});
