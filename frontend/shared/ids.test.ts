import { expect, test } from "vitest";
import { clockOf, uuid7 } from "./ids";

test("an id has the form of RFC 9562, version 7", () => {
  expect(uuid7()).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
});

test("an id tells the clock it was made by", () => {
  // The example of RFC 9562, appendix A.6: 2022-02-22 14:22:22 at five hours behind UTC.
  expect(clockOf("017f22e2-79b0-7cc3-98c4-dc0c0c07398f")).toBe(1645557742000);
  expect(clockOf(uuid7(1645557742000))).toBe(1645557742000);
});

test("ten thousand ids of one moment are all different", () => {
  expect(new Set(Array.from({ length: 10_000 }, () => uuid7(1))).size).toBe(10_000);
});
