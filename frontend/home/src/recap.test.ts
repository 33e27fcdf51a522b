import { expect, test } from "vitest";
import { fileName, recapPath } from "./recap";

test("a recap is asked for without money unless it is wanted", () => {
  expect(recapPath("e", false)).toBe("/events/e/recap");
  expect(recapPath("e", true)).toBe("/events/e/recap?money=true");
  expect(recapPath("e", false, "png")).toBe("/events/e/recap.png");
  expect(recapPath("e", true, "png")).toBe("/events/e/recap.png?money=true");
});

test("a file is named after its event", () => {
  expect(fileName("Harbour Lights Open", "png")).toBe("harbour-lights-open.png");
  expect(fileName("Zoë’s 2nd Cup / Final!", "md")).toBe("zoe-s-2nd-cup-final.md");
  expect(fileName("***", "html")).toBe("recap.html");
});
