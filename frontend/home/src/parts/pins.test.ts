import { expect, it } from "vitest";
import { pinsIn } from "./pins";

it.each([
  ["3-10", [3, 10]],
  ["10-3", [3, 10]],
  ["1 2 4", [1, 2, 4]],
  ["0", []],
  ["", null],
  ["?", null],
  ["11", undefined],
  ["3-3", undefined],
  ["three", undefined],
  ["3-", undefined],
])("%j is %j", (text, pins) => {
  expect(pinsIn(text)).toEqual(pins);
});
